// What a shop waits for behind a drive: a log of two hours at 100 Hz, read and held against the
// shipped procedure. The log is made up; it has eight columns and 720000 rows.
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>

#include <benchmark/benchmark.h>
#include <fmt/core.h>

#include "drive/check_log.h"
#include "drive/drive_log.h"
#include "profile/read_profile.h"
#include "slipcase/slipcase.h"

namespace {

using namespace slipcase;

constexpr const char* drive_columns =
    "columns:\n"
    "  t: { means: time, unit: s }\n"
    "  v: { means: vehicle_speed, unit: km/h }\n"
    "  turbine: { means: turbine_speed, unit: rpm }\n"
    "  output: { means: output_speed, unit: rpm }\n"
    "  gear: { means: gear }\n"
    "  pedal: { means: pedal, unit: \"%\" }\n"
    "  oil: { means: fluid_temperature, unit: C }\n";

/// Up and down through all gears, 90 seconds each way.
std::string long_log() {
  constexpr double ratios[] = {3.930, 2.260, 1.515, 1.151, 0.868, 0.692};
  std::string text = "t,v,turbine,output,gear,pedal,oil,note\n";
  for (int i = 0; i < 720'000; ++i) {
    const double time = i / 100.0;
    const double part = std::fmod(time, 180.0) / 90.0;
    const double speed = 90.0 * (part < 1.0 ? part : 2.0 - part);
    const int gear = std::min(5, static_cast<int>(speed / 15.0));
    text += fmt::format("{:.2f},{:.2f},{:.1f},{:.1f},{},{:.1f},{:.1f},{:.2f}\n", time, speed,
                        speed * 30.0 * ratios[gear], speed * 30.0, gear + 1,
                        part < 1.0 ? 14.0 : 0.0, 85.0 + 5.0 * std::sin(time / 600.0), 0.5);
  }
  return text;
}

const profile::Profile& shipped_profile() {
  static const profile::Profile unit = [] {
    std::ifstream file(std::filesystem::path(SLIPCASE_RULES) / "six_speed" / "profile.yaml");
    SourceSet sources;
    Diagnostics diagnostics;
    const SourceId source =
        sources.add("profile.yaml", std::string(std::istreambuf_iterator<char>(file), {}));
    return *profile::read_profile(sources, source, diagnostics);
  }();
  return unit;
}

void read_and_check_two_hours(benchmark::State& state, bool with_gear) {
  std::string mapping = drive_columns;
  if (!with_gear)
    mapping.erase(mapping.find("  gear"), std::string("  gear: { means: gear }\n").size());
  const std::string text = long_log();
  const profile::Profile& unit = shipped_profile();
  std::size_t counted = 0;
  for (auto _ : state) {
    SourceSet sources;
    Diagnostics diagnostics;
    const SourceId columns = sources.add("columns.yaml", mapping);
    const SourceId log = sources.add("log.csv", text);
    const auto meant = drive::read_log_mapping(sources, columns, unit, diagnostics);
    const auto read = drive::read_drive_log(sources, log, *meant, unit, diagnostics);
    counted = drive::check_log(*read, unit, unit.procedures.front()).elements.front().counted;
  }
  state.counters["events_of_K1"] = static_cast<double>(counted);
  state.SetBytesProcessed(static_cast<std::int64_t>(state.iterations() * text.size()));
}
BENCHMARK_CAPTURE(read_and_check_two_hours, with_gear, true)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read_and_check_two_hours, gear_from_speeds, false)->Unit(benchmark::kMillisecond);

}  // namespace

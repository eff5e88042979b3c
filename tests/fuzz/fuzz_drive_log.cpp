// Any text as a mapping and a log, `---` on a line of its own between them: it is read and checked
// or refused, and places of messages lie in the texts.
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

#include "drive/check_log.h"
#include "drive/drive_log.h"
#include "profile/read_profile.h"
#include "slipcase/report.h"

namespace {

using namespace slipcase;

void require(bool holds) {
  if (!holds) std::abort();
}

const profile::Profile& fuzzed_unit() {
  static const profile::Profile unit = [] {
    std::ifstream file(SLIPCASE_RULES "/six_speed/profile.yaml");
    SourceSet sources;
    Diagnostics diagnostics;
    const SourceId source =
        sources.add("profile.yaml", std::string(std::istreambuf_iterator<char>(file), {}));
    return *profile::read_profile(sources, source, diagnostics);
  }();
  return unit;
}

void check(const drive::DriveLog& log) {
  const profile::Profile& unit = fuzzed_unit();
  require(log.speed.size() == log.rows() && log.pedal.size() == log.rows() &&
          log.fluid.size() == log.rows() && log.line.size() == log.rows());
  require(!log.gear.empty() ||
          (log.turbine.size() == log.rows() && log.output.size() == log.rows()));
  const DriveCheck result = drive::check_log(log, unit, unit.procedures.front());
  require(result.elements.size() == 5);
  require(!to_text(result).empty() && !to_json(result).empty());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(data, data + size);
  const std::string_view mark = "\n---\n";
  const std::size_t cut = text.find(mark);
  if (cut == std::string::npos) return 0;
  SourceSet sources;
  Diagnostics diagnostics;
  const SourceId columns = sources.add("columns.yaml", text.substr(0, cut + 1));
  const SourceId table = sources.add("log.csv", text.substr(cut + mark.size()));
  const auto mapping = drive::read_log_mapping(sources, columns, fuzzed_unit(), diagnostics);
  if (mapping) {
    const auto log = drive::read_drive_log(sources, table, *mapping, fuzzed_unit(), diagnostics);
    require(log.has_value() != diagnostics.has_errors());
    if (log) check(*log);
  }
  std::size_t shown = 0;
  for (const Diagnostic& one : diagnostics.list()) {
    require(!one.place || one.place->end <= sources.text(one.place->source).size() + 1);
    if (shown++ < 20) require(!render(one, sources).empty());
  }
  return 0;
}

// A log and its mapping, read and held against the shipped procedure, with what was said about it.
#pragma once

#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <string>

#include <doctest/doctest.h>

#include "drive/check_log.h"
#include "drive/drive_log.h"
#include "profile/read_profile.h"
#include "support/card_reading.h"
#include "support/drive_maker.h"

namespace slipcase::test {

inline const profile::Profile& six_speed_profile() {
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

struct DriveReading {
  explicit DriveReading(std::string csv, std::string mapping = DriveMaker::mapping()) {
    const SourceId columns = sources.add("columns.yaml", std::move(mapping));
    const SourceId table = sources.add("log.csv", std::move(csv));
    const auto read = drive::read_log_mapping(sources, columns, six_speed_profile(), diagnostics);
    if (read) log = drive::read_drive_log(sources, table, *read, six_speed_profile(), diagnostics);
    CHECK(log.has_value() != diagnostics.has_errors());
  }
  explicit DriveReading(const DriveMaker& drive, bool with_gear = true)
      : DriveReading(drive.csv(with_gear), DriveMaker::mapping(with_gear)) {}

  [[nodiscard]] std::vector<std::string> messages() const {
    std::vector<std::string> texts;
    for (const Diagnostic& one : diagnostics.list()) {
      texts.push_back((one.place ? sources.describe(*one.place) : "-") + " " +
                      std::string(one.name));
    }
    return texts;
  }
  [[nodiscard]] DriveCheck check() const {
    REQUIRE(log);
    const profile::Profile& unit = six_speed_profile();
    return drive::check_log(*log, unit, unit.procedures.front());
  }

  SourceSet sources;
  Diagnostics diagnostics;
  std::optional<drive::DriveLog> log;
};

/// "K1 8/8 K2 3/8"
inline std::string element_counts(const DriveCheck& check) {
  std::string text;
  for (const ElementEvents& one : check.elements)
    text += (text.empty() ? "" : " ") + one.name + " " + std::to_string(one.counted);
  return text;
}
inline std::string manoeuvre_counts_of(const DriveCheck& check) {
  std::string text;
  for (const ManoeuvreTimes& one : check.manoeuvres)
    text += (text.empty() ? "" : " ") + one.name + " " + std::to_string(one.counted);
  return text;
}

}  // namespace slipcase::test

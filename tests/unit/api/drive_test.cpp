// The learning drive as a program that uses the library sees it. Cards and drives are made up.
#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <string>

#include <doctest/doctest.h>

#include "slipcase/slipcase.h"
#include "support/drive_maker.h"

using namespace slipcase;

namespace {

namespace fs = std::filesystem;

constexpr const char* drive_card =
    "unit: six_speed\nopened: 2031-04-17\nvehicle: { odometer: 148200 km }\n"
    "readings:\n"
    "  - { date: 2031-04-18, fill_pressure: { K1: 0 mbar, K2: 0 mbar } }\n"
    "  - { date: 2031-04-19, fill_pressure: { K1: 0 mbar, K2: 0 mbar } }\n"
    "events: [{ what: values_cleared, date: 2031-04-17 }]\n";

/// A job of the shipped rules, with a log and its mapping beside it.
class LoggedJob {
 public:
  explicit LoggedJob(const std::string& profile = {}, const std::string& card = drive_card)
      : folder_(fs::temp_directory_path() / "slipcase_drive_test") {
    fs::create_directories(folder_);
    RulePaths paths;
    paths.shipped = fs::path(SLIPCASE_RULES) / "six_speed";
    if (!profile.empty()) {
      write("profile.yaml", profile);
      paths.profile = folder_ / "profile.yaml";
    }
    knowledge_ = load_knowledge(paths, std::make_shared<SourceSet>(), diagnostics).knowledge;
    REQUIRE(knowledge_);
    job_ = load_job({"card.yaml", card, "six_speed"}, *knowledge_, diagnostics).job;
    REQUIRE(job_);
  }
  ~LoggedJob() { fs::remove_all(folder_); }
  LoggedJob(const LoggedJob&) = delete;
  LoggedJob& operator=(const LoggedJob&) = delete;

  DriveCheckLoad check(const test::DriveMaker& drive, const std::string& procedure = {}) {
    write("log.csv", drive.csv());
    write("columns.yaml", test::DriveMaker::mapping());
    return check_drive(*knowledge_, *job_, {folder_ / "log.csv", folder_ / "columns.yaml"},
                       diagnostics, procedure);
  }
  DriveSheetResult sheet(const std::string& procedure = {}) {
    return drive_sheet(*knowledge_, *job_, procedure);
  }

  Diagnostics diagnostics;

 private:
  void write(const char* name, const std::string& text) const {
    std::ofstream(folder_ / name, std::ios::binary) << text;
  }

  fs::path folder_;
  std::optional<Knowledge> knowledge_;
  std::optional<Job> job_;
};

std::string shipped_profile() {
  std::ifstream file(fs::path(SLIPCASE_RULES) / "six_speed" / "profile.yaml");
  return {std::istreambuf_iterator<char>(file), {}};
}

std::string profile_without_procedures() {
  const std::string whole = shipped_profile();
  return whole.substr(0, whole.find("\nprocedures:") + 1);
}

}  // namespace

TEST_CASE("a complete drive has what goes onto the card, and an incomplete one has not") {
  LoggedJob job;
  test::DriveMaker drive;
  drive.whole_procedure();
  const DriveCheckLoad load = job.check(drive);
  CHECK(load.outcome == Loaded::good);
  REQUIRE(load.result);
  const auto& check = std::get<DriveCheck>(*load.result);
  CHECK(check.complete);
  REQUIRE(check.record);
  CHECK(check.record->list == "repairs");
  CHECK(check.record->done == "learning_drive");

  test::DriveMaker part;
  part.upshifts();
  const auto half = job.check(part);
  CHECK_FALSE(std::get<DriveCheck>(*half.result).record);
}

TEST_CASE("values that are exactly zero after a drive are a sign that nothing was stored") {
  LoggedJob job;
  test::DriveMaker drive;
  drive.upshifts();
  const auto load = job.check(drive);
  const auto& check = std::get<DriveCheck>(*load.result);
  CHECK(std::ranges::find(check.signs, DriveSign::values_zero) != check.signs.end());
  CHECK(check.moving.values.size() == 2);
  CHECK(check.moving.read.size() == 2);
}

TEST_CASE("a profile without procedures says so, and what to do") {
  LoggedJob job(profile_without_procedures());
  const auto sheet = job.sheet();
  const auto* none = std::get_if<NoProcedure>(&sheet);
  REQUIRE(none != nullptr);
  CHECK(none->known.empty());
  test::DriveMaker drive;
  drive.upshifts();
  CHECK(std::holds_alternative<NoProcedure>(*job.check(drive).result));
}

namespace {

std::string because(const DriveSheetResult& sheet, std::string_view id) {
  const auto& before = std::get<DriveSheet>(sheet).before;
  return std::ranges::find(before, id, &Precondition::id)->because;
}

std::string profile_with(const std::string& instead_of, const std::string& written) {
  std::string profile = shipped_profile();
  const std::size_t at = profile.find(instead_of);
  REQUIRE(at != std::string::npos);
  return profile.replace(at, instead_of.size(), written);
}

}  // namespace

TEST_CASE("names of a procedure that the rules do not have are told on the sheet") {
  LoggedJob other(profile_with("level_checked: level_at_temperature", "level_checked: no_such"));
  CHECK(because(other.sheet(), "level") ==
        "the profile asks the card for `no_such`, which the rules do not have");
  LoggedJob silent(profile_with("      codes_cleared: codes_cleared\n", ""));
  CHECK(because(silent.sheet(), "codes_cleared") ==
        "the profile does not say what on the card would prove it");
}

namespace {

/// Of K1, with three readings behind a clearing; `at` are odometers, in km.
MovingValue moving_k1(const std::array<int, 4>& at, const std::array<int, 3>& mbar,
                      const std::string& last_software = "A3") {
  std::string card = "unit: six_speed\nopened: 2031-04-17\nvehicle: { odometer: 150000 km }\n";
  card += "events: [{ what: values_cleared, date: 2031-03-01, odometer: " + std::to_string(at[0]) +
          " km }]\nreadings:\n";
  for (std::size_t i = 0; i < 3; ++i) {
    card += "  - { date: 2031-03-0" + std::to_string(i + 2) +
            ", odometer: " + std::to_string(at[i + 1]) +
            " km, software: " + (i == 2 ? last_software : "A3") +
            ", fill_pressure: { K1: " + std::to_string(mbar[i]) + " mbar } }\n";
  }
  LoggedJob job({}, card);
  test::DriveMaker drive;
  drive.upshifts();
  const auto load = job.check(drive);
  return std::get<DriveCheck>(*load.result).moving.values.at(0);
}

}  // namespace

TEST_CASE("where a value ends is estimated only from stretches that are alike") {
  const MovingValue alike = moving_k1({100, 140, 180, 220}, {0, 100, 160});
  CHECK(alike.id == "fill_pressure of K1");
  CHECK(alike.heading == Heading::moving);
  REQUIRE(alike.estimate);
  CHECK(*alike.estimate == doctest::Approx(25000.0));  // Pa
  CHECK(alike.estimate_says.starts_with("about 250 mbar, at least "));
  CHECK_FALSE(moving_k1({100, 140, 180, 300}, {0, 100, 160}).estimate);
}

TEST_CASE("values of another software are not put together") {
  CHECK(moving_k1({100, 140, 180, 220}, {0, 100, 160}, "B1").heading == Heading::too_few);
}

TEST_CASE("a procedure is found by its name") {
  LoggedJob job;
  CHECK(std::holds_alternative<DriveSheet>(job.sheet("learning_drive")));
  CHECK(std::holds_alternative<NoProcedure>(job.sheet("other")));
}

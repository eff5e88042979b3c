// The learning drive as a program that uses the library sees it. Cards and drives are made up.
#include <algorithm>
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
  explicit LoggedJob(const std::string& profile = {})
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
    job_ = load_job({"card.yaml", drive_card, "six_speed"}, *knowledge_, diagnostics).job;
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

std::string profile_without_procedures() {
  std::ifstream file(fs::path(SLIPCASE_RULES) / "six_speed" / "profile.yaml");
  const std::string whole(std::istreambuf_iterator<char>(file), {});
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

TEST_CASE("a procedure is found by its name") {
  LoggedJob job;
  CHECK(std::holds_alternative<DriveSheet>(job.sheet("learning_drive")));
  CHECK(std::holds_alternative<NoProcedure>(job.sheet("other")));
}

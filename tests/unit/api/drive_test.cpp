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

namespace {

DriveCheck check_of_card(const std::string& card) {
  LoggedJob job({}, card);
  test::DriveMaker drive;
  drive.whole_procedure();
  return std::get<DriveCheck>(*job.check(drive).result);
}

const Precondition& precondition(const DriveCheck& check, std::string_view id) {
  return *std::ranges::find(check.before, id, &Precondition::id);
}

constexpr const char* card_head =
    "unit: six_speed\nopened: 2031-04-17\nvehicle: { odometer: 148200 km }\n";

}  // namespace

TEST_CASE("a complete drive with stored codes on the card is not for the card") {
  const DriveCheck stored = check_of_card(std::string(card_head) + "codes: [P0733, P0735]\n");
  CHECK(stored.complete);
  CHECK(precondition(stored, "codes_cleared").proof == Proof::contradicted);
  CHECK(precondition(stored, "codes_cleared")
            .because.starts_with("2 codes are stored (P0733, P0735)"));
  CHECK_FALSE(stored.record);
  // Nothing is said of codes, clearing and level: that is missing, and no contradiction.
  const DriveCheck silent = check_of_card(card_head);
  CHECK(precondition(silent, "values_cleared").proof == Proof::missing);
  CHECK(silent.record);
  CHECK(silent.before.size() == 4);
}

TEST_CASE("a second drive behind the same clearing may be written too") {
  const DriveCheck check = check_of_card(
      std::string(card_head) +
      "codes: none\nreadings: [{ date: 2031-04-16, fill_pressure: { K1: 10 mbar } }]\n"
      "events: [{ what: values_cleared, date: 2031-04-17 }]\n"
      "repairs: [{ done: learning_drive, date: 2031-04-18 }]\n");
  CHECK(precondition(check, "values_cleared").proof == Proof::proven);
  CHECK(check.record);
}

TEST_CASE("no drive is written with a day before the clearing") {
  const DriveRecord record = *check_of_card(drive_card).record;
  CHECK(record.not_before == "2031-04-17");
  CHECK(std::holds_alternative<std::string>(changes_for_drive(record, "2031-04-16", "", "")));
  for (const char* day : {"2031-04-17", "2031-04-18 09:30"})
    CHECK_FALSE(std::holds_alternative<std::string>(changes_for_drive(record, day, "", "")));
}

TEST_CASE("values read with cold fluid do not say whether they move") {
  const std::string card =
      "unit: six_speed\nopened: 2031-04-17\nvehicle: { odometer: 150000 km }\n"
      "events: [{ what: values_cleared, date: 2031-03-01, odometer: 120000 km }]\nreadings:\n"
      "  - { date: 2031-03-02, odometer: 120050 km, fluid_temperature: 80 C,"
      " fill_pressure: { K3: 90 mbar } }\n"
      "  - { date: 2031-03-03, odometer: 120100 km, fluid_temperature: 28 C,"
      " fill_pressure: { K3: 92 mbar } }\n";
  const MovingValue value = check_of_card(card).moving.values.at(0);
  CHECK(value.values == std::vector<std::string>{"90 mbar"});
  CHECK(value.not_used == std::vector<std::string>{"92 mbar: Values read with cold fluid"});
  CHECK(value.heading == Heading::too_few);
}

TEST_CASE("settled takes driving between two readings that hardly differ") {
  CHECK(moving_k1({100, 140, 180, 220}, {40, 75, 100}).heading == Heading::not_yet);
  CHECK(moving_k1({100, 140, 180, 220}, {40, 75, 80}).heading == Heading::settled);
  const MovingValue parked = moving_k1({100, 140, 180, 180}, {40, 75, 80});
  CHECK(parked.heading == Heading::not_yet);
  CHECK(parked.because == "less than 5 km were driven between the readings");
}

TEST_CASE("the sheet begins with the cautions of what was seen, and with values at a limit") {
  const std::string text = std::string(card_head) +
                           "complaint: { findings: [no_drive, burnt_smell] }\n"
                           "readings: [{ date: 2031-04-17, fill_pressure: { K3: 315 mbar } }]\n";
  LoggedJob job({}, text);
  const auto sheet = job.sheet();
  const BeforeDriving& first = std::get<DriveSheet>(sheet).first;
  REQUIRE(first.cautions.size() == 1);
  CHECK(first.cautions[0].seen.size() == 2);
  CHECK_FALSE(first.cautions[0].says.empty());
  REQUIRE(first.beyond.size() == 1);
  CHECK(first.beyond[0].says == "fill_pressure of K3: 315 mbar, its limit is 300 mbar");
  CHECK_FALSE(first.work_done);
  // Cleared since: the value is gone, and what was seen is not.
  LoggedJob cleared({}, text + "events: [{ what: values_cleared, date: 2031-04-17 }]\n");
  const auto later = cleared.sheet();
  CHECK(std::get<DriveSheet>(later).first.beyond.empty());
  CHECK(std::get<DriveSheet>(later).first.cautions.size() == 1);
}

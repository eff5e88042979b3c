// Readings for a card: what is written, and what is there already. Cards and readings are invented.
#include "slipcase/add_reading.h"

#include <doctest/doctest.h>

#include "slipcase/slipcase.h"
#include "support/card_folder.h"
#include "support/card_reading.h"

using namespace slipcase;
using slipcase::testing::CardFolder;

namespace {

using Names = std::vector<std::string>;

const std::string head =
    "job: J-0417\nunit: six_speed\nopened: 2031-04-17\nvehicle: { odometer: 148200 km }\n";
const std::string earlier =
    "readings:\n"
    "  - date: 2031-04-01\n"
    "    odometer: 147000 km\n"
    "    fill_pressure: { K1: 40 mbar, K2: -90 mbar, K3: 15 mbar, B1: 0 mbar, B2: not learned }\n";

struct Adding {
  explicit Adding(const NewReadings& given, const std::string& rest = earlier,
                  const std::filesystem::path& profile = {}) {
    RulePaths paths;
    paths.shipped = std::filesystem::path(SLIPCASE_RULES) / "six_speed";
    if (!profile.empty()) paths.profile = profile;
    const auto knowledge = load_knowledge(paths, sources, diagnostics).knowledge;
    REQUIRE(knowledge);
    const CardText card{"card.yaml", head + rest, std::nullopt};
    const JobLoad job = load_job(card, *knowledge, diagnostics);
    REQUIRE(job.job);
    result = add_readings(given, card, *job.job, *knowledge, diagnostics);
    CHECK(result.readings.has_value() != diagnostics.has_errors());
  }
  [[nodiscard]] Names messages() const {
    Names names;
    for (const Diagnostic& one : diagnostics.list())
      names.push_back((one.place ? sources->describe(*one.place) + " " : "") +
                      std::string(one.name));
    return names;
  }
  [[nodiscard]] std::string lines() const {
    std::string text;
    for (const CardChange& change : result.changes) text += as_line(change) + "\n";
    return text;
  }

  std::shared_ptr<SourceSet> sources = std::make_shared<SourceSet>();
  Diagnostics diagnostics;
  AddReadings result;
};

NewReadings by_hand(std::vector<std::string> values, std::string date = "2031-04-17",
                    std::string odometer = "148200 km") {
  NewReadings given;
  given.values = std::move(values);
  given.date = std::move(date);
  given.odometer = std::move(odometer);
  return given;
}

}  // namespace

TEST_CASE("readings by hand become one entry of the card, as they were written") {
  NewReadings given = by_hand({"fill_pressure of K1=40mbar", "fill_time of K1 = not learned",
                               "converter_pressure=5 mbar", "fill_pressure of K2=0.09 bar"});
  given.software = "A3";
  given.fluid_temperature = "84 C";
  const Adding adding(given);
  CHECK(adding.messages().empty());
  CHECK(adding.lines() ==
        "readings: [{ date: 2031-04-17, odometer: 148200 km, software: A3, fluid_temperature: "
        "84 C, fill_pressure: { K1: 40mbar, K2: 0.09 bar }, fill_time: { K1: not learned }, "
        "converter_pressure: 5 mbar }]\n");
}

TEST_CASE("what the card has in the same session is not written again") {
  const Adding all(by_hand({"fill_pressure of K1=0.04 bar", "fill_pressure of B2=not learned"},
                           "2031-04-01", ""));
  CHECK(all.messages().empty());
  CHECK(all.result.changes.empty());
  REQUIRE(all.result.readings);
  CHECK_FALSE(all.result.readings->sessions.front().is_new());

  const Adding some(
      by_hand({"fill_pressure of K1=40 mbar", "fill_time of K1=3 ms"}, "2031-04-01", "147000 km"));
  CHECK(some.lines() ==
        "readings: [{ date: 2031-04-01, odometer: 147000 km, fill_time: { K1: 3 ms } }]\n");
}

TEST_CASE("a value that the card has otherwise is refused with both places") {
  const Adding adding(by_hand({"fill_pressure of K1=41 mbar", "fill_pressure of B2=1 mbar"},
                              "2031-04-01", "147000 km"));
  CHECK(adding.messages() == Names{"--value:1:1 reading-on-card", "--value:1:1 reading-on-card"});
  const Diagnostic& said = adding.diagnostics.list().front();
  CHECK(said.text.find("was read as 40 mbar in the session of 2031-04-01, 147000 km") !=
        std::string::npos);
  REQUIRE(said.notes.size() == 1);
  CHECK(adding.sources->describe(*said.notes.front().place) == "card.yaml:8:26");
  CHECK(adding.result.changes.empty());
}

TEST_CASE("another time of day or odometer is another session") {
  CHECK(
      Adding(by_hand({"fill_pressure of K1=41 mbar"}, "2031-04-01 14:30", "")).messages().empty());
  CHECK(Adding(by_hand({"fill_pressure of K1=41 mbar"}, "2031-04-01", "147010 km"))
            .messages()
            .empty());
  CHECK(Adding(by_hand({"fill_pressure of K1=41 mbar"}, "", "147000 km")).messages() ==
        Names{"--value:1:1 reading-on-card"});
}

TEST_CASE("limits and watch lines that are reached are told and the value is kept") {
  const Adding adding(by_hand({"fill_pressure of K1=320 mbar", "fill_pressure of K2=-300 mbar",
                               "fill_pressure of K3=0.12 bar", "fill_pressure of B1=99 mbar"}));
  REQUIRE(adding.result.readings);
  const auto& values = adding.result.readings->sessions.front().values;
  CHECK(values[0].range == ReadingRange::beyond_limit);
  CHECK(values[0].bound == "300 mbar");
  CHECK_FALSE(values[0].at_bound);
  CHECK(values[1].range == ReadingRange::beyond_limit);
  CHECK(values[1].at_bound);
  CHECK(values[2].range == ReadingRange::beyond_watch);
  CHECK(values[2].bound == "0.1 bar");
  CHECK(values[3].range == ReadingRange::inside);
}

TEST_CASE("a value beyond its limit that would be inside with its sign back is told to look so") {
  std::string profile = slipcase::testing::text_of(std::filesystem::path(SLIPCASE_RULES) /
                                                   "six_speed" / "profile.yaml");
  const std::string bounds = "possible: [-500 mbar, 500 mbar]";
  profile.replace(profile.find(bounds), bounds.size(), "possible: [-70000 mbar, 70000 mbar]");
  const CardFolder folder;
  const auto path = folder.write("profile.yaml", profile);
  const Adding adding(by_hand({"fill_pressure of K1=65416 mbar", "fill_pressure of K2=65036 mbar"}),
                      "", path);
  REQUIRE(adding.result.readings);
  const AddedReadings& added = *adding.result.readings;
  CHECK(added.sessions.front().values[0].looks_like == "-120 mbar");
  CHECK(added.sessions.front().values[1].looks_like.empty());
}

TEST_CASE("a session needs a day or an odometer, and a number that is possible") {
  CHECK(Adding(by_hand({"fill_pressure of K1=1 mbar"}, "", "")).messages() ==
        Names{"reading-no-time"});
  CHECK(Adding(by_hand({"fill_pressure of K1=65416 mbar"})).messages() ==
        Names{"--value:1:21 card-impossible-value"});
  CHECK(Adding(by_hand({"fill_pressure of K1"})).messages() == Names{"--value:1:1 reading-shape"});
  CHECK(Adding(by_hand({"software=A3", "fluid_temperature=84 C"})).messages() ==
        Names{"--value:1:1 reading-shape", "--value:1:1 reading-shape"});
  CHECK(Adding(by_hand({"fill_time of K1=1 ms", "fill_time of K1=2 ms"})).messages() ==
        Names{"--value:1:1 reading-twice"});
  CHECK(Adding(by_hand({"fill_time of K1=1"})).messages() ==
        Names{"--value:1:17 value-unit-missing"});
}

TEST_CASE("values that are all exactly minus those before hint at a reversed sign") {
  const Names reversed = {"fill_pressure of K1=-40 mbar", "fill_pressure of K2=90 mbar",
                          "fill_pressure of K3=-15 mbar", "fill_pressure of B1=0 mbar",
                          "fill_pressure of B2=20 mbar"};
  CHECK(Adding(by_hand(reversed)).messages() == Names{"--date:1:1 reading-sign-reversed"});
  CHECK(Adding(by_hand(reversed, "2031-03-01", "140000 km")).messages().empty());
  Names other = reversed;
  other[1] = "fill_pressure of K2=91 mbar";
  CHECK(Adding(by_hand(other)).messages().empty());
  other.erase(other.begin() + 1);
  CHECK(Adding(by_hand(other)).messages().empty());
}

TEST_CASE("an odometer that falls within a day is told with both places") {
  const std::string noon =
      "readings: [ { date: 2031-04-17 12:00, odometer: 148200 km, fill_time: { K1: 1 ms } } ]\n";
  const auto at = [&](const char* date, const char* odometer) {
    return Adding(by_hand({"fill_time of K1=1 ms"}, date, odometer), noon).messages();
  };
  CHECK(at("2031-04-17 13:00", "148190 km") == Names{"--date:1:1 reading-backwards"});
  CHECK(at("2031-04-17 11:00", "148210 km") == Names{"--date:1:1 reading-backwards"});
  CHECK(at("2031-04-17 13:00", "148210 km").empty());
  CHECK(at("2031-04-17", "148190 km").empty());
}

TEST_CASE("rows of one table are held against each other as against the card") {
  const CardFolder folder;
  NewReadings given;
  given.mapping = folder.write(
      "map.yaml",
      "columns:\n  Day: { means: date }\n  P: { reading: fill_pressure of K1, unit: mbar }\n");
  given.table = folder.write("t.csv", "Day,P\n2031-04-10,1\n2031-04-10,1\n2031-04-11,2\n");
  const Adding good(given);
  CHECK(good.messages().empty());
  CHECK(good.result.changes.size() == 2);
  given.table = folder.write("u.csv", "Day,P\n2031-04-10,1\n2031-04-10,2\n,3\n");
  const Adding bad(given);
  REQUIRE(bad.messages().size() == 1);
  CHECK(bad.messages().front().ends_with("u.csv:4:2 reading-no-time"));
  given.table = folder.write("u.csv", "Day,P\n2031-04-10,1\n2031-04-10,2\n");
  const Adding other(given);
  REQUIRE(other.messages().size() == 1);
  CHECK(other.messages().front().ends_with("u.csv:3:12 reading-on-card"));
}

TEST_CASE("files that are not there are told") {
  NewReadings given;
  given.table = "no_such_table.csv";
  given.mapping = "no_such_map.yaml";
  CHECK(Adding(given).messages() == Names{"file-unreadable", "file-unreadable"});
}

// Cards of one vehicle as one. All cards are invented.
#include "book/merge_cards.h"

#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "support/card_reading.h"

namespace slipcase::book {
namespace {

struct Merging {
  explicit Merging(const std::vector<std::string>& texts) {
    std::vector<facts::JobCard> cards;
    for (const std::string& text : texts) {
      const SourceId id = sources.add("card.yaml", text);
      cards.push_back(*facts::read_job_card(sources, id, diagnostics));
    }
    REQUIRE(diagnostics.empty());
    merged = merge_cards(std::move(cards), diagnostics);
  }
  [[nodiscard]] std::vector<std::string> messages() const {
    return test::places_and_names(diagnostics, sources);
  }

  SourceSet sources;
  Diagnostics diagnostics;
  MergedCard merged;
};

std::string card(const std::string& day, const std::string& rest) {
  return "job: J\nunit: six_speed\nopened: " + day + "\n" + rest;
}
std::string look(const std::string& when, const std::string& values) {
  return "readings: [ { " + when + ", fill_pressure: { " + values + " } } ]\n";
}

TEST_CASE("sessions of all cards, one of two cards once") {
  const Merging one({card("2031-02-01", look("date: 2031-02-01, odometer: 2000 km", "K1: 5 mbar")),
                     card("2031-01-01", look("date: 2031-01-01, odometer: 1000 km", "K1: 5 mbar")),
                     card("2031-03-01", look("date: 2031-01-01", "K1: 0.005 bar, K2: 7 mbar"))});
  CHECK(one.messages().empty());
  REQUIRE(one.merged.card.readings.size() == 2);
  const auto& first = one.merged.card.readings[0];
  CHECK(first.when.odometer);
  CHECK(first.values.size() == 2);  // K1 of one card, K2 of the other
  CHECK(one.merged.card.opened->text() == "2031-03-01");
}

TEST_CASE("two sessions of one day on one card stay two") {
  const Merging one({card("2031-01-01",
                          "readings:\n  - { date: 2031-01-01, fill_pressure: { K1: 5 mbar } }\n"
                          "  - { date: 2031-01-01, fill_pressure: { K1: 5 mbar } }\n")});
  CHECK(one.merged.card.readings.size() == 2);
}

TEST_CASE("cards that disagree are told, and neither value is used") {
  const Merging one({card("2031-01-01", look("date: 2031-01-01", "K1: 5 mbar, K2: 7 mbar")),
                     card("2031-02-01", look("date: 2031-01-01", "K1: 50 mbar, K2: 7 mbar"))});
  CHECK(one.messages() == std::vector<std::string>{"4:54 cards-disagree"});
  CHECK(one.merged.disagreements == 1);
  REQUIRE(one.merged.card.readings.size() == 1);
  REQUIRE(one.diagnostics.list()[0].notes.size() == 1);
  const auto& values = one.merged.card.readings[0].values;
  REQUIRE(values.size() == 1);
  CHECK(std::get<1>(values[0].value).size() == 1);
}

TEST_CASE("an event of two cards is one, undated work belongs to the day its job was closed") {
  const Merging one({card("2031-01-01",
                          "events: [ { what: values_cleared, date: 2031-01-01, by: us } ]\n"
                          "repairs: [ { done: overhaul } ]\noutcome: { closed: 2031-01-09 }\n"),
                     card("2031-02-01",
                          "events: [ { what: values_cleared, date: 2031-01-01 },"
                          " { what: values_cleared, date: 2031-01-30 } ]\n")});
  CHECK(one.merged.card.events.size() == 2);
  REQUIRE(one.merged.card.repairs.size() == 1);
  CHECK(one.merged.card.repairs[0].when.moment->text() == "2031-01-09");
}

TEST_CASE("what an older card says never happened may have happened since") {
  const Merging one({card("2031-01-01", "events: [ { what: values_cleared, date: 2030-12-01 } ]\n"),
                     card("2031-02-01", "never: [values_cleared, battery_flat]\n")});
  CHECK(one.merged.card.never.size() == 1);
}

}  // namespace
}  // namespace slipcase::book

// A series is never followed across what reset it, and it does not matter on how many cards its
// readings stand, nor in which order. Vehicles are drawn at random.
#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <fmt/core.h>

#include "book/merge_cards.h"
#include "book/series.h"
#include "evaluation/bind.h"
#include "evaluation/evaluator.h"
#include "support/ground_bench.h"
#include "units/date.h"

namespace slipcase::book {
namespace {

struct Visit {
  int day = 0;
  int km = 0;
  int value = 0;
  bool other_software = false;
};

struct Drawn {
  std::vector<Visit> visits;
  std::vector<int> clearings;  // days
};

std::string day_text(int day) { return units::Date::from_days_since_1970(20000 + day).text(); }

Drawn draw(std::mt19937& random) {
  const auto pick = [&](int most) { return std::uniform_int_distribution<int>(0, most)(random); };
  Drawn drawn;
  Visit visit{0, 50000, 0, false};
  const int count = 2 + pick(10);
  for (int i = 0; i < count; ++i) {
    visit.day += 1 + pick(200);
    visit.km += 1 + pick(20000);
    visit.value = pick(400) - 200;
    if (pick(5) == 0) visit.other_software = !visit.other_software;
    drawn.visits.push_back(visit);
  }
  for (int i = pick(3); i > 0; --i) drawn.clearings.push_back(pick(visit.day));
  return drawn;
}

std::string visit_text(const Visit& visit) {
  return fmt::format(
      "  - {{ date: {}, odometer: {} km, software: {}, fill_pressure: {{ K1: {} mbar }} }}\n",
      day_text(visit.day), visit.km, visit.other_software ? "B" : "A", visit.value);
}

std::string events_text(const Drawn& drawn) {
  std::string text;
  for (const int day : drawn.clearings)
    text += fmt::format("  - {{ what: values_cleared, date: {} }}\n", day_text(day));
  return text.empty() ? text : "events:\n" + text;
}

std::string card_text(int opened, const std::string& readings, const std::string& events) {
  return fmt::format("job: J\nunit: six_speed\nopened: {}\n{}{}", day_text(opened),
                     readings.empty() ? "" : "readings:\n" + readings, events);
}

std::vector<Stretch> series_of(test::GroundBench& bench, const std::vector<std::string>& texts) {
  Diagnostics diagnostics;
  std::vector<facts::JobCard> cards;
  for (const std::string& text : texts) {
    const SourceId id = bench.sources.add("card.yaml", text);
    cards.push_back(*facts::read_job_card(bench.sources, id, diagnostics));
  }
  const MergedCard merged = merge_cards(std::move(cards), diagnostics);
  const auto facts = evaluation::bind(*bench.ground, merged.card, diagnostics);
  REQUIRE(facts);
  const auto states = evaluation::evaluate(bench.ground, *facts);
  const AsideThen none;
  for (std::uint32_t r = 0; r < bench.ground->readings.origins.size(); ++r)
    if (bench.ground->name_of(grounding::GroundReading{r}) == "fill_pressure of K1")
      return stretches({*bench.ground, merged.card, *facts, states, none},
                       grounding::GroundReading{r});
  return {};
}

std::string text_of(const std::vector<Stretch>& list) {
  std::string text;
  for (const Stretch& stretch : list) {
    text += "|" + std::string(stretch.split_surely ? "" : "?") + stretch.since;
    for (const SeriesValue& value : stretch.values)
      text += fmt::format(" {}@{}{}", value.value, value.odometer.value_or(0.0), value.aside);
  }
  return text;
}

TEST_CASE("no stretch reaches across a clearing or another software") {
  std::mt19937 random(21);
  test::GroundBench bench = test::GroundBench::shipped();
  for (int i = 0; i < 60; ++i) {
    const Drawn drawn = draw(random);
    std::string readings;
    for (const Visit& visit : drawn.visits) readings += visit_text(visit);
    const auto list =
        series_of(bench, {card_text(drawn.visits.back().day, readings, events_text(drawn))});
    std::size_t told = 0;
    for (const Stretch& stretch : list) {
      for (std::size_t v = 1; v < stretch.values.size(); ++v) {
        const Visit& before = drawn.visits.at(stretch.values[v - 1].snapshot);
        const Visit& after = drawn.visits.at(stretch.values[v].snapshot);
        CHECK(before.other_software == after.other_software);
        // On one day readings come before events.
        CHECK(std::ranges::none_of(drawn.clearings,
                                   [&](int day) { return before.day <= day && day < after.day; }));
      }
      told += stretch.values.size();
    }
    CHECK(told == drawn.visits.size());
  }
}

TEST_CASE("many cards, with repeats and in any order, say what one card says") {
  std::mt19937 random(22);
  test::GroundBench bench = test::GroundBench::shipped();
  for (int i = 0; i < 60; ++i) {
    Drawn drawn = draw(random);
    // Two undated-by-odometer clearings of one day cannot be told from one that is on two cards.
    std::ranges::sort(drawn.clearings);
    drawn.clearings.erase(std::unique(drawn.clearings.begin(), drawn.clearings.end()),
                          drawn.clearings.end());
    std::string readings;
    for (const Visit& visit : drawn.visits) readings += visit_text(visit);
    const int last = drawn.visits.back().day;
    const auto whole = series_of(bench, {card_text(last, readings, events_text(drawn))});
    std::vector<std::string> cards;
    for (std::size_t v = 0; v < drawn.visits.size(); ++v) {
      const std::string before = v > 0 ? visit_text(drawn.visits[v - 1]) : "";
      cards.push_back(card_text(drawn.visits[v].day, before + visit_text(drawn.visits[v]), ""));
    }
    cards.push_back(card_text(last, "", events_text(drawn)));
    std::ranges::shuffle(cards, random);
    CHECK(text_of(series_of(bench, cards)) == text_of(whole));
  }
}

}  // namespace
}  // namespace slipcase::book

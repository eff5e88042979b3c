// What work costs, in a profile and in a file of the shop's own.
#include <optional>
#include <string>

#include <doctest/doctest.h>

#include "profile/read_costs.h"
#include "profile_text.h"

using namespace slipcase;

namespace {

struct Read {
  std::optional<profile::WorkCosts> costs;
  std::string names;
};

Read read(const std::string& text) {
  SourceSet sources;
  Diagnostics diagnostics;
  const SourceId source = sources.add("costs.yaml", text);
  Read result{profile::read_costs_file(sources, source, diagnostics), {}};
  for (const Diagnostic& diagnostic : diagnostics.list())
    result.names += (result.names.empty() ? "" : "; ") + std::string(diagnostic.name) + ": " +
                    std::string(sources.text_at(diagnostic.place.value_or(Place{})));
  return result;
}

}  // namespace

TEST_CASE("a shop's own costs are read, in whatever unit of time") {
  const auto [costs, names] =
      read("labour_rate: 95\ncurrency: EUR\ncomeback: 1.5 h\nunsolved: 1200 minutes\n");
  CHECK(names == "");
  REQUIRE(costs);
  CHECK(costs->labour_rate == 95);
  CHECK(costs->currency == "EUR");
  CHECK(costs->comeback_minutes == 90);
  CHECK(costs->unsolved_minutes == 1200);
}

TEST_CASE("what a shop leaves out is not said, not nothing") {
  const auto [costs, names] = read("labour_rate: 0\n");
  REQUIRE(costs);
  CHECK(costs->labour_rate == 0);
  CHECK_FALSE(costs->currency);
  CHECK_FALSE(costs->comeback_minutes);
  CHECK_FALSE(costs->unsolved_minutes);
}

TEST_CASE("costs that cannot be are refused at their place, all in one run") {
  CHECK(read("labour_rate: -1\ncomeback: -5 minutes\n").names ==
        "profile-impossible-number: -1; profile-impossible-number: -5 minutes");
  CHECK(read("unsolved: 20\n").names == "value-unit-missing: 20");
  CHECK(read("unsolved: 20 km\n").names == "value-unit-wrong: 20 km");
  CHECK(read("unsolved: 20 min\n").names == "value-unit-shape: 20 min");
  CHECK(read("labor_rate: 20\n").names == "document-unknown-key: labor_rate");
  CHECK(read("labour_rate: dear\n").names == "value-number-shape: dear");
  CHECK_FALSE(read("labour_rate: -1\ncurrency: EUR\n").costs);
}

TEST_CASE("a profile has the same keys") {
  using test::Lines;
  CHECK(test::said_of("labour_rate: 120", "comeback: -1 minutes") ==
        Lines{"profile-impossible-number: -1 minutes"});
  CHECK(test::said_of("labour_rate: 120", "comeback: 45 minutes\nunsolved: 30 h") == Lines{});
}

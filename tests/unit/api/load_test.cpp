#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>

#include <doctest/doctest.h>

#include "slipcase/slipcase.h"

using namespace slipcase;

namespace {

std::string first_name(const Diagnostics& diagnostics) {
  return diagnostics.empty() ? std::string() : std::string(diagnostics.list().front().name);
}

}  // namespace

TEST_CASE("rules without a unit profile are refused with what to give") {
  Diagnostics diagnostics;
  const KnowledgeLoad load = load_knowledge({}, std::make_shared<SourceSet>(), diagnostics);
  CHECK_FALSE(load.knowledge);
  CHECK(load.outcome == Loaded::input_errors);
  CHECK(first_name(diagnostics) == "no-profile");
}

TEST_CASE("rules with very many errors are told the first of them and how many more there are") {
  const auto file = std::filesystem::temp_directory_path() / "slipcase_many_errors.rules";
  {
    std::ofstream text(file);
    text << "language 1\n";
    for (int i = 0; i < 70; ++i) {
      text << "cause wrong_" << i << " says \"Wrong\" group fluid found in 1 of 900 jobs\n"
           << "    shows no_such_" << i << " in 1 of 2\n    source \"invented\"\n";
    }
  }
  RulePaths paths;
  paths.shipped = std::filesystem::path(SLIPCASE_RULES) / "six_speed";
  paths.own = {file};
  Diagnostics diagnostics;
  const auto load = load_knowledge(paths, std::make_shared<SourceSet>(), diagnostics);
  std::filesystem::remove(file);
  CHECK_FALSE(load.knowledge);
  REQUIRE(diagnostics.list().size() == 51);
  CHECK(diagnostics.list().back().name == "too-many-errors");
  CHECK(diagnostics.list().back().text == "20 more errors in this text are not listed");
}

TEST_CASE("a missing card is an error of the input, not of the machine") {
  Diagnostics diagnostics;
  const CardTextLoad load = read_card("no/such/card.yaml", diagnostics);
  CHECK_FALSE(load.card);
  CHECK(load.outcome == Loaded::input_errors);
  CHECK(first_name(diagnostics) == "file-unreadable");
}

TEST_CASE("a card for whose unit there are no rules is told all that can be told without them") {
  SourceSet sources;
  Diagnostics diagnostics;
  const std::vector<std::string> units{"six_speed"};
  refuse_unit({"card.yaml", "opened: 2031-02-30\nunit: six_sped\n", "six_sped"}, units, sources,
              diagnostics);
  REQUIRE(diagnostics.list().size() == 2);
  CHECK(diagnostics.list()[0].name == "value-no-such-day");
  CHECK(diagnostics.list()[1].name == "card-unknown-unit");
  CHECK(diagnostics.list()[1].text ==
        "there are no rules for the unit `six_sped`, did you mean `six_speed`?");
  CHECK(sources.describe(*diagnostics.list()[1].place) == "card.yaml:2:7");
}

TEST_CASE("the unit is found in a card whatever else is wrong with it") {
  CHECK(unit_named_in("unit: six_speed\nopened: never\n") == "six_speed");
  CHECK(unit_named_in("{\"unit\": \"six_speed\"}") == "six_speed");
  CHECK_FALSE(unit_named_in("opened: 2031-04-17\n"));
  CHECK_FALSE(unit_named_in("\x01\x02"));
  CHECK_FALSE(unit_named_in(""));
}

TEST_CASE("the same rules have the same fingerprint and jobs leave them as they were") {
  const auto load = [] {
    Diagnostics diagnostics;
    RulePaths paths;
    paths.shipped = std::filesystem::path(SLIPCASE_RULES) / "six_speed";
    return load_knowledge(paths, std::make_shared<SourceSet>(), diagnostics);
  };
  const auto first = load();
  const auto second = load();
  REQUIRE(first.knowledge);
  REQUIRE(second.knowledge);
  CHECK(first.knowledge->fingerprint() == second.knowledge->fingerprint());
  CHECK(first.knowledge->unit() == "six_speed");

  Diagnostics diagnostics;
  const auto card =
      read_card(std::filesystem::path(SLIPCASE_RULES) / "six_speed/jobs/demo.yaml", diagnostics);
  REQUIRE(card.card);
  const auto ranked = [&] {
    const auto job = load_job(*card.card, *first.knowledge, diagnostics);
    REQUIRE(job.job);
    const auto ranking = std::get<Ranking>(rank(*first.knowledge, *job.job));
    std::string text;
    for (const RankedCause& cause : ranking.causes) {
      text += cause.id + ' ' + std::to_string(cause.chance.log_odds()) + '\n';
    }
    return text;
  };
  CHECK(ranked() == ranked());
}

TEST_CASE("the factors of a chain add up to the log odds of the chance") {
  Diagnostics diagnostics;
  RulePaths paths;
  paths.shipped = std::filesystem::path(SLIPCASE_RULES) / "six_speed";
  const auto knowledge =
      load_knowledge(paths, std::make_shared<SourceSet>(), diagnostics).knowledge;
  REQUIRE(knowledge);
  const auto card =
      read_card(std::filesystem::path(SLIPCASE_RULES) / "six_speed/jobs/demo.yaml", diagnostics);
  const auto job = load_job(*card.card, *knowledge, diagnostics).job;
  REQUIRE(job);
  const auto ranking = std::get<Ranking>(rank(*knowledge, *job));
  for (const std::size_t place : {0U, 1U, 5U}) {
    RankOptions options;
    options.tipping = 0;  // the chain alone
    const auto result = reasons(*knowledge, *job, ranking.causes.at(place).id, options);
    const auto& why = std::get<Reasons>(result);
    double log_odds = why.prior.log_odds();
    for (const ReasonStep& step : why.chain) log_odds += step.log_factor;
    CAPTURE(why.cause);
    CHECK(std::fabs(log_odds - ranking.causes.at(place).chance.log_odds()) <= 1e-9);
  }
}

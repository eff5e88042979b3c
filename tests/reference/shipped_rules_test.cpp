// The shipped rules as they are: no mistakes, no doubts, and what their own trials promise.

#include <filesystem>

#include <doctest/doctest.h>

#include "api/parts.h"
#include "reference/whole_tool.h"
#include "slipcase/job.h"
#include "slipcase/report.h"
#include "slipcase/trials.h"

namespace {

const std::filesystem::path folder = std::filesystem::path(SLIPCASE_RULES) / "six_speed";

slipcase::Knowledge shipped_rules(slipcase::Diagnostics& diagnostics, slipcase::LoadFor what) {
  const auto sources = std::make_shared<slipcase::SourceSet>();
  slipcase::RulePaths paths;
  paths.shipped = folder;
  const auto load = slipcase::load_knowledge(paths, sources, diagnostics, what);
  REQUIRE_MESSAGE(load.knowledge, reference::as_text(diagnostics, *sources));
  return *load.knowledge;
}

}  // namespace

TEST_CASE("the shipped rules give no error and no warning") {
  slipcase::Diagnostics diagnostics;
  const slipcase::Knowledge knowledge = shipped_rules(diagnostics, slipcase::LoadFor::doubts);
  CHECK_MESSAGE(diagnostics.empty(), reference::as_text(diagnostics, *knowledge.parts().sources));
}

TEST_CASE("every trial beside the shipped rules comes out") {
  slipcase::Diagnostics diagnostics;
  const slipcase::Knowledge knowledge = shipped_rules(diagnostics, slipcase::LoadFor::trials);
  const slipcase::TrialsRun run = slipcase::try_rules(knowledge, {}, diagnostics);
  CHECK_MESSAGE(diagnostics.empty(), reference::as_text(diagnostics, *knowledge.parts().sources));
  CHECK(run.trials.size() >= 6);
  CHECK_MESSAGE(run.all_passed(), slipcase::to_text(run));
}

TEST_CASE("every shipped job card is read without a message and ranked") {
  slipcase::Diagnostics of_rules;
  const slipcase::Knowledge knowledge = shipped_rules(of_rules, slipcase::LoadFor::jobs);
  std::size_t cards = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder / "jobs")) {
    CAPTURE(entry.path().string());
    slipcase::Diagnostics diagnostics;
    const auto card = slipcase::read_card(entry.path(), diagnostics);
    REQUIRE(card.card);
    const auto load = slipcase::load_job(*card.card, knowledge, diagnostics);
    CHECK_MESSAGE(diagnostics.empty(), reference::as_text(diagnostics, *knowledge.parts().sources));
    REQUIRE(load.job);
    const slipcase::RankResult result = slipcase::rank(knowledge, *load.job);
    CHECK(std::holds_alternative<slipcase::Ranking>(result));
    ++cards;
  }
  CHECK(cards >= 8);
}

// The plans that `next` makes for the shipped cards: no single repair of the rules, and no two done
// together, would cost less until the complaint is gone. Cards and rules are invented.
#include <algorithm>
#include <filesystem>
#include <memory>
#include <vector>

#include <doctest/doctest.h>

#include "advice/complaint.h"
#include "advice/next_steps.h"
#include "advice/plan_improver.h"
#include "api/parts.h"
#include "reference/whole_tool.h"
#include "slipcase/job.h"
#include "support/rounds.h"

namespace {

using namespace slipcase;
namespace fs = std::filesystem;

const fs::path unit_folder = fs::path(SLIPCASE_RULES) / "six_speed";

/// Ends when a cheaper way than `planned` is found.
void look_for_cheaper(advice::JobModel& job, const evaluation::JobFacts& facts,
                      const ShopCosts& costs, double planned) {
  const advice::Workshop shop(job, facts, costs);
  const auto complaint = advice::complaint_of(job.ground(), job.states(), facts).ids();
  advice::RepairEnds ends(job, complaint, job.tried().failed.cures);
  advice::RepairList all;
  for (const advice::RepairStep& repair : shop.repairs()) all.push_back(&repair);
  advice::PlanImprover costs_of(shop.shared(), 0, ends, all);
  constexpr double search_stops_at = 0.005;
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t k = i; k < all.size(); ++k) {
      advice::RepairList round{all[i]};
      if (k > i) round.push_back(all[k]);
      CAPTURE(job.ground().says(all[i]->repair));
      CAPTURE(job.ground().says(all[k]->repair));
      const double cost = costs_of.cost_of({round});
      CHECK(cost >= planned * (1 - search_stops_at));
      if (cost < planned * (1 - search_stops_at)) return;
    }
  }
}

}  // namespace

TEST_CASE("no repair and no two together cost less than the plan of a shipped card") {
  const auto sources = std::make_shared<SourceSet>();
  Diagnostics diagnostics;
  RulePaths paths;
  paths.shipped = unit_folder;
  const auto load = load_knowledge(paths, sources, diagnostics, LoadFor::jobs);
  REQUIRE_MESSAGE(load.knowledge, reference::as_text(diagnostics, *sources));
  const Knowledge& knowledge = *load.knowledge;
  std::vector<fs::path> cards;
  for (const auto& entry : fs::directory_iterator(unit_folder / "jobs"))
    cards.push_back(entry.path());
  std::ranges::sort(cards);
  std::size_t looked_at = 0;
  constexpr std::size_t enough = test::rounds_of(8);
  for (const fs::path& card : cards) {
    if (looked_at == enough) break;
    CAPTURE(card.filename().string());
    const auto text = read_card(card, diagnostics).card;
    REQUIRE(text);
    const auto job = load_job(*text, knowledge, diagnostics).job;
    REQUIRE(job);
    const NextResult result = next(knowledge, *job, {});
    const auto* advice = std::get_if<NextAdvice>(&result);
    REQUIRE(advice != nullptr);
    // What ends a distrust comes first whatever it costs.
    if (!advice->first.empty()) continue;
    ++looked_at;
    const evaluation::JobFacts& facts = job->parts().facts;
    const auto& states = knowledge.parts().evaluator.evaluate(facts);
    advice::JobModel model(knowledge.parts().network, states, std::size_t{1} << 30,
                           advice::tried_in_vain(knowledge.parts().network, states, facts));
    look_for_cheaper(model, facts, costs_of_profile(knowledge), advice->cost_of_repairs);
  }
  CHECK(looked_at == enough);
}

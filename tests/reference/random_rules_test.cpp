// Random rule bases as text, through the whole tool, against exact fractions.
#include "reference/random_rules.h"

#include <cmath>

#include <doctest/doctest.h>

#include "reference/whole_tool.h"

using reference::Answer;
using reference::RandomRules;
using reference::WholeTool;

namespace {

constexpr std::uint64_t first_seed = 20310417;
constexpr int rule_bases = 150;

void check_same(const Answer& a, const Answer& b, double tolerance) {
  REQUIRE(a.chance.size() == b.chance.size());
  for (const auto& [cause, chance] : a.chance) {
    CAPTURE(cause);
    CHECK(std::fabs(chance - b.chance.find(cause)->second) <= tolerance);
  }
}

}  // namespace

TEST_CASE("random rules in counts give exactly the chances that the counts mean") {
  int ranked = 0;
  for (int i = 0; i < rule_bases; ++i) {
    std::mt19937_64 random(first_seed + static_cast<std::uint64_t>(i));
    const RandomRules rules = reference::make_random_rules(random);
    const std::string text = rules.text(random);
    const std::string card = rules.card(random);
    CAPTURE(i);
    CAPTURE(text);
    CAPTURE(card);
    const auto exact = reference::exact_answer(rules);
    if (exact.evidence == 0) continue;  // "n of n" met a "no"
    const Answer answer = WholeTool(text).rank(card);
    ++ranked;
    CHECK(answer.log_evidence == doctest::Approx(std::log(exact.evidence.get_d())).epsilon(1e-12));
    for (std::size_t node = 0; node < rules.nodes.size(); ++node) {
      if (rules.nodes[node].inside) continue;
      const std::string name = reference::name_of_node(rules, node);
      CAPTURE(name);
      CHECK(std::fabs(answer.chance.find(name)->second - exact.chance[node].get_d()) <= 1e-12);
    }
  }
  CHECK(ranked > rule_bases * 9 / 10);
}

TEST_CASE("the order of declarations, lines and answers changes no chance") {
  for (int i = 0; i < 30; ++i) {
    std::mt19937_64 random(first_seed + 1000 + static_cast<std::uint64_t>(i));
    const RandomRules rules = reference::make_random_rules(random);
    if (reference::exact_answer(rules).evidence == 0) continue;
    CAPTURE(i);
    const Answer once = WholeTool(rules.text(random)).rank(rules.card(random));
    const Answer again = WholeTool(rules.text(random)).rank(rules.card(random));
    check_same(once, again, 1e-12);
  }
}

TEST_CASE("a finding that nobody answered changes nothing") {
  for (int i = 0; i < 30; ++i) {
    std::mt19937_64 random(first_seed + 2000 + static_cast<std::uint64_t>(i));
    RandomRules rules = reference::make_random_rules(random);
    if (reference::exact_answer(rules).evidence == 0) continue;
    CAPTURE(i);
    const Answer with = WholeTool(rules.text(random)).rank(rules.card(random));
    std::erase_if(rules.findings, [](const auto& finding) { return !finding.answer; });
    const Answer without = WholeTool(rules.text(random)).rank(rules.card(random));
    check_same(with, without, 1e-12);
    CHECK(with.log_evidence == doctest::Approx(without.log_evidence).epsilon(1e-12));
  }
}

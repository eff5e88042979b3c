// One changed fact after the other: the result must be that of an evaluation from the start. The
// shipped rules and their demonstration jobs.
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>
#include <string>

#include <doctest/doctest.h>

#include "evaluation/bind.h"
#include "evaluation/evaluator.h"
#include "facts/job_card.h"
#include "support/ground_bench.h"

using namespace slipcase;
using evaluation::Answer;
using evaluation::DetailFact;
using evaluation::Evaluation;
using evaluation::Evaluator;
using evaluation::ReadingFact;

namespace {

void check_equal(const Evaluation& a, const Evaluation& b) {
  REQUIRE(a.findings.size() == b.findings.size());
  for (std::size_t i = 0; i < a.findings.size(); ++i) {
    CAPTURE(i);
    REQUIRE(a.findings[i].state == b.findings[i].state);
    REQUIRE(a.findings[i].at_least == b.findings[i].at_least);
    REQUIRE(a.findings[i].at_most == b.findings[i].at_most);
    REQUIRE(a.findings[i].basis == b.findings[i].basis);
    REQUIRE(a.findings[i].distrust == b.findings[i].distrust);
  }
  for (std::size_t i = 0; i < a.distrusts.size(); ++i) {
    REQUIRE(a.distrusts[i].applies == b.distrusts[i].applies);
    REQUIRE(a.distrusts[i].snapshots == b.distrusts[i].snapshots);
  }
  REQUIRE(a.becomes == b.becomes);
  REQUIRE(a.restrictions == b.restrictions);
  REQUIRE(a.possible == b.possible);
  REQUIRE(a.judged == b.judged);
  REQUIRE(a.not_judged_by == b.not_judged_by);
  REQUIRE(a.contradictions.size() == b.contradictions.size());
  REQUIRE(a.clashes.size() == b.clashes.size());
  REQUIRE(a.undecided.size() == b.undecided.size());
}

class Changer {
 public:
  Changer(const grounding::GroundRules& rules, std::mt19937& random)
      : rules_(rules), random_(random) {}

  void change(Evaluator& evaluator) {
    const auto& facts = evaluator.facts();
    const int kind = facts.snapshots.empty() ? pick(2) : pick(3);
    if (kind == 0) {
      const grounding::GroundFinding finding{number(rules_.findings.size())};
      Answer answer;
      answer.said = static_cast<Answer::Said>(pick(4));
      answer.grade = number(rules_.declaration(finding).grades.size() + 1);
      evaluator.change_answer(finding, answer);
    } else if (kind == 1) {
      const grounding::GroundDetail detail{number(rules_.details.size())};
      evaluator.change_detail(detail, some_detail(detail));
    } else {
      const grounding::GroundReading reading{number(rules_.readings.size())};
      ReadingFact fact;
      fact.said = static_cast<ReadingFact::Said>(pick(3));
      const auto& bounds = rules_.bounds[reading.at()];
      if (bounds)
        fact.value = bounds->low_limit + (bounds->high_limit - bounds->low_limit) * pick(9) / 8.0;
      evaluator.change_reading(reading, number(facts.snapshots.size()), fact);
    }
  }

 private:
  int pick(int n) { return std::uniform_int_distribution<int>(0, n - 1)(random_); }
  std::uint32_t number(std::size_t n) {
    return std::uniform_int_distribution<std::uint32_t>(0,
                                                        static_cast<std::uint32_t>(n) - 1)(random_);
  }
  DetailFact some_detail(grounding::GroundDetail detail) {
    const auto& declared = rules_.rules->details[rules_.details.origins[detail.at()].declaration];
    DetailFact fact;
    if (pick(3) == 0) return fact;
    switch (declared.type) {
      case rulebase::Detail::Type::yes_no:
        fact.kind = DetailFact::Kind::yes_no;
        fact.yes = pick(2) == 0;
        break;
      case rulebase::Detail::Type::choice:
        fact.kind = DetailFact::Kind::word;
        fact.word = number(declared.words.size());
        break;
      case rulebase::Detail::Type::date:
      case rulebase::Detail::Type::quantity:
        fact.kind = DetailFact::Kind::number;
        fact.number = pick(7) * 100000.0;
        break;
    }
    return fact;
  }

  const grounding::GroundRules& rules_;
  std::mt19937& random_;
};

void walk(test::GroundBench& bench, const evaluation::JobFacts& facts, std::mt19937& random,
          int steps) {
  Evaluator evaluator(bench.ground);
  Evaluator fresh(bench.ground);
  evaluator.evaluate(facts);
  Changer changer(*bench.ground, random);
  for (int step = 0; step < steps; ++step) {
    CAPTURE(step);
    changer.change(evaluator);
    check_equal(evaluator.current(), fresh.evaluate(evaluator.facts()));
  }
}

}  // namespace

TEST_CASE("a changed fact leads to what an evaluation from the start gives") {
  auto bench = test::GroundBench::shipped();
  REQUIRE(bench.ground);
  std::mt19937 random(20310418);
  std::size_t cards = 0;
  const auto folder = std::filesystem::path(SLIPCASE_RULES) / "six_speed" / "jobs";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    std::ifstream file(entry.path());
    std::ostringstream text;
    text << file.rdbuf();
    Diagnostics diagnostics;
    const auto id = bench.sources.add(entry.path().filename().string(), text.str());
    const auto card = facts::read_job_card(bench.sources, id, diagnostics);
    const auto facts = card ? evaluation::bind(*bench.ground, *card, diagnostics) : std::nullopt;
    if (!facts) continue;
    ++cards;
    walk(bench, *facts, random, 400);
  }
  CHECK(cards >= 3);
}

TEST_CASE("the same where findings clash, set each other aside and look at each other") {
  test::GroundBench bench(R"(
detail use : one of town, towing asks "Used how?"
reading fill_pressure of element : pressure
event values_cleared
event loan_unit_in
event loan_unit_out
finding up of element
    grade raised when limit_share of fill_pressure of element >= 40 %
    grade high   when limit_share of fill_pressure of element >= 70 %
    otherwise raised or more in 4, high in 1 of 100 jobs
finding low of element when limit_share of fill_pressure of element <= -40 % otherwise in 1 of 100 jobs
finding odd of element asks "Odd?" otherwise in 1 of 100 jobs
finding alone of element when up of element and no other element ( up of element ) otherwise in 1 of 100 jobs
finding most_up when median of fill_pressure of every element > 100 mbar otherwise in 1 of 100 jobs
finding changed of element when change of fill_pressure of element > 60 mbar otherwise in 1 of 100 jobs
finding smell asks "Smell?" otherwise in 1 of 100 jobs
finding both when smell and any element ( odd of element ) otherwise in 1 of 100 jobs
at most one per element of up, low, odd
at most one of smell, most_up
cause worn of element
    found in 1 of 50 jobs
    becomes 2 times as likely when use is towing
    possible only when use is known
cause loose found in 1 of 50 jobs
distrust nose when smell and use is town sets aside odd not judged worn until loan_unit_out because "invented"
distrust loan
    when happened loan_unit_in and not on card loan_unit_out since loan_unit_in
    sets aside fill_pressure not judged worn until loan_unit_out because "invented"
distrust too_much
    when as_read of fill_pressure of K1 > 200 mbar
    sets aside fill_pressure of K2 not judged loose until loan_unit_out because "invented"
)");
  REQUIRE(bench.ground);
  Diagnostics diagnostics;
  const auto id = bench.sources.add("card.yaml", R"(opened: 2031-04-17
vehicle: { odometer: 40000 km }
events:
  - { what: loan_unit_in, odometer: 15000 km }
  - { what: loan_unit_out, odometer: 25000 km }
readings:
  - { odometer: 10000 km, fill_pressure: { K1: 0 mbar } }
  - { odometer: 20000 km, fill_pressure: { K1: 0 mbar } }
  - { odometer: 39000 km, fill_pressure: { K1: 0 mbar } }
  - { odometer: 40000 km, fill_pressure: { K1: 0 mbar } }
)");
  const auto card = facts::read_job_card(bench.sources, id, diagnostics);
  REQUIRE(card);
  const auto facts = evaluation::bind(*bench.ground, *card, diagnostics);
  REQUIRE(facts);
  std::mt19937 random(20310419);
  walk(bench, *facts, random, 4000);
}

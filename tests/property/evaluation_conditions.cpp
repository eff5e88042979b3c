// Random conditions: the flat code against the referee that walks the condition itself.
#include <memory>
#include <random>
#include <string>

#include <doctest/doctest.h>

#include "evaluation/evaluator.h"
#include "support/condition_referee.h"
#include "support/job_bench.h"
#include "support/rounds.h"

using namespace slipcase;
using namespace slipcase::rulebase;
using evaluation::Answer;
using evaluation::DetailFact;
using evaluation::ReadingFact;

namespace {

constexpr const char* rules = R"(
detail use : one of town, motorway, towing asks "Used how?"
reading fill_pressure of element : pressure
reading fill_time of element : time
finding mark of element asks "Marked?" otherwise in 1 of 100 jobs
finding flare of shift
    asks "Flare?"
    grade sometimes
    grade always
    otherwise sometimes or more in 2, always in 1 of 100 jobs
finding probe of element when use is town otherwise in 1 of 100 jobs
)";

constexpr double mbar = 100.0;  // pascal

/// Makes conditions in which each reading is asked at most once per comparison: then the code must
/// say yes or no exactly where every possible value agrees.
class Maker {
 public:
  Maker(const grounding::GroundRules& ground, std::mt19937& random)
      : ground_(ground), random_(random) {
    const auto& unit = ground_.rules->unit;
    elements_ = *unit.find_scope("element");
    shifts_ = *unit.find_scope("shift");
  }

  ConditionPtr condition(int depth, std::vector<ScopeId> bound) {
    const int kind = depth == 0 ? pick(5) : pick(10);
    switch (kind) {
      case 0:
        return made(DetailIs{DetailId{0}, NoMember{}, static_cast<std::uint32_t>(pick(3))});
      case 1:
        return made(FindingHolds{FindingId{0}, term(elements_, bound), 1});
      case 2: {
        const auto grade = static_cast<std::uint32_t>(1 + pick(2));
        return made(FindingHolds{FindingId{1}, term(shifts_, bound), grade});
      }
      case 3:
        return comparison(bound);
      case 4:
        return made(IsKnown{reading(0, term(elements_, bound))});
      case 5:
        return made(Not{condition(depth - 1, bound)});
      case 6:
        return made(AllOf{parts(depth, bound)});
      case 7:
        return made(AnyOf{parts(depth, bound)});
      default:
        return quantified(depth, std::move(bound));
    }
  }

 private:
  template <class Node>
  ConditionPtr made(Node node) {
    return std::make_shared<const Condition>(Condition{{}, std::move(node)});
  }
  int pick(int n) { return std::uniform_int_distribution<int>(0, n - 1)(random_); }

  Term term(ScopeId scope, const std::vector<ScopeId>& bound) {
    std::vector<std::uint32_t> fitting;
    for (std::uint32_t i = 0; i < bound.size(); ++i) {
      if (bound[i] == scope) fitting.push_back(i);
    }
    const auto members = static_cast<int>(ground_.rules->unit.member_count(scope));
    if (fitting.empty() || pick(4) == 0) return MemberId{static_cast<std::uint32_t>(pick(members))};
    return Variable{fitting[static_cast<std::size_t>(pick(static_cast<int>(fitting.size())))]};
  }

  std::vector<ConditionPtr> parts(int depth, const std::vector<ScopeId>& bound) {
    std::vector<ConditionPtr> list;
    for (int n = 2 + pick(2); n > 0; --n) list.push_back(condition(depth - 1, bound));
    return list;
  }

  Selection selection(const std::vector<ScopeId>& bound) {
    const auto& unit = ground_.rules->unit;
    Selection made;
    made.scope = pick(2) == 0 ? elements_ : shifts_;
    if (made.scope == elements_ && pick(3) == 0) made.other_than = term(elements_, bound);
    const char* const mark = pick(4) == 0 ? "unused" : "rotating";
    if (made.scope == elements_ && pick(3) == 0) {
      made.mark = Selection::MarkTest{*unit.find_mark(elements_, mark), pick(2) == 0};
    }
    if (made.scope == shifts_ && pick(2) == 0) {
      const char* const word = pick(2) == 0 ? "applying" : "releasing";
      made.relation = Selection::RelationTest{*unit.find_relation(shifts_, word, elements_),
                                              pick(3) == 0, term(elements_, bound)};
    }
    return made;
  }

  ConditionPtr quantified(int depth, std::vector<ScopeId> bound) {
    Quantified node;
    node.kind = static_cast<Quantified::Kind>(pick(5));
    node.selection = selection(bound);
    node.amount = node.kind == Quantified::Kind::at_least_share
                      ? static_cast<std::uint64_t>(pick(11)) * 10
                      : static_cast<std::uint64_t>(pick(5));
    bound.push_back(node.selection.scope);
    node.inner = condition(depth - 1, bound);
    return made(std::move(node));
  }

  ValuePtr value(decltype(Value::node) node) {
    Value made;
    made.node = std::move(node);
    return std::make_shared<const Value>(std::move(made));
  }
  ValuePtr constant(double number) {
    return value(ConstantValue{{number, units::of(units::Base::pressure)}});
  }
  ValuePtr reading(std::uint32_t which, Term member) {
    return value(ReadingValue{ReadingId{which}, member});
  }
  ValuePtr level() { return constant(mbar * 100.0 * (pick(13) - 6)); }

  ValuePtr asked(const std::vector<ScopeId>& bound) {
    switch (pick(3)) {
      case 0:
        return reading(0, term(elements_, bound));
      case 1:
        return value(DifferenceValue{reading(0, term(elements_, bound)),
                                     reading(1, term(elements_, bound))});
      default:
        break;
    }
    Selection over;
    over.scope = elements_;
    if (pick(2) == 0) {
      const auto& unit = ground_.rules->unit;
      over.mark = Selection::MarkTest{*unit.find_mark(elements_, "rotating"), pick(2) == 0};
    }
    const Variable last{static_cast<std::uint32_t>(bound.size())};
    return value(AggregateValue{static_cast<Aggregate>(pick(4)), over, reading(0, last)});
  }

  ConditionPtr comparison(const std::vector<ScopeId>& bound) {
    if (pick(4) == 0) return made(Within{asked(bound), constant(mbar * 100.0 * pick(6)), nullptr});
    Comparison node;
    node.kind = static_cast<Comparison::Kind>(pick(5));
    node.left = asked(bound);
    node.right = level();
    if (pick(2) == 0) std::swap(node.left, node.right);
    return made(std::move(node));
  }

  const grounding::GroundRules& ground_;
  std::mt19937& random_;
  ScopeId elements_;
  ScopeId shifts_;
};

void fill(evaluation::JobFacts& facts, std::mt19937& random) {
  const auto pick = [&](int n) { return std::uniform_int_distribution<int>(0, n - 1)(random); };
  for (auto& detail : facts.details) {
    detail.kind = pick(2) == 0 ? DetailFact::Kind::unknown : DetailFact::Kind::word;
    detail.word = static_cast<std::uint32_t>(pick(3));
  }
  for (std::size_t i = 0; i < facts.answers.size(); ++i) {
    facts.answers[i].said = static_cast<Answer::Said>(pick(4));
    // Answers beyond `mark` are to the graded `flare`.
    facts.answers[i].grade = i < 5 ? 0 : static_cast<std::uint32_t>(pick(3));
  }
  for (auto& reading : facts.readings) {
    reading.said = static_cast<ReadingFact::Said>(pick(3));
    reading.value = mbar * 100.0 * (pick(11) - 5);
  }
}

}  // namespace

TEST_CASE("the flat code says what the condition says, for every member") {
  const test::GroundBench bench(rules);
  test::JobBench cards(rules);
  const auto start = cards.facts("readings: [ { date: 2031-04-17 } ]");
  std::mt19937 random(20310417);
  std::size_t yes = 0;
  std::size_t no = 0;
  std::size_t unknown = 0;
  for (unsigned round = 0; round < test::rounds_of(1500); ++round) {
    Rulebase changed = *bench.rules;
    const auto probe = std::get<FindingId>(*changed.find("probe"));
    const ScopeId elements = *changed.unit.find_scope("element");
    const ConditionPtr condition = Maker(*bench.ground, random).condition(4, {elements});
    changed.findings[probe.at()].when = condition;
    const test::GroundBench with(bench, std::move(changed));
    REQUIRE(with.ground);
    evaluation::Evaluator evaluator(with.ground);
    for (int job = 0; job < 5; ++job) {
      auto facts = start;
      fill(facts, random);
      for (std::uint32_t i = 0; i < 5; ++i) {
        facts.answers[with.ground->findings.at(probe.index, MemberId{i})] = {};
      }
      const auto& result = evaluator.evaluate(facts);
      const test::ConditionReferee referee(*with.ground, facts);
      for (std::uint32_t i = 0; i < 5; ++i) {
        const auto expected = referee.truth(*condition, MemberId{i});
        const auto& state = result.findings[with.ground->findings.at(probe.index, MemberId{i})];
        const auto wanted = !expected   ? evaluation::State::unknown
                            : *expected ? evaluation::State::present
                                        : evaluation::State::absent;
        CAPTURE(round);
        CAPTURE(job);
        REQUIRE(test::text_of(state.state) == test::text_of(wanted));
        (expected ? (*expected ? yes : no) : unknown) += 1;
      }
    }
  }
  // All three must be common, or the comparison would prove little.
  CHECK(yes > 2000);
  CHECK(no > 2000);
  CHECK(unknown > 2000);
}

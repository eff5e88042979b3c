#include "evaluation/explanation.h"

#include <algorithm>

#include <fmt/core.h>

#include "evaluation/leaves.h"

namespace slipcase::evaluation {

using grounding::CodeQuestion;
using grounding::GroundRules;
using grounding::Instruction;
using grounding::Operation;

namespace {

/// Collects the facts behind one instruction.
class FactCollector {
 public:
  FactCollector(const Evaluator& evaluator, std::vector<FactUsed>& out)
      : rules_(evaluator.rules()),
        facts_(evaluator.facts()),
        states_(evaluator.current()),
        out_(out) {}

  // Leaves (leaves.h).

  void detail(GroundDetail detail) {
    const DetailFact& fact = facts_.details[detail.at()];
    const auto& declared = rules_.rules->details[rules_.details.origins[detail.at()].declaration];
    std::string said = "not known";
    switch (fact.kind) {
      case DetailFact::Kind::unknown:
        break;
      case DetailFact::Kind::yes_no:
        said = fact.yes ? "yes" : "no";
        break;
      case DetailFact::Kind::word:
        said = declared.words.at(fact.word);
        break;
      case DetailFact::Kind::number:
        said = number(declared, fact.number);
        break;
    }
    out_.push_back({detail, fmt::format("{}: {}", rules_.name_of(detail), said), fact.place});
  }

  /// The newest snapshot for what asks for one, all of them for a trend, newest first.
  void reading(GroundReading reading, rulebase::ReadingFunction function) {
    using Function = rulebase::ReadingFunction;
    const bool one = function == Function::newest || function == Function::as_read;
    const auto origin = rules_.readings.origins[reading.at()];
    const auto& dimension = rules_.rules->readings[origin.declaration].dimension;
    bool any = false;
    for (std::size_t i = facts_.snapshots.size(); i-- > 0 && !(any && one);) {
      const ReadingFact& fact = facts_.reading(reading, i);
      if (fact.said == ReadingFact::Said::nothing) continue;
      any = true;
      const bool known = fact.said == ReadingFact::Said::value;
      const std::string said = known ? units::to_text({fact.value, dimension}) : "not learned";
      out_.push_back({reading, fmt::format("{}: {}", rules_.name_of(reading), said), fact.place});
    }
    if (!any) out_.push_back({reading, rules_.name_of(reading) + ": not read", std::nullopt});
  }

  void event(GroundEvent event) {
    const auto [begin, end] = facts_.occurrences.range(event.at());
    for (const auto* at = begin; at != end; ++at) {
      const EventFact& fact = facts_.events[*at];
      out_.push_back({event, rules_.name_of(fact.event), fact.place});
    }
    if (begin != end) return;
    const char* said = facts_.history[event.at()] ? "never happened" : "not recorded";
    out_.push_back({event, fmt::format("{}: {}", rules_.name_of(event), said), std::nullopt});
  }

  void finding(GroundFinding finding) {
    const FindingState& state = states_.findings[finding.at()];
    const char* said = "not known";
    switch (state.state) {
      case State::absent:
        said = "no";
        break;
      case State::present:
        said = "yes";
        break;
      case State::unknown:
        break;
      case State::left_out:
        said = "left out";
        break;
      case State::set_aside:
        said = "set aside";
        break;
    }
    out_.push_back({finding, fmt::format("{}: {}", rules_.name_of(finding), said), state.said_at});
  }

  void codes(const CodeQuestion& question) {
    for (const auto& [first, last] : question.ranges) {
      bool any = false;
      for (const CodeFact& fact : facts_.codes) {
        if (fact.code < first || fact.code > last || fact.pending != question.pending) continue;
        any = true;
        out_.push_back({fact.code, with_text(fact.code) + ": listed", fact.place});
      }
      if (!any) out_.push_back({first, first.text() + ": not listed", std::nullopt});
    }
  }

 private:
  static std::string number(const rulebase::Detail& declared, double number) {
    if (declared.type == rulebase::Detail::Type::quantity) {
      return units::to_text({number, declared.dimension});
    }
    const auto days = static_cast<std::int64_t>(number / grounding::milliseconds_per_day);
    return units::Date::from_days_since_1970(days).text();
  }

  /// "P0733 (wrong ratio in gear 3)", where the profile has a text.
  [[nodiscard]] std::string with_text(units::TroubleCode code) const {
    const auto& texts = rules_.profile->code_texts;
    const auto text = texts.find(code);
    return text == texts.end() ? code.text() : fmt::format("{} ({})", code.text(), text->second);
  }

  const GroundRules& rules_;
  const JobFacts& facts_;
  const Evaluation& states_;
  std::vector<FactUsed>& out_;
};

bool asks_something(Operation operation) {
  switch (operation) {
    case Operation::detail_is:
    case Operation::detail_yes:
    case Operation::finding_holds:
    case Operation::finding_known:
    case Operation::value_known:
    case Operation::question:
    case Operation::less:
    case Operation::less_equal:
    case Operation::equal:
    case Operation::within:
      return true;
    case Operation::literal:
    case Operation::negate:
    case Operation::both:
    case Operation::either:
    case Operation::at_least:
    case Operation::jump_if_no:
    case Operation::jump_if_yes:
      break;
  }
  return false;
}

GradeExplanation explain_grade(Evaluator& evaluator, grounding::ProgramId id, std::uint32_t grade) {
  const auto& programs = evaluator.rules().programs;
  const auto& program = programs.at(id);
  GradeExplanation explanation;
  explanation.grade = grade;
  explanation.place = program.place;
  explanation.truth = evaluator.conditions().holds(id);
  for (std::uint32_t at = program.begin; at < program.end; ++at) {
    const Instruction& instruction = programs.code[at];
    if (!asks_something(instruction.operation)) continue;
    ConditionPart part{programs.places[at], evaluator.conditions().truth_of(instruction), {}};
    FactCollector collector(evaluator, part.facts);
    visit_leaves_of(programs, instruction, collector);
    explanation.parts.push_back(std::move(part));
  }
  return explanation;
}

}  // namespace

Explanation explain(Evaluator& evaluator, GroundFinding finding) {
  Explanation explanation;
  explanation.finding = finding;
  explanation.state = evaluator.current().findings.at(finding.at());
  explanation.answer = evaluator.facts().answers.at(finding.at());
  const auto& at_least = evaluator.rules().finding_rules.at(finding.at()).at_least;
  for (std::uint32_t i = 0; i < at_least.size(); ++i) {
    if (at_least[i]) explanation.grades.push_back(explain_grade(evaluator, *at_least[i], i + 1));
  }
  return explanation;
}

std::vector<FactUsed> facts_behind(Evaluator& evaluator, grounding::ProgramId condition) {
  std::vector<FactUsed> facts;
  for (const ConditionPart& part : explain_grade(evaluator, condition, 1).parts) {
    for (const FactUsed& fact : part.facts) {
      const bool known = std::any_of(facts.begin(), facts.end(), [&](const FactUsed& other) {
        return other.text == fact.text;
      });
      if (!known) facts.push_back(fact);
    }
  }
  return facts;
}

}  // namespace slipcase::evaluation

#include "evaluation/open_facts.h"

#include <algorithm>

#include "evaluation/leaves.h"

namespace slipcase::evaluation {

using grounding::ProgramId;

namespace {

class Collector {
 public:
  explicit Collector(Evaluator& evaluator)
      : evaluator_(evaluator), rules_(evaluator.rules()), facts_(evaluator.facts()) {}

  void condition(ProgramId id) {
    const auto& programs = rules_.programs;
    const grounding::Program& program = programs.at(id);
    for (std::uint32_t at = program.begin; at < program.end; ++at) part(programs.code[at]);
  }

  std::vector<OpenFact> result() {
    std::sort(found_.begin(), found_.end());
    found_.erase(std::unique(found_.begin(), found_.end()), found_.end());
    return std::move(found_);
  }

  // Leaves (leaves.h).

  void detail(GroundDetail detail) {
    if (facts_.details[detail.at()].kind == DetailFact::Kind::unknown) found_.emplace_back(detail);
  }

  void reading(GroundReading reading, rulebase::ReadingFunction) {
    for (std::size_t s = 0; s < facts_.snapshots.size(); ++s)
      if (facts_.reading(reading, s).said != ReadingFact::Said::nothing) return;
    found_.emplace_back(reading);
  }

  void event(GroundEvent event) {
    const auto [begin, end] = facts_.occurrences.range(event.at());
    if (begin == end && !facts_.history[event.at()]) found_.emplace_back(event);
  }

  void codes(const grounding::CodeQuestion&) { found_.emplace_back(CodesNotRead{}); }

  void finding(GroundFinding finding) {
    const FindingState& state = evaluator_.current().findings[finding.at()];
    if (state.state != State::unknown || state.at_least > 0) return;
    if (!rules_.asks(finding).empty()) {
      found_.emplace_back(finding);
      return;
    }
    for (const auto& grade : rules_.finding_rules[finding.at()].at_least)
      if (grade) condition(*grade);
  }

 private:
  void part(const grounding::Instruction& instruction) {
    if (is_open(instruction)) visit_leaves_of(rules_.programs, instruction, *this);
  }

  bool is_open(const grounding::Instruction& instruction) {
    return evaluator_.conditions().truth_of(instruction) == Truth::unknown;
  }

  Evaluator& evaluator_;
  const grounding::GroundRules& rules_;
  const JobFacts& facts_;
  std::vector<OpenFact> found_;
};

}  // namespace

std::vector<OpenFact> open_facts(Evaluator& evaluator, ProgramId condition) {
  Collector collector(evaluator);
  collector.condition(condition);
  return collector.result();
}

}  // namespace slipcase::evaluation

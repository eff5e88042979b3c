#include "advice/ways.h"

#include <set>

#include "grounding/reach.h"

namespace slipcase::advice {

using grounding::GroundCheck;
using grounding::GroundDetail;
using grounding::GroundFinding;
using grounding::GroundReading;
using grounding::GroundRules;

namespace {

double minutes_to_reach(const rulebase::Rulebase& rules,
                        const std::vector<rulebase::AccessId>& needs,
                        std::set<std::uint32_t>& paid) {
  double minutes = 0.0;
  for (const rulebase::AccessId id : needs) {
    if (!paid.insert(id.index).second) continue;
    const rulebase::Access& access = rules.accesses.at(id.at());
    minutes += access.minutes + minutes_to_reach(rules, access.needs, paid);
  }
  return minutes;
}

class Collector {
 public:
  Collector(const GroundRules& ground, const std::function<bool(GroundReading)>& is_wanted)
      : ground_(ground), is_wanted_(is_wanted) {}

  Given collect(GroundCheck check) {
    const grounding::Origin& origin = ground_.checks.origins.at(check.at());
    const rulebase::Check& declared = ground_.rules->checks.at(origin.declaration);
    if (declared.finding) add_finding(declared.finding->index, origin.member);
    for (const rulebase::AnswerTarget& target : declared.answers)
      for (const auto member : grounding::reached(ground_.rules->unit, target.reach, origin.member))
        add(target, member);
    return std::move(given_);
  }

 private:
  void add_finding(std::uint32_t declaration, std::optional<grounding::MemberId> member) {
    given_.findings.push_back(GroundFinding{ground_.findings.at(declaration, member)});
  }

  void add(const rulebase::AnswerTarget& target, std::optional<grounding::MemberId> member) {
    if (const auto* finding = std::get_if<rulebase::FindingId>(&target.what)) {
      add_finding(finding->index, member);
    } else if (const auto* id = std::get_if<rulebase::ReadingId>(&target.what)) {
      const GroundReading reading{ground_.readings.at(id->index, member)};
      if (!is_wanted_(reading)) return;
      given_.readings.push_back(reading);
      add_users(ground_.dependents.of_reading, reading.index);
    } else {
      const GroundDetail detail{
          ground_.details.at(std::get<rulebase::DetailId>(target.what).index, member)};
      given_.details.push_back(detail);
      add_users(ground_.dependents.of_detail, detail.index);
    }
  }

  void add_users(const grounding::Lists& users, std::uint32_t of) {
    const auto [first, last] = users.range(of);
    for (const auto* item = first; item != last; ++item) {
      if (*item >= ground_.order.size()) continue;  // a `becomes` or a restriction
      const grounding::EvaluationStep& step = ground_.order[*item];
      if (step.kind == grounding::EvaluationStep::Kind::finding)
        given_.findings.push_back(GroundFinding{step.index});
    }
  }

  const GroundRules& ground_;
  const std::function<bool(GroundReading)>& is_wanted_;
  Given given_;
};

}  // namespace

bool is_taken(const evaluation::JobFacts& facts, GroundReading reading) {
  for (std::size_t s = 0; s < facts.snapshots.size(); ++s)
    if (facts.reading(reading, s).said != evaluation::ReadingFact::Said::nothing) return true;
  return false;
}

Given given_by(const GroundRules& ground, GroundCheck check,
               const std::function<bool(GroundReading)>& is_wanted) {
  return Collector(ground, is_wanted).collect(check);
}

Ways::Ways(const GroundRules& ground, const evaluation::JobFacts* facts)
    : ground_(ground),
      findings_(ground.findings.size()),
      readings_(ground.readings.size()),
      details_(ground.details.size()) {
  for (const rulebase::Check& check : ground.rules->checks) {
    std::set<std::uint32_t> paid;
    minutes_.push_back(check.minutes + minutes_to_reach(*ground.rules, check.needs, paid));
  }
  const auto is_open = [facts](GroundReading reading) {
    return facts != nullptr && !is_taken(*facts, reading);
  };
  for (std::uint32_t c = 0; c < ground.checks.size(); ++c) {
    const GroundCheck check{c};
    const Given given = given_by(ground, check, is_open);
    for (const GroundFinding finding : given.findings) offer(check, findings_, finding.index);
    for (const GroundReading reading : given.readings) offer(check, readings_, reading.index);
    for (const GroundDetail detail : given.details) offer(check, details_, detail.index);
  }
}

void Ways::offer(GroundCheck check, Best& list, std::uint32_t at) {
  auto& best = list.at(at);
  if (!best || minutes(check) < minutes(*best)) best = check;
}

}  // namespace slipcase::advice

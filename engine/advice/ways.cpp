#include "advice/ways.h"

#include <set>

#include "grounding/reach.h"

namespace slipcase::advice {

using grounding::GroundCheck;
using grounding::GroundReading;

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

}  // namespace

Ways::Ways(const grounding::GroundRules& ground, const evaluation::JobFacts* facts)
    : ground_(ground),
      facts_(facts),
      findings_(ground.findings.size()),
      readings_(ground.readings.size()),
      details_(ground.details.size()) {
  for (const rulebase::Check& check : ground.rules->checks) {
    std::set<std::uint32_t> paid;
    minutes_.push_back(check.minutes + minutes_to_reach(*ground.rules, check.needs, paid));
  }
  for (std::uint32_t c = 0; c < ground.checks.size(); ++c) {
    const GroundCheck check{c};
    const grounding::Origin& origin = ground.checks.origins[c];
    const rulebase::Check& declared = ground.rules->checks.at(origin.declaration);
    if (declared.finding)
      offer(check, findings_, ground.findings.at(declared.finding->index, origin.member));
    for (const rulebase::AnswerTarget& target : declared.answers) {
      for (const auto member : grounding::reached(ground.rules->unit, target.reach, origin.member))
        add(check, target, member);
    }
  }
}

void Ways::add(GroundCheck check, const rulebase::AnswerTarget& target,
               std::optional<grounding::MemberId> member) {
  if (const auto* finding = std::get_if<rulebase::FindingId>(&target.what)) {
    offer(check, findings_, ground_.findings.at(finding->index, member));
  } else if (const auto* id = std::get_if<rulebase::ReadingId>(&target.what)) {
    const std::uint32_t reading = ground_.readings.at(id->index, member);
    if (taken(GroundReading{reading})) return;
    offer(check, readings_, reading);
    add_users(check, ground_.dependents.of_reading, reading);
  } else {
    const std::uint32_t detail =
        ground_.details.at(std::get<rulebase::DetailId>(target.what).index, member);
    offer(check, details_, detail);
    add_users(check, ground_.dependents.of_detail, detail);
  }
}

void Ways::add_users(GroundCheck check, const grounding::Lists& users, std::uint32_t of) {
  const auto [first, last] = users.range(of);
  for (const auto* item = first; item != last; ++item) {
    if (*item >= ground_.order.size()) continue;  // a `becomes` or a restriction
    const grounding::EvaluationStep& step = ground_.order[*item];
    if (step.kind == grounding::EvaluationStep::Kind::finding) offer(check, findings_, step.index);
  }
}

void Ways::offer(GroundCheck check, Best& list, std::uint32_t at) {
  auto& best = list.at(at);
  if (!best || minutes(check) < minutes(*best)) best = check;
}

bool Ways::taken(GroundReading reading) const {
  if (facts_ == nullptr) return true;
  for (std::size_t s = 0; s < facts_->snapshots.size(); ++s)
    if (facts_->reading(reading, s).said != evaluation::ReadingFact::Said::nothing) return true;
  return false;
}

}  // namespace slipcase::advice

#include "advice/answering.h"

#include <algorithm>
#include <optional>

#include "grounding/reach.h"

namespace slipcase::advice {
namespace {

using grounding::GroundCheck;
using grounding::GroundFinding;
using grounding::GroundRules;
using rulebase::AnswerTarget;

bool feeds(const GroundRules& ground,
           const std::pair<const std::uint32_t*, const std::uint32_t*>& users,
           GroundFinding finding) {
  const auto is_step_of = [&](std::uint32_t item) {
    if (item >= ground.order.size()) return false;
    const auto& step = ground.order[item];
    return step.kind == grounding::EvaluationStep::Kind::finding && step.index == finding.index;
  };
  return std::any_of(users.first, users.second, is_step_of);
}

bool answers(const GroundRules& ground, const AnswerTarget& target,
             std::optional<grounding::MemberId> own, GroundFinding finding) {
  for (const auto member : grounding::reached(ground.rules->unit, target.reach, own)) {
    if (const auto* id = std::get_if<rulebase::FindingId>(&target.what)) {
      if (ground.findings.at(id->index, member) == finding.index) return true;
    } else if (const auto* reading_id = std::get_if<rulebase::ReadingId>(&target.what)) {
      const auto reading = ground.readings.at(reading_id->index, member);
      if (feeds(ground, ground.dependents.of_reading.range(reading), finding)) return true;
    } else {
      const auto detail =
          ground.details.at(std::get<rulebase::DetailId>(target.what).index, member);
      if (feeds(ground, ground.dependents.of_detail.range(detail), finding)) return true;
    }
  }
  return false;
}

bool answers(const GroundRules& ground, GroundCheck check, GroundFinding finding) {
  const auto& origin = ground.checks.origins.at(check.at());
  const rulebase::Check& declared = ground.rules->checks.at(origin.declaration);
  if (declared.finding &&
      ground.findings.at(declared.finding->index, origin.member) == finding.index)
    return true;
  return std::ranges::any_of(declared.answers, [&](const AnswerTarget& target) {
    return answers(ground, target, origin.member, finding);
  });
}

}  // namespace

Answering answering_step(const GroundRules& ground, GroundFinding finding) {
  std::optional<GroundCheck> best;
  double least = 0;
  for (std::uint32_t c = 0; c < ground.checks.size(); ++c) {
    const GroundCheck check{c};
    if (!answers(ground, check, finding)) continue;
    const double minutes = ground.rules->checks.at(ground.checks.origins[c].declaration).minutes;
    if (best && minutes >= least) continue;
    best = check;
    least = minutes;
  }
  if (best) return {ground.name_of(*best), ground.says(*best)};
  return {{}, ground.asks(finding)};
}

}  // namespace slipcase::advice

#include "advice/number_change.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace slipcase::advice {

namespace {

using network::HiddenId;
using network::Network;
using network::Observation;

const void* key_of(const model::LinkLine& line) {
  return std::visit([](const auto* l) -> const void* { return l; }, line);
}

/// Says the same whatever the causes: each window of grades keeps a chance above zero.
void say_nothing(network::Finding& finding) {
  for (std::size_t g = 0; g < finding.leak.size(); ++g)
    finding.leak[g] = *Probability::from_count(1, g + 2);
  for (auto& link : finding.parents)
    std::fill(link.fire.begin(), link.fire.end(), Probability::never());
}

const Observation* find(const std::vector<Observation>& list, network::FindingId finding) {
  const auto at = std::find_if(list.begin(), list.end(),
                               [&](const Observation& o) { return o.finding == finding; });
  return at != list.end() ? &*at : nullptr;
}

}  // namespace

Network changed(const Network& network, const NumberChange& change) {
  Network result = network;
  for (const LinkAt& link : change.cut) {
    if (link.to_finding) {
      auto& fire = result.findings.at(link.child).parents.at(link.position).fire;
      std::fill(fire.begin(), fire.end(), Probability::never());
    } else {
      result.hidden.at(link.child).parents.at(link.position).fire = Probability::never();
    }
  }
  for (const network::FindingId finding : change.forgotten)
    say_nothing(result.findings.at(finding.at()));
  for (const auto& [hidden, rate] : change.own) result.hidden.at(hidden.at()).own = rate;
  return result;
}

std::optional<NumberChange> change_between(const model::RuleNetwork& rules,
                                           const evaluation::Evaluation& before,
                                           const evaluation::Evaluation& after) {
  if (after.possible != before.possible) return std::nullopt;
  const std::vector<Observation> then = model::observations(rules, before);
  const std::vector<Observation> now = model::observations(rules, after);
  for (const Observation& seen : now) {
    const Observation* old = find(then, seen.finding);
    const bool same =
        old != nullptr && old->at_least == seen.at_least && old->at_most == seen.at_most;
    if (!same) return std::nullopt;
  }
  NumberChange change;
  for (const Observation& old : then) {
    if (find(now, old.finding) == nullptr) change.forgotten.push_back(old.finding);
  }
  if (after.becomes == before.becomes) return change;
  for (std::uint32_t c = 0; c < rules.of_cause.size(); ++c) {
    const Probability rate = model::rate_for(rules, after, GroundCause{c});
    if (rate != model::rate_for(rules, before, GroundCause{c}))
      change.own.emplace_back(rules.of_cause[c], rate);
  }
  return change;
}

NumberChanges::NumberChanges(const JobModel& job, const network::Posterior& posterior)
    : job_(job),
      posterior_(posterior),
      observed_(job.network().findings.size(), nullptr),
      skipped_(job.network().hidden.size(), false) {
  for (const Observation& seen : job.observations()) observed_.at(seen.finding.at()) = &seen;
  for (const HiddenId id : posterior.skipped) skipped_.at(id.at()) = true;
  list_links();
}

// The job's network has no links from and to causes that are ruled out; the lines stand beside
// those of the rules.
void NumberChanges::list_links() {
  const model::RuleNetwork& rules = job_.rules();
  const auto gone = [&](HiddenId id) {
    const auto* cause = std::get_if<GroundCause>(&rules.origin.at(id.at()));
    return cause != nullptr && !job_.states().possible.at(cause->at());
  };
  const auto list = [&](const auto& parents, const std::vector<model::LinkLine>& lines,
                        bool to_finding, std::uint32_t child) {
    std::uint32_t position = 0;
    for (std::size_t i = 0; i < parents.size(); ++i) {
      if (gone(parents[i].parent)) continue;
      add_link(lines[i], {to_finding, child, position, parents[i].parent});
      ++position;
    }
  };
  for (std::uint32_t f = 0; f < rules.numbers.findings.size(); ++f)
    list(rules.numbers.findings[f].parents, rules.finding_lines[f], true, f);
  for (std::uint32_t h = 0; h < rules.numbers.hidden.size(); ++h) {
    if (!gone(HiddenId{h})) list(rules.numbers.hidden[h].parents, rules.hidden_lines[h], false, h);
  }
}

void NumberChanges::add_link(const model::LinkLine& line, const LinkAt& link) {
  if (is_active(link)) links_[key_of(line)].push_back(link);
}

/// A link to what nobody looked at moves no chance but that of the causes it makes.
bool NumberChanges::is_active(const LinkAt& link) const {
  return link.to_finding ? observed_.at(link.child) != nullptr : !skipped_.at(link.child);
}

void NumberChanges::forget(network::FindingId finding, NumberChange& change) const {
  if (observed_.at(finding.at()) != nullptr) change.forgotten.push_back(finding);
}

void NumberChanges::without_cause(rulebase::CauseId cause, NumberChange& change) const {
  for (std::uint32_t c = 0; c < job_.ground().causes.size(); ++c) {
    if (job_.ground().causes.origins[c].declaration != cause.index) continue;
    const HiddenId id = job_.hidden(GroundCause{c});
    const network::Hidden& hidden = job_.network().hidden.at(id.at());
    change.own.emplace_back(id, Probability::never());
    for (std::uint32_t p = 0; p < hidden.parents.size(); ++p)
      change.cut.push_back({false, id.index, p, hidden.parents[p].parent});
  }
}

void NumberChanges::without_becomes(const rulebase::Becomes& line, NumberChange& change) const {
  const auto& becomes = job_.ground().becomes;
  for (std::size_t i = 0; i < becomes.size(); ++i) {
    const bool holds = job_.states().becomes[i] == evaluation::Truth::yes;
    if (becomes[i].line != &line || !holds) continue;
    if (!job_.states().possible.at(becomes[i].cause.at())) continue;
    const HiddenId id = job_.hidden(becomes[i].cause);
    const Probability rate = job_.network().hidden.at(id.at()).own;
    change.own.emplace_back(id, rate.with_odds_times(1.0 / becomes[i].times));
  }
}

NumberChange NumberChanges::without(const RuleLine& line) const {
  NumberChange change;
  const auto cut = [&](const void* key) {
    const auto found = links_.find(key);
    if (found != links_.end()) change.cut = found->second;
  };
  if (const auto* cause = std::get_if<rulebase::CauseId>(&line.what)) without_cause(*cause, change);
  if (const auto* becomes = std::get_if<const rulebase::Becomes*>(&line.what))
    without_becomes(**becomes, change);
  if (const auto* link = std::get_if<const rulebase::Link*>(&line.what)) cut(*link);
  if (const auto* made = std::get_if<const rulebase::CauseLink*>(&line.what)) cut(*made);
  if (const auto* flag = std::get_if<const rulebase::Flag*>(&line.what)) cut(*flag);
  if (const auto* finding = std::get_if<rulebase::FindingId>(&line.what)) {
    for (std::uint32_t f = 0; f < job_.ground().findings.size(); ++f) {
      if (job_.ground().findings.origins[f].declaration == finding->index)
        forget(network::FindingId{f}, change);
    }
  }
  return change;
}

/// How much a present parent lowers the chance of what is known to be absent.
Probability NumberChanges::pass_when_absent(const LinkAt& link) const {
  if (!link.to_finding) {
    return job_.network().hidden.at(link.child).parents.at(link.position).fire.inverted();
  }
  const Observation& seen = *observed_.at(link.child);
  const auto& fire = job_.network().findings.at(link.child).parents.at(link.position).fire;
  return seen.at_most < fire.size() ? fire.at(seen.at_most).inverted() : Probability::certain();
}

double NumberChanges::reach(const NumberChange& change) const {
  std::map<HiddenId, double> held_down;
  const auto lose = [&](const LinkAt& link) {
    const double pass = pass_when_absent(link).value();
    double& factor = held_down.try_emplace(link.parent, 1.0).first->second;
    factor = pass > 0.0 ? factor / pass : HUGE_VAL;
  };
  for (const LinkAt& link : change.cut) lose(link);
  for (const network::FindingId finding : change.forgotten) {
    if (observed_.at(finding.at())->at_least > 0) return 1.0;
    const auto& parents = job_.network().findings.at(finding.at()).parents;
    for (std::uint32_t p = 0; p < parents.size(); ++p)
      lose({true, finding.index, p, parents[p].parent});
  }
  for (const auto& [hidden, rate] : change.own) {
    const double before = job_.network().hidden.at(hidden.at()).own.value();
    const double factor = before > 0.0 ? std::max(1.0, rate.value() / before) : HUGE_VAL;
    held_down.try_emplace(hidden, factor);
  }
  double sum = 0.0;
  for (const auto& [hidden, factor] : held_down)
    sum += posterior_.hidden.at(hidden.at()).value() * factor;
  return sum;
}

}  // namespace slipcase::advice

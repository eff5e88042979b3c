#include "advice/workshop.h"

#include <algorithm>

#include "advice/tried.h"
#include "grounding/reach.h"

namespace slipcase::advice {

using decision::OnceSet;
using grounding::MemberId;

namespace {

constexpr double minutes_an_hour = 60.0;

}  // namespace

Workshop::Workshop(const JobModel& job, const evaluation::JobFacts& facts, const ShopCosts& costs)
    : job_(job),
      ground_(job.ground()),
      facts_(facts),
      costs_(costs),
      visit_(ground_, facts, job.states()),
      looked_at_(ground_.findings.size(), false) {
  shared_.comeback = cost(costs_.comeback_minutes, 0);
  // First the repairs: they say which checks are paid for anyway.
  list_repairs();
  list_checks();
  shared_.unsolved = cost(costs_.unsolved_minutes, 0);
  if (shared_.unsolved > 0) return;
  // A complaint that nobody ended must hurt more than any repair, or the best plan would be none.
  shared_.unsolved = 1.5 * dearest_repair();
}

double Workshop::dearest_repair() const {
  double dearest = 0;
  for (const RepairStep& repair : repairs_)
    dearest = std::max(dearest, decision::cost_of(shared_, repair.work, ~shared_.lapses));
  return dearest;
}

double Workshop::cost(double minutes, double money) const {
  if (!costs_.in_money()) return minutes;
  return minutes / minutes_an_hour * costs_.labour_rate + money;
}

// --- what is known and done

bool Workshop::known(GroundFinding finding) const {
  const evaluation::FindingState& state = job_.states().findings.at(finding.at());
  return state.state != evaluation::State::unknown || state.at_least > 0;
}

bool Workshop::happened(rulebase::EventId event, std::optional<MemberId> member) const {
  const auto [first, last] = facts_.occurrences.range(ground_.events.at(event.index, member));
  return first != last;
}

/// The card has every reading and detail that the check would bring.
bool Workshop::recorded(const Given& given) const {
  const auto is_known = [this](grounding::GroundDetail detail) {
    return facts_.details.at(detail.at()).kind != evaluation::DetailFact::Kind::unknown;
  };
  const auto taken = [this](grounding::GroundReading reading) { return is_taken(facts_, reading); };
  return std::ranges::all_of(given.readings, taken) && std::ranges::all_of(given.details, is_known);
}

bool Workshop::done(GroundCheck check) const {
  const auto& origin = ground_.checks.origins.at(check.at());
  const rulebase::Check& declared = ground_.rules->checks.at(origin.declaration);
  if (happened(declared.event, origin.member)) return true;
  if (declared.answers.empty() && !declared.finding) return false;
  const Given brings = given(check);
  if (facts_.own_controller_read && brings_codes(check)) return controllers_missing(check).empty();
  if (!brings.readings.empty()) return recorded(brings) && visit_.not_taken(check).empty();
  return recorded(brings) && answered_by(check).empty();
}

bool Workshop::brings_codes(GroundCheck check) const {
  const auto& origin = ground_.checks.origins.at(check.at());
  if (ground_.rules->checks.at(origin.declaration).finding)
    return false;  // is itself what it tells
  const Given brings = given(check);
  return brings.readings.empty() && brings.details.empty() && !brings.findings.empty() &&
         std::ranges::all_of(brings.findings,
                             [this](GroundFinding f) { return ground_.asks(f).empty(); });
}

std::vector<std::string> Workshop::controllers_missing(GroundCheck check) const {
  std::vector<std::string> missing;
  if (!facts_.own_controller_read || !brings_codes(check)) return missing;
  for (std::size_t c = 0; c < facts_.controllers_read.size(); ++c)
    if (!facts_.controllers_read[c]) missing.push_back(ground_.profile->controllers[c].name);
  return missing;
}

std::vector<grounding::GroundReading> Workshop::still_missing(GroundCheck check) const {
  std::vector<grounding::GroundReading> missing = visit_.not_taken(check);
  if (missing.size() == given(check).readings.size()) missing.clear();
  return missing;
}

bool Workshop::done(GroundRepair repair) const {
  const auto& origin = ground_.repairs.origins.at(repair.at());
  return happened(ground_.rules->repairs.at(origin.declaration).event, origin.member);
}

std::vector<Workshop::Step> Workshop::not_done_before(GroundRepair repair) const {
  std::vector<Step> missing;
  const auto& origin = ground_.repairs.origins.at(repair.at());
  for (const Target& target : ground_.rules->repairs.at(origin.declaration).only_after) {
    for (const auto member : grounding::reached(ground_.rules->unit, target.reach, origin.member)) {
      if (const auto* check = std::get_if<rulebase::CheckId>(&target.what)) {
        const GroundCheck id{ground_.checks.at(check->index, member)};
        if (!done(id)) missing.emplace_back(id);
      } else if (const auto* other = std::get_if<rulebase::RepairId>(&target.what)) {
        const GroundRepair id{ground_.repairs.at(other->index, member)};
        if (!done(id)) missing.emplace_back(id);
      } else {
        const auto event = std::get<rulebase::EventId>(target.what);
        if (!happened(event, member))
          missing.emplace_back(grounding::GroundEvent{ground_.events.at(event.index, member)});
      }
    }
  }
  return missing;
}

// --- checks

/// A reading that is on the card may be taken again: it may not be trusted.
Given Workshop::given(GroundCheck check) const {
  return given_by(ground_, check, [](grounding::GroundReading) { return true; });
}

std::vector<GroundFinding> Workshop::answered_by(GroundCheck check) const {
  std::vector<GroundFinding> findings = given(check).findings;
  std::ranges::sort(findings);
  findings.erase(std::unique(findings.begin(), findings.end()), findings.end());
  std::erase_if(findings, [this](GroundFinding f) { return known(f); });
  return findings;
}

void Workshop::list_checks() {
  for (std::uint32_t c = 0; c < ground_.checks.size(); ++c) list_check(GroundCheck{c});
}

void Workshop::list_check(GroundCheck check) {
  OpenAnswers open = visit_.open_answers(check);
  std::erase_if(open.findings, [this](GroundFinding f) { return known(f); });
  for (const GroundFinding finding : open.looked_at) looked_at_[finding.at()] = true;
  if (open.findings.empty()) return;
  checks_.push_back({.check = check,
                     .work = work_of(check),
                     .answers = std::move(open.findings),
                     .still_missing = std::move(open.still_missing)});
}

OnceSet Workshop::paid_once(GroundCheck check) const {
  const auto place = once_.find({Kind::check, check.index});
  // The last place may be shared with others.
  if (place == once_.end() || place->second + 1 == decision::most_once) return 0;
  return OnceSet{1} << place->second;
}

decision::Work Workshop::work_of(GroundCheck check) {
  const auto& origin = ground_.checks.origins.at(check.at());
  const rulebase::Check& declared = ground_.rules->checks.at(origin.declaration);
  decision::Work work;
  // A check that a repair asks for anyway is paid once, whoever comes first.
  const OnceSet own = paid_once(check);
  if (own == 0) work.cost = cost(declared.minutes, declared.money);
  work.needs = own | pay_access(declared.needs) | pay_before(declared.only_after, origin.member);
  return work;
}

// --- what is paid once, and what each time

OnceSet Workshop::once(Item item, double cost) {
  const auto [place, added] = once_.emplace(item, static_cast<unsigned>(shared_.once.size()));
  if (added) {
    if (shared_.once.size() == decision::most_once) {
      // More different things than any rule base needs: the last ones share a place.
      place->second = decision::most_once - 1;
      shared_.once.back() += cost;
    } else {
      shared_.once.push_back(cost);
    }
  }
  return OnceSet{1} << place->second;
}

OnceSet Workshop::each_time(Item item, double cost) {
  const auto [place, added] =
      each_time_.emplace(item, static_cast<unsigned>(shared_.each_time.size()));
  if (added) {
    if (shared_.each_time.size() == decision::most_once) {
      place->second = decision::most_once - 1;
      shared_.each_time.back() += cost;
    } else {
      shared_.each_time.push_back(cost);
    }
  }
  return OnceSet{1} << place->second;
}

OnceSet Workshop::pay_access(const std::vector<rulebase::AccessId>& needs) {
  OnceSet items = 0;
  for (const rulebase::AccessId id : needs) {
    const rulebase::Access& access = ground_.rules->accesses.at(id.at());
    const OnceSet item = once({Kind::access, id.index}, cost(access.minutes, access.money));
    shared_.lapses |= item;
    items |= item;
    items |= pay_access(access.needs);
  }
  return items;
}

OnceSet Workshop::pay_check(GroundCheck check) {
  const auto& origin = ground_.checks.origins.at(check.at());
  const rulebase::Check& declared = ground_.rules->checks.at(origin.declaration);
  return once({Kind::check, check.index}, cost(declared.minutes, declared.money)) |
         pay_access(declared.needs);
}

OnceSet Workshop::pay_before(const std::vector<Target>& steps, std::optional<MemberId> own) {
  OnceSet items = 0;
  for (const Target& target : steps) {
    for (const auto member : grounding::reached(ground_.rules->unit, target.reach, own)) {
      if (const auto* check = std::get_if<rulebase::CheckId>(&target.what)) {
        const GroundCheck id{ground_.checks.at(check->index, member)};
        if (!done(id)) items |= pay_check(id);
      } else if (const auto* repair = std::get_if<rulebase::RepairId>(&target.what)) {
        const GroundRepair id{ground_.repairs.at(repair->index, member)};
        const rulebase::Repair& declared = ground_.rules->repairs.at(repair->at());
        if (!done(id))
          items |= once({Kind::repair, id.index}, cost(declared.minutes, declared.money)) |
                   pay_access(declared.needs);
      }
    }
  }
  return items;
}

// --- repairs

void Workshop::add_cures(GroundRepair repair, std::vector<network::Cure>& cures) const {
  const std::vector<network::Cure> own = own_cures(repair);
  cures.insert(cures.end(), own.begin(), own.end());
}

std::vector<network::Cure> Workshop::own_cures(GroundRepair repair) const {
  return cures_of(job_.rules(), repair);
}

void Workshop::add_follow_ups(const rulebase::Repair& repair, std::optional<MemberId> own,
                              RepairStep& step) {
  for (const Target& target : repair.follow_with) {
    for (const auto member : grounding::reached(ground_.rules->unit, target.reach, own)) {
      if (const auto* check = std::get_if<rulebase::CheckId>(&target.what)) {
        const rulebase::Check& declared = ground_.rules->checks.at(check->at());
        step.work.follows |= each_time({Kind::check, ground_.checks.at(check->index, member)},
                                       cost(declared.minutes, declared.money));
        step.work.needs |= pay_access(declared.needs);
      } else if (const auto* other = std::get_if<rulebase::RepairId>(&target.what)) {
        const GroundRepair id{ground_.repairs.at(other->index, member)};
        const rulebase::Repair& declared = ground_.rules->repairs.at(other->at());
        step.work.follows |=
            each_time({Kind::repair, id.index}, cost(declared.minutes, declared.money));
        step.work.needs |= pay_access(declared.needs);
        add_cures(id, step.cures);
      }
    }
  }
}

bool Workshop::follows_another(GroundRepair repair) const {
  const std::uint32_t declaration = ground_.repairs.origins.at(repair.at()).declaration;
  return std::ranges::any_of(ground_.rules->repairs, [&](const rulebase::Repair& other) {
    return std::ranges::any_of(other.follow_with, [&](const Target& target) {
      const auto* id = std::get_if<rulebase::RepairId>(&target.what);
      return id != nullptr && id->index == declaration;
    });
  });
}

void Workshop::list_repairs() {
  for (std::uint32_t r = 0; r < ground_.repairs.size(); ++r) {
    const auto& origin = ground_.repairs.origins[r];
    const rulebase::Repair& declared = ground_.rules->repairs.at(origin.declaration);
    RepairStep step{.repair = GroundRepair{r}, .work = {}, .cures = {}};
    add_cures(step.repair, step.cures);
    const double own = cost(declared.minutes, declared.money);
    // What also follows other repairs is paid once where both are in a round.
    if (follows_another(step.repair)) {
      step.work.follows = each_time({Kind::repair, r}, own);
    } else {
      step.work.cost = own;
    }
    step.work.needs = pay_access(declared.needs) | pay_before(declared.only_after, origin.member);
    add_follow_ups(declared, origin.member, step);
    repairs_.push_back(std::move(step));
  }
}

}  // namespace slipcase::advice

#include "advice/visit.h"

#include <algorithm>
#include <set>

namespace slipcase::advice {

using evaluation::Order;
using evaluation::ReadingFact;
using grounding::GroundCheck;
using grounding::GroundFinding;
using grounding::GroundReading;
using grounding::ValueNode;

namespace {

bool no_reading(GroundReading) { return false; }
bool any_reading(GroundReading) { return true; }

template <class Id>
bool contains(const std::vector<Id>& list, Id id) {
  return std::ranges::find(list, id) != list.end();
}

template <class Id>
void sort_each_once(std::vector<Id>& list) {
  std::ranges::sort(list);
  list.erase(std::unique(list.begin(), list.end()), list.end());
}

}  // namespace

std::optional<std::uint32_t> set_aside_by(const grounding::GroundRules& ground,
                                          const evaluation::Evaluation& states,
                                          GroundReading reading, std::uint32_t snapshot) {
  for (std::uint32_t d = 0; d < states.distrusts.size(); ++d)
    if (contains(states.distrusts[d].snapshots, snapshot) &&
        contains(ground.distrusts.at(d).readings, reading))
      return d;
  return std::nullopt;
}

VisitReadings::VisitReadings(const grounding::GroundRules& ground,
                             const evaluation::JobFacts& facts,
                             const evaluation::Evaluation& states)
    : ground_(ground), facts_(facts), states_(states) {
  for (std::uint32_t c = 0; c < ground.checks.size(); ++c)
    for (const GroundReading reading : given_by(ground, GroundCheck{c}, any_reading).readings)
      ++ways_[reading.index];
}

bool VisitReadings::done_on_visit(GroundCheck check) const {
  const auto& origin = ground_.checks.origins.at(check.at());
  const auto event = ground_.rules->checks.at(origin.declaration).event;
  const auto [first, last] =
      facts_.occurrences.range(ground_.events.at(event.index, origin.member));
  return std::any_of(first, last,
                     [this](std::uint32_t at) { return !is_earlier(facts_.event_times.at(at)); });
}

/// On one day a reading counts as before all events, the opening of the job among them.
bool VisitReadings::is_earlier(const evaluation::Moment& moment) const {
  if (moment.day && facts_.now.day) return *moment.day < *facts_.now.day;
  return compare(moment, facts_.now, facts_.event_times) == Order::before;
}

bool VisitReadings::reset_after(GroundReading reading, std::uint32_t snapshot) const {
  return std::ranges::any_of(ground_.resets, [&](const grounding::GroundReset& reset) {
    const auto [first, last] = facts_.occurrences.range(reset.event.at());
    return ground_.resets_reading(reset, reading) &&
           std::any_of(first, last, [&](std::uint32_t event) {
             return facts_.event_order[event * facts_.snapshots.size() + snapshot] != Order::before;
           });
  });
}

bool VisitReadings::is_set_aside(GroundReading reading, std::uint32_t snapshot) const {
  return set_aside_by(ground_, states_, reading, snapshot).has_value();
}

bool VisitReadings::is_taken_now(GroundReading reading) const {
  for (std::uint32_t s = 0; s < facts_.snapshots.size(); ++s)
    if (facts_.reading(reading, s).said != ReadingFact::Said::nothing &&
        !is_earlier(facts_.snapshots[s].when))
      return true;
  return false;
}

VisitReadings::Readings VisitReadings::not_taken(GroundCheck check) const {
  Readings readings = given_by(ground_, check, any_reading).readings;
  std::erase_if(readings, [this](GroundReading reading) { return is_taken_now(reading); });
  return readings;
}

bool VisitReadings::is_read(GroundReading reading) const {
  for (std::uint32_t s = 0; s < facts_.snapshots.size(); ++s) {
    if (facts_.reading(reading, s).said == ReadingFact::Said::nothing) continue;
    if (is_earlier(facts_.snapshots[s].when)) continue;
    if (!reset_after(reading, s) && !is_set_aside(reading, s)) return true;
  }
  return false;
}

std::size_t VisitReadings::earlier_values(GroundReading reading) const {
  std::set<double> odometers;
  for (std::uint32_t s = 0; s < facts_.snapshots.size(); ++s) {
    const auto& odometer = facts_.snapshots[s].when.odometer;
    if (facts_.reading(reading, s).said != ReadingFact::Said::value || !odometer) continue;
    if (is_earlier(facts_.snapshots[s].when) && !reset_after(reading, s) &&
        !is_set_aside(reading, s))
      odometers.insert(*odometer);
  }
  return odometers.size();
}

bool VisitReadings::would_tell(const ValueNode& value, const Readings& fresh) const {
  using Function = rulebase::ReadingFunction;
  if (value.kind == ValueNode::Kind::ratio_error)
    return contains(fresh, GroundReading{value.a}) || contains(fresh, GroundReading{value.other});
  const GroundReading reading{value.a};
  if (value.kind != ValueNode::Kind::reading || !contains(fresh, reading)) return false;
  switch (value.function) {
    case Function::newest:
    case Function::as_read:
      return true;
    case Function::change:
      return earlier_values(reading) >= 1;
    case Function::slope:
    case Function::step:
      return earlier_values(reading) >= 2;
    // What was before a clearing cannot be read any more, and the rest stands in the profile.
    case Function::before_clearing:
    case Function::scatter:
    case Function::high_limit:
    case Function::low_limit:
      return false;
  }
  return false;
}

bool VisitReadings::would_tell(GroundFinding finding, const Readings& fresh) const {
  const std::uint32_t step = ground_.dependents.step_of_finding.at(finding.at());
  const auto [first, last] = ground_.dependents.values_asked.range(step);
  return std::any_of(first, last, [&](std::uint32_t value) {
    return would_tell(ground_.programs.values.at(value), fresh);
  });
}

OpenAnswers VisitReadings::open_answers(GroundCheck check) const {
  const Given beside = given_by(ground_, check, no_reading);
  const Given all = given_by(ground_, check, any_reading);
  Readings fresh;
  bool read = false;
  for (const GroundReading reading : all.readings) {
    if (!is_read(reading)) {
      fresh.push_back(reading);
    } else if (ways_.at(reading.index) == 1) {
      read = true;  // nothing else brings it
    }
  }

  OpenAnswers open;
  for (const GroundFinding finding : all.findings)
    if (!contains(beside.findings, finding) && would_tell(finding, fresh))
      open.findings.push_back(finding);
  const bool done = read || done_on_visit(check);
  if (!done) {
    open.findings.insert(open.findings.end(), beside.findings.begin(), beside.findings.end());
  } else if (!all.readings.empty()) {
    open.looked_at = beside.findings;
  }
  if (done && !read) open.findings.clear();
  if (done) open.still_missing = std::move(fresh);
  sort_each_once(open.findings);
  return open;
}

}  // namespace slipcase::advice

#include "evaluation/history.h"

#include <algorithm>
#include <span>

namespace slipcase::evaluation {

using grounding::CodeQuestion;
using grounding::EventAsked;
using grounding::HappenedQuestion;
using grounding::milliseconds_per_day;
using grounding::SoonAfterQuestion;

namespace {

using Wanted = rulebase::EventUse::Hand;

Truth by_hand(facts::Hand by, Wanted wanted) {
  if (wanted == Wanted::anyone) return Truth::yes;
  if (by == facts::Hand::unsaid) return Truth::unknown;
  return truth((by == facts::Hand::us) == (wanted == Wanted::us));
}

std::span<const std::uint32_t> occurrences(const JobFacts& facts, GroundEvent event) {
  const auto [begin, end] = facts.occurrences.range(event.at());
  return {begin, end};
}

/// A span of less than a day says little where only days are known.
Interval blurred(Interval days, const Moment& from, const Moment& to, double at_most_days) {
  if (at_most_days >= 1.0 || (from.minute && to.minute)) return days;
  return {days.low - 1.0, days.high + 1.0};
}

}  // namespace

Truth History::answer(const grounding::Question& question, AsOf as_of) const {
  if (const auto* happened = std::get_if<HappenedQuestion>(&question)) {
    return answer(*happened, as_of);
  }
  if (const auto* soon = std::get_if<SoonAfterQuestion>(&question)) return answer(*soon, as_of);
  return answer(std::get<CodeQuestion>(question));
}

Truth History::had_happened(std::uint32_t event, AsOf as_of) const {
  if (!as_of) return Truth::yes;
  return is_before(facts_.event_order[event * facts_.snapshots.size() + *as_of]);
}

Truth History::matches(std::uint32_t event, EventAsked asked, AsOf as_of) const {
  return both(had_happened(event, as_of), by_hand(facts_.events[event].by, asked.by));
}

Truth History::recorded(EventAsked asked, AsOf as_of) const {
  Truth any = Truth::no;
  for (const std::uint32_t event : occurrences(facts_, asked.event)) {
    any = either(any, matches(event, asked, as_of));
  }
  return any;
}

Truth History::after_the_last(std::uint32_t event, EventAsked asked, AsOf as_of) const {
  Truth all = Truth::yes;
  for (const std::uint32_t other : occurrences(facts_, asked.event)) {
    const Order order = other == event ? Order::before
                                       : compare(facts_.event_times[event],
                                                 facts_.event_times[other], facts_.event_times);
    all = both(all, either(negation(matches(other, asked, as_of)), is_after(order)));
  }
  return all;
}

Truth History::since(const HappenedQuestion& question, AsOf as_of) const {
  Truth any = Truth::no;
  for (const std::uint32_t event : occurrences(facts_, question.event.event)) {
    any = either(any, both(matches(event, question.event, as_of),
                           after_the_last(event, *question.since, as_of)));
  }
  return any;
}

Truth History::answer(const HappenedQuestion& question, AsOf as_of) const {
  const bool complete = facts_.history[question.event.event.at()];
  if (!question.since) {
    const Truth said = recorded(question.event, as_of);
    // What the card shows is never open: a doubt is no record.
    if (question.on_card) return truth(said == Truth::yes);
    return said == Truth::no && !complete ? Truth::unknown : said;
  }
  const Truth last = recorded(*question.since, as_of);
  const Truth after = last == Truth::no ? Truth::unknown : since(question, as_of);
  if (question.on_card) return truth(last == Truth::yes && after == Truth::yes);
  if (last == Truth::no && facts_.history[question.since->event.at()]) return Truth::unknown;
  if (last == Truth::no) {
    // It may have happened unseen; nothing can have come after it where there is nothing at all.
    const bool nothing = recorded(question.event, as_of) == Truth::no;
    return nothing && complete ? Truth::no : Truth::unknown;
  }
  if (after == Truth::yes) return last;
  return after == Truth::no && complete ? Truth::no : Truth::unknown;
}

Truth History::soon_after(std::uint32_t later, std::uint32_t earlier,
                          const SoonAfterQuestion& question) const {
  const Moment& from = facts_.event_times[earlier];
  const Moment& to = facts_.event_times[later];
  const Truth in_order = is_before(compare(from, to, facts_.event_times));
  if (question.distance) {
    return both(in_order,
                less_equal(distance_between(from, to), Interval::point(question.at_most)));
  }
  const double days = question.at_most / milliseconds_per_day;
  const Interval apart = blurred(days_between(from, to), from, to, days);
  return both(in_order, less_equal(apart, Interval::point(days)));
}

Truth History::answer(const SoonAfterQuestion& question, AsOf as_of) const {
  Truth any = Truth::no;
  for (const std::uint32_t later : occurrences(facts_, question.later.event)) {
    for (const std::uint32_t earlier : occurrences(facts_, question.earlier.event)) {
      if (later == earlier) continue;
      const Truth there =
          both(matches(later, question.later, as_of), matches(earlier, question.earlier, as_of));
      any = either(any, both(there, soon_after(later, earlier, question)));
    }
  }
  if (any != Truth::no) return any;
  // Where both stand on the card, the card decides; else what is not recorded may still have been.
  bool open = false;
  for (const EventAsked& asked : {question.later, question.earlier}) {
    if (recorded(asked, as_of) != Truth::no) continue;
    if (facts_.history[asked.event.at()]) return Truth::no;
    open = true;
  }
  return open ? Truth::unknown : Truth::no;
}

bool History::all_read(const CodeQuestion& question) const {
  const auto read = [&](std::uint32_t controller) { return facts_.controllers_read[controller]; };
  if (question.own && !facts_.own_controller_read) return false;
  return std::ranges::all_of(question.holders, read);
}

Truth History::answer(const CodeQuestion& question) const {
  for (const auto& [first, last] : question.ranges) {
    auto it = std::ranges::lower_bound(facts_.codes, first, {}, &CodeFact::code);
    for (; it != facts_.codes.end() && it->code <= last; ++it) {
      if (it->pending == question.pending) return Truth::yes;
    }
  }
  const bool all_driven = std::ranges::all_of(
      question.driven, [this](const auto& of) { return facts_.driven(of.first, of.second); });
  if (!all_driven) return Truth::unknown;
  return all_read(question) ? Truth::no : Truth::unknown;
}

/// `between(event, moment)` is how far the event lies behind. The last of those that surely were is
/// no older than any of them; one that may have been can only be nearer.
template <class Between>
Interval History::since_the_last(EventAsked asked, AsOf as_of, const Between& between) const {
  Interval since{infinite, infinite};
  for (const std::uint32_t event : occurrences(facts_, asked.event)) {
    const Truth match = matches(event, asked, as_of);
    if (match == Truth::no) continue;
    const Interval behind = between(facts_.event_times[event], moment(as_of));
    since.low = std::min(since.low, std::max(0.0, behind.low));
    if (match == Truth::yes) since.high = std::min(since.high, std::max(0.0, behind.high));
  }
  // Nothing recorded for certain: it may have happened at any time.
  if (recorded(asked, as_of) != Truth::yes && !facts_.history[asked.event.at()]) since.low = 0.0;
  return since;
}

Interval History::time_since(EventAsked asked, AsOf as_of) const {
  return scaled(since_the_last(asked, as_of, days_between), milliseconds_per_day);
}

Interval History::distance_since(EventAsked asked, AsOf as_of) const {
  return since_the_last(asked, as_of, distance_between);
}

}  // namespace slipcase::evaluation

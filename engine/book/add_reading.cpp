#include "book/add_reading.h"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "book/known_sessions.h"
#include "book/messages.h"
#include "evaluation/possible.h"

namespace slipcase::book {

namespace {

using grounding::GroundReading;
using profile::ReadingBounds;

std::string value_text(const grounding::GroundRules& rules, const KnownValue& value) {
  if (!value.value) return std::string(not_learned_text);
  const auto declaration = rules.readings.origins[value.reading.at()].declaration;
  return units::to_text({*value.value, rules.rules->readings[declaration].dimension});
}

/// The line that is reached, the limit before the watch line.
std::optional<double> reached(const ReadingBounds& bounds, double value, ReadingRange& range) {
  const auto beyond = [value](double low, double high) -> std::optional<double> {
    if (value >= high) return high;
    return value <= low ? std::optional(low) : std::nullopt;
  };
  range = ReadingRange::beyond_limit;
  if (const auto limit = beyond(bounds.low_limit, bounds.high_limit)) return limit;
  range = ReadingRange::beyond_watch;
  if (const auto watch = beyond(bounds.low_watch, bounds.high_watch)) return watch;
  range = ReadingRange::inside;
  return std::nullopt;
}

class Comparer {
 public:
  Comparer(const grounding::GroundRules& rules, const evaluation::JobFacts& facts,
           Diagnostics& diagnostics)
      : rules_(rules),
        known_(sessions_of(rules, facts)),
        ordered_(facts.ordered),
        of_card_(known_.size()),
        diagnostics_(diagnostics) {}

  AddedSession add(const ReadSession& session) {
    AddedSession added;
    const auto text = [](const std::optional<facts::Scalar>& scalar) {
      return scalar ? scalar->text : std::string();
    };
    added.date = text(session.texts.date);
    added.odometer = text(session.texts.odometer);
    added.software = text(session.texts.software);
    added.fluid_temperature = text(session.texts.fluid_temperature);
    const KnownSession now = known(session);
    for (const SessionValue& value : session.values) added.values.push_back(add(value, now));
    if (added.is_new()) {
      flag_fall_of_a_day(now);
      flag_reversed_sign(now);
    }
    known_.push_back(now);
    return added;
  }

 private:
  AddedValue add(const SessionValue& value, const KnownSession& now) {
    AddedValue added;
    added.id = rules_.name_of(value.reading);
    added.value = value.text;
    added.number = value.value;
    added.on_card = is_on_card(value, now);
    const auto& bounds = rules_.bounds[value.reading.at()];
    if (value.value && bounds) judge(value, *bounds, added);
    return added;
  }

  void judge(const SessionValue& value, const ReadingBounds& bounds, AddedValue& added) {
    const double number = value.value.value_or(0.0);
    const auto line = reached(bounds, number, added.range);
    if (!line) return;
    const auto declaration = rules_.readings.origins[value.reading.at()].declaration;
    const units::Quantity bound{*line, rules_.rules->readings[declaration].dimension};
    added.bound =
        value.unit == nullptr ? units::to_text(bound) : units::to_text(bound, *value.unit);
    added.at_bound = number == *line;
    if (added.range != ReadingRange::beyond_limit || value.unit == nullptr) return;
    const auto lost = evaluation::lost_sign(units::in_unit({number, bound.dimension}, *value.unit),
                                            *value.unit, bounds);
    if (lost && lost->quantity.value > bounds.low_limit) added.looks_like = lost->meant;
  }

  /// The card has this value in this session; another one that it has is reported.
  bool is_on_card(const SessionValue& value, const KnownSession& now) {
    const KnownValue* other = nullptr;
    const KnownSession* session = nullptr;
    for (const KnownSession& one : known_) {
      if (!is_same_session(one, now)) continue;
      const KnownValue* there = one.find(value.reading);
      if (there == nullptr) continue;
      if (is_same_value(there->value, value.value)) return true;
      other = there;
      session = &one;
    }
    if (other == nullptr) return false;
    diagnostics_
        .add(reading_on_card, value.place,
             fmt::format("`{}` was read as {} in the session of {}, and here it is {}: what was "
                         "read is not overwritten; if it was read again, give the date with its "
                         "time of day, such as `2031-04-17 14:30`",
                         rules_.name_of(value.reading), value_text(rules_, *other), session->when(),
                         value.text))
        .notes.push_back({other->place, "it was read here"});
    return false;
  }

  /// Within one day by the time of day; from day to day the whole card is looked at when it is
  /// read.
  void flag_fall_of_a_day(const KnownSession& now) {
    if (!now.day || !now.minute || !now.odometer) return;
    for (const KnownSession& one : known_) {
      if (one.day != now.day || !one.minute || !one.odometer) continue;
      const bool later = *now.minute > *one.minute;
      const double earlier_has = later ? *one.odometer : *now.odometer;
      const double later_has = later ? *now.odometer : *one.odometer;
      if (one.minute == now.minute || later_has >= earlier_has) continue;
      diagnostics_
          .add(reading_backwards, now.place,
               fmt::format("date and odometer run against each other: {} here, and {} elsewhere",
                           now.when(), one.when()))
          .notes.push_back({one.place, "the other is here"});
      return;
    }
  }

  /// Every value is exactly minus that of the newest session before: no car does that, a tool that
  /// counts the other way does. Fewer than three may be chance.
  void flag_reversed_sign(const KnownSession& now) {
    constexpr std::size_t least = 3;
    if (!ordered_ || of_card_ == 0) return;
    const KnownSession& before = known_[of_card_ - 1];
    const bool is_newer = (now.day && before.day && *now.day >= *before.day) ||
                          (now.odometer && before.odometer && *now.odometer >= *before.odometer);
    std::size_t reversed = 0;
    for (const KnownValue& value : now.values) {
      const KnownValue* there = before.find(value.reading);
      const bool both = there != nullptr && there->value && value.value;
      if (!both || (*there->value == 0.0 && *value.value == 0.0)) continue;
      if (!is_same_value(-*there->value, value.value)) return;
      ++reversed;
    }
    if (!is_newer || reversed < least) return;
    diagnostics_
        .add(reading_sign_reversed, now.place,
             fmt::format("each of {} values is exactly minus what was read in the session of {}: "
                         "does this tool show its numbers with the sign reversed? Then say `sign: "
                         "reversed` of its columns",
                         reversed, before.when()))
        .notes.push_back({before.place, "the session is here"});
  }

  const grounding::GroundRules& rules_;
  std::vector<KnownSession> known_;
  bool ordered_;
  std::size_t of_card_;
  Diagnostics& diagnostics_;
};

using Entries = std::vector<std::pair<std::string, CardValue>>;

/// `fill_pressure: { K1: 40 mbar }`; a reading of the whole unit stands alone.
void put(const grounding::GroundRules& rules, const SessionValue& value, Entries& entries) {
  const auto& origin = rules.readings.origins[value.reading.at()];
  const auto& header = rules.rules->readings[origin.declaration].header;
  if (!header.scope || !origin.member) {
    entries.emplace_back(header.name, CardValue::of(value.text));
    return;
  }
  const std::string& member = rules.rules->unit.scope(*header.scope).members[origin.member->at()];
  auto at = std::ranges::find(entries, header.name, &Entries::value_type::first);
  if (at == entries.end()) {
    entries.emplace_back(header.name, CardValue::map({}));
    at = entries.end() - 1;
  }
  at->second.entries.emplace_back(member, CardValue::of(value.text));
}

CardChange change_for(const grounding::GroundRules& rules, const ReadSession& session,
                      const AddedSession& added) {
  Entries entries;
  const auto put_text = [&entries](const char* key, const std::string& text) {
    if (!text.empty()) entries.emplace_back(key, CardValue::of(text));
  };
  put_text("date", added.date);
  put_text("odometer", added.odometer);
  put_text("software", added.software);
  put_text("fluid_temperature", added.fluid_temperature);
  for (std::size_t i = 0; i < session.values.size(); ++i)
    if (!added.values[i].on_card) put(rules, session.values[i], entries);
  return {CardChange::Kind::add, {"readings"}, CardValue::map(std::move(entries))};
}

}  // namespace

std::vector<AddedSession> compare_with_card(const grounding::GroundRules& rules,
                                            const evaluation::JobFacts& facts,
                                            const std::vector<ReadSession>& sessions,
                                            Diagnostics& diagnostics) {
  Comparer comparer(rules, facts, diagnostics);
  std::vector<AddedSession> added;
  added.reserve(sessions.size());
  for (const ReadSession& session : sessions) added.push_back(comparer.add(session));
  return added;
}

std::vector<CardChange> changes_for(const grounding::GroundRules& rules,
                                    const std::vector<ReadSession>& sessions,
                                    std::span<const AddedSession> added) {
  std::vector<CardChange> changes;
  for (std::size_t i = 0; i < sessions.size(); ++i)
    if (added[i].is_new()) changes.push_back(change_for(rules, sessions[i], added[i]));
  return changes;
}

}  // namespace slipcase::book

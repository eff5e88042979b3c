#include "book/known_sessions.h"

#include <algorithm>
#include <cmath>

namespace slipcase::book {

namespace {

// Of two spellings of one value, such as 40 mbar and 0.04 bar, each is rounded for itself.
constexpr double rounding = 1e-9;

bool is_close(double a, double b) {
  return std::abs(a - b) <= rounding * std::max({1.0, std::abs(a), std::abs(b)});
}

}  // namespace

const KnownValue* KnownSession::find(grounding::GroundReading reading) const {
  const auto found = std::ranges::find(values, reading, &KnownValue::reading);
  return found == values.end() ? nullptr : &*found;
}

std::string KnownSession::when() const {
  std::string text;
  if (day) text = units::Moment{units::Date::from_days_since_1970(*day), minute}.text();
  if (odometer)
    text +=
        (text.empty() ? "" : ", ") + units::to_text({*odometer, units::of(units::Base::distance)});
  return text;
}

std::vector<KnownSession> sessions_of(const grounding::GroundRules& rules,
                                      const evaluation::JobFacts& facts) {
  using Said = evaluation::ReadingFact::Said;
  std::vector<KnownSession> sessions;
  for (std::size_t s = 0; s < facts.snapshots.size(); ++s) {
    const auto& snapshot = facts.snapshots[s];
    KnownSession session{
        snapshot.when.day, snapshot.when.minute, snapshot.when.odometer, {}, snapshot.place};
    for (std::uint32_t r = 0; r < rules.readings.size(); ++r) {
      const auto& fact = facts.reading(grounding::GroundReading{r}, s);
      if (fact.said == Said::nothing) continue;
      KnownValue value{grounding::GroundReading{r}, {}, fact.place.value_or(snapshot.place)};
      if (fact.said == Said::value) value.value = fact.value;
      session.values.push_back(value);
    }
    sessions.push_back(std::move(session));
  }
  return sessions;
}

KnownSession known(const ReadSession& session) {
  KnownSession result;
  if (session.moment) {
    result.day = session.moment->date.days_since_1970();
    result.minute = session.moment->minute;
  }
  if (session.odometer) result.odometer = session.odometer->value;
  for (const SessionValue& value : session.values)
    result.values.push_back({value.reading, value.value, value.place});
  if (session.texts.odometer) result.place = session.texts.odometer->place;
  if (session.texts.date) result.place = session.texts.date->place;
  return result;
}

bool is_same_session(const KnownSession& a, const KnownSession& b) {
  const bool both_dated = a.day && b.day;
  const bool both_driven = a.odometer && b.odometer;
  if (both_dated && (a.day != b.day || a.minute != b.minute)) return false;
  if (both_driven && !is_close(*a.odometer, *b.odometer)) return false;
  return both_dated || both_driven;
}

bool is_same_value(const std::optional<double>& a, const std::optional<double>& b) {
  if (!a || !b) return a.has_value() == b.has_value();
  return is_close(*a, *b);
}

}  // namespace slipcase::book

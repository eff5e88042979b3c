#include "book/series.h"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "units/date.h"
#include "units/quantity.h"

namespace slipcase::book {

namespace {

using evaluation::Moment;
using evaluation::Order;
using evaluation::ReadingFact;
using grounding::GroundReading;
using Said = ReadingFact::Said;

class Cutter {
 public:
  Cutter(const History& history, GroundReading reading) : history_(history), reading_(reading) {
    const auto& ground = history.ground;
    for (const auto& reset : ground.resets) {
      if (!ground.resets_reading(reset, reading)) continue;
      const auto [first, last] = history.facts.occurrences.range(reset.event.at());
      resets_.insert(resets_.end(), first, last);
    }
    std::ranges::sort(resets_);
    resets_.erase(std::unique(resets_.begin(), resets_.end()), resets_.end());
  }

  std::vector<Stretch> run() {
    list_.emplace_back();
    for (std::uint32_t s = 0; s < history_.facts.snapshots.size(); ++s) {
      const ReadingFact& fact = history_.facts.reading(reading_, s);
      if (fact.said == Said::nothing) continue;
      if (last_) cut(between(*last_, s));
      last_ = s;
      if (fact.said == Said::not_learned) {
        not_learned(s);
      } else {
        list_.back().values.push_back(value(s, fact.value));
      }
    }
    if (last_) cut(since(*last_));
    return std::move(list_);
  }

 private:
  [[nodiscard]] Order order(std::uint32_t event, std::uint32_t snapshot) const {
    return history_.facts.event_order[event * history_.facts.snapshots.size() + snapshot];
  }
  [[nodiscard]] const Moment& when(std::uint32_t snapshot) const {
    return history_.facts.snapshots[snapshot].when;
  }

  void add_event(Stretch& cut, std::uint32_t event, bool surely) const {
    const std::string at = says_when(history_.facts.event_times[event], false);
    const auto day = at.substr(0, at.find(','));
    const std::string says = says_event(history_, event);
    cut.split_by.push_back(says + (day.empty() ? "" : ", " + day));
    if (cut.since.empty()) cut.since = day.empty() ? says : day;
    cut.split_surely = cut.split_surely && surely;
    if (!cut.split_at) cut.split_at = near_odometer(history_.facts.event_times[event]);
  }

  /// An empty list of reasons: nothing separates the two.
  [[nodiscard]] Stretch between(std::uint32_t before, std::uint32_t after) const {
    Stretch cut;
    for (const std::uint32_t event : resets_) {
      const Order older = order(event, before);
      const Order newer = order(event, after);
      if (older == Order::before || newer == Order::after) continue;
      add_event(cut, event, older == Order::after && newer == Order::before);
    }
    const std::string then = software_of(history_, before);
    const std::string now = software_of(history_, after);
    if (then != now)
      cut.split_by.push_back(fmt::format("software {} -> {}", then.empty() ? "not said" : then,
                                         now.empty() ? "not said" : now));
    const bool placed = when(before).odometer && when(after).odometer;
    if (placed && when(before).stretch != when(after).stretch)
      cut.split_by.emplace_back("the odometer falls");
    if (cut.since.empty() && !cut.split_by.empty()) cut.since = cut.split_by.front();
    if (placed && !cut.split_at)
      cut.split_at = (*when(before).odometer + *when(after).odometer) / 2;
    return cut;
  }

  [[nodiscard]] Stretch since(std::uint32_t last) const {
    Stretch cut;
    for (const std::uint32_t event : resets_)
      if (order(event, last) != Order::before)
        add_event(cut, event, order(event, last) == Order::after);
    return cut;
  }

  /// What follows one that holds nothing takes its place, with both reasons.
  void cut(Stretch cut) {
    if (cut.split_by.empty()) return;
    if (list_.back().values.empty()) {
      for (std::string& reason : cut.split_by)
        if (list_.size() > 1) list_.back().split_by.push_back(std::move(reason));
      return;
    }
    list_.push_back(std::move(cut));
  }

  void not_learned(std::uint32_t snapshot) {
    Stretch cut_here;
    const std::string at = says_when(when(snapshot), false);
    cut_here.split_by.push_back("not learned, " + at.substr(0, at.find(',')));
    cut_here.since = cut_here.split_by.front();
    cut_here.split_at = near_odometer(when(snapshot));
    cut(std::move(cut_here));
  }

  [[nodiscard]] SeriesValue value(std::uint32_t snapshot, double number) const {
    return {snapshot, number, when(snapshot).odometer, aside(snapshot)};
  }

  [[nodiscard]] std::string aside(std::uint32_t snapshot) const {
    const auto& distrusts = history_.ground.distrusts;
    for (std::uint32_t d = 0; d < history_.states.distrusts.size(); ++d) {
      // The others hang on codes and answers, which belong to one visit: see AsideThen.
      const auto& declared = history_.ground.rules->distrusts.at(distrusts[d].declaration);
      if (!declared.asked_per_snapshot) continue;
      const bool held = std::ranges::count(history_.states.distrusts[d].snapshots, snapshot) > 0;
      if (held && std::ranges::count(distrusts[d].readings, reading_) > 0) return declared.because;
    }
    const auto then =
        history_.aside_then.find({history_.facts.snapshots[snapshot].place, reading_.index});
    if (then != history_.aside_then.end()) return then->second;
    if (!when(snapshot).odometer) return "the cards give no odometer for it";
    if (!when(snapshot).stretch) return "the odometer falls, and it is open on which side this was";
    return {};
  }

  const History& history_;
  GroundReading reading_;
  std::vector<std::uint32_t> resets_;
  std::vector<Stretch> list_;
  std::optional<std::uint32_t> last_;
};

}  // namespace

std::vector<Stretch> stretches(const History& history, GroundReading reading) {
  return Cutter(history, reading).run();
}

std::string says_when(const Moment& moment, bool miles) {
  std::string text;
  if (moment.day) text = units::Date::from_days_since_1970(*moment.day).text();
  if (!moment.odometer) return text;
  const units::Unit& unit = *units::find_unit(miles ? "miles" : "km");
  // What was written in the other unit has decimals that nobody read.
  const double whole = std::round(units::in_unit({*moment.odometer, unit.dimension}, unit));
  const units::Quantity odometer = units::to_quantity(whole, unit);
  return text + (text.empty() ? "" : ", ") + units::to_text(odometer, unit);
}

std::optional<double> near_odometer(const Moment& moment) {
  if (moment.odometer) return moment.odometer;
  const double middle = (moment.odometers.low + moment.odometers.high) / 2.0;
  return std::isfinite(middle) ? std::optional(middle) : std::nullopt;
}

std::string says_event(const History& history, std::uint32_t event) {
  for (const auto& done : history.facts.repairs)
    if (done.event == event) return history.ground.says(done.repair);
  return history.ground.says(history.facts.events[event].event);
}

std::string software_of(const History& history, std::uint32_t snapshot) {
  const auto& read = history.card.readings.at(history.facts.snapshots[snapshot].on_card);
  return read.software ? read.software->text : std::string();
}

bool in_miles(const SourceSet& sources, const facts::JobCard& card) {
  const auto& place = card.vehicle.odometer_place;
  const std::string_view text = place ? sources.text_at(*place) : sources.text(card.place.source);
  return text.find("mile") != std::string_view::npos;
}

}  // namespace slipcase::book

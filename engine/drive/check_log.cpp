#include "drive/check_log.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "drive/gear_track.h"
#include "drive/learning_events.h"
#include "drive/manoeuvre_counts.h"

namespace slipcase::drive {

namespace {

using profile::Manoeuvre;

constexpr double mostly = 0.5;              // of the time
constexpr double top_share = 0.8;           // of the driven time; common practice, no source
constexpr double slowest_step = 505.0;      // ms between two rows: two a second, and some jitter
constexpr double longest_drive = 86'400.0;  // s; a day
constexpr double least_pedal = 0.01;
constexpr double least_driven = 60.0;   // s, before a pedal that never moves is strange
constexpr double deadly_fluid = 150.0;  // °C; common practice, no source

/// Stops that the procedure wants at the end of rolling down, not of an engagement from neutral.
bool is_stop(const Manoeuvre& manoeuvre) {
  return manoeuvre.standing && manoeuvre.hold && manoeuvre.path.size() > 2;
}

class LogCheck {
 public:
  LogCheck(const DriveLog& log, const profile::Profile& unit, const profile::Procedure& procedure)
      : log_(log),
        unit_(unit),
        procedure_(procedure),
        track_(track_gears(log, unit, procedure.standstill)),
        rows_(log, procedure) {}

  DriveCheck run() {
    const auto events = learning_events(log_, track_, rows_, unit_, procedure_);
    describe();
    measure_time();
    measure_stops();
    result_.elements = count_elements(events, log_, unit_, procedure_);
    result_.manoeuvres = count_manoeuvres(events, track_, rows_, log_, unit_, procedure_);
    result_.counts_reached =
        std::ranges::all_of(result_.elements, &ElementEvents::enough) &&
        std::ranges::all_of(result_.manoeuvres, [](const auto& one) { return one.missing() == 0; });
    add_signs(events.empty());
    add_signs_of_units();
    result_.complete = result_.counts_reached && std::ranges::none_of(result_.signs, rules_out);
    return std::move(result_);
  }

 private:
  void describe() {
    result_.procedure = procedure_.name;
    result_.title = procedure_.title;
    result_.note = procedure_.note;
    result_.log = log_.name;
    result_.rows = log_.rows();
    result_.gear_from_speeds = track_.from_speeds;
    result_.open_engagements = track_.open_engagements;
    if (procedure_.fluid) result_.fluid = DriveRange{procedure_.fluid->low, procedure_.fluid->high};
    for (const Manoeuvre& one : procedure_.manoeuvres)
      result_.takes += one.takes.value_or(0.0) / 1000.0 * one.repeats;
    for (const std::size_t row : rows_.gaps()) {
      result_.gaps.push_back(
          {log_.time[row - 1] / 1000.0, log_.time[row] / 1000.0, log_.line[row]});
    }
  }

  /// At least one cell of each column has a value.
  void measure_values() {
    constexpr double none = std::numeric_limits<double>::infinity();
    result_.fluid_seen = {none, -none};
    for (const double value : log_.fluid) {
      if (std::isnan(value)) continue;
      result_.fluid_seen.low = std::min(result_.fluid_seen.low, value);
      result_.fluid_seen.high = std::max(result_.fluid_seen.high, value);
    }
    for (const double value : log_.pedal) {
      if (!std::isnan(value)) result_.pedal_seen = std::max(result_.pedal_seen, value);
    }
  }

  /// Each row stands for the time until the next; nothing is known of gaps.
  void measure_time() {
    measure_values();
    result_.duration = (log_.time.back() - log_.time.front()) / 1000.0;
    auto gap = rows_.gaps().begin();
    for (std::size_t row = 0; row + 1 < log_.rows(); ++row) {
      if (gap != rows_.gaps().end() && *gap == row + 1) {
        ++gap;
        continue;
      }
      const double time = (log_.time[row + 1] - log_.time[row]) / 1000.0;
      if (log_.speed[row] > procedure_.standstill) result_.driven += time;
      if (std::isnan(log_.fluid[row])) result_.fluid_unknown += time;
      if (!procedure_.fluid || procedure_.fluid->holds(log_.fluid[row])) result_.in_window += time;
    }
    for (const Stretch& stretch : track_.stretches) {
      if (is_top(stretch.gear))
        result_.in_top_gears += (log_.time[stretch.end - 1] - log_.time[stretch.begin]) / 1000.0;
    }
  }

  /// One of the two highest forward gears.
  [[nodiscard]] bool is_top(GearCode gear) const {
    if (gear == neutral_of(unit_)) return false;
    const double ratio = unit_.gears[static_cast<std::size_t>(gear)].ratio;
    const auto higher = std::ranges::count_if(unit_.gears, [&](const profile::Gear& other) {
      return other.ratio > 0.0 && other.ratio < ratio;
    });
    return ratio > 0.0 && higher < 2;
  }

  void measure_stops() {
    for (const Manoeuvre& one : procedure_.manoeuvres) {
      if (!is_stop(one)) continue;
      result_.needed_stop = std::max(result_.needed_stop, *one.hold / 1000.0);
      Manoeuvre at_any_temperature = one;  // that it was cold is said by itself
      at_any_temperature.fluid.reset();
      for (const Stretch& stretch : track_.stretches) {
        if (gear_name(unit_, stretch.gear) != one.path.back()) continue;
        result_.longest_stop = std::max(result_.longest_stop,
                                        rows_.held(at_any_temperature, stretch).longest / 1000.0);
      }
    }
  }

  void add(bool there, DriveSign sign) {
    if (there) result_.signs.push_back(sign);
  }

  void add_signs(bool no_shifts) {
    const bool outside = procedure_.fluid && result_.in_window <= 0.0;
    const bool cold = outside && result_.fluid_seen.high < procedure_.fluid->low;
    add(cold, DriveSign::never_warm);
    add(outside && !cold, DriveSign::never_in_window);
    add(!outside && result_.in_window < mostly * result_.duration, DriveSign::mostly_outside);
    add(no_shifts, DriveSign::no_shifts);
    add(result_.longest_stop < result_.needed_stop, DriveSign::no_stop);
    add(result_.driven > 0.0 && result_.in_top_gears > top_share * result_.driven,
        DriveSign::top_gears_only);
    add(result_.duration < mostly * result_.takes, DriveSign::short_drive);
    add(result_.fluid_unknown > 0.0, DriveSign::fluid_gaps);
    add(rows_.usual_step() > slowest_step, DriveSign::slow_log);
  }

  /// What a column mapped in the wrong unit looks like, where it is not plainly impossible.
  void add_signs_of_units() {
    add(result_.duration > longest_drive, DriveSign::lasts_days);
    add(result_.pedal_seen < least_pedal && result_.driven > least_driven, DriveSign::pedal_asleep);
    add(result_.fluid_seen.high > deadly_fluid, DriveSign::fluid_deadly);
  }

  const DriveLog& log_;
  const profile::Profile& unit_;
  const profile::Procedure& procedure_;
  GearTrack track_;
  LogRows rows_;
  DriveCheck result_;
};

}  // namespace

DriveCheck check_log(const DriveLog& log, const profile::Profile& unit,
                     const profile::Procedure& procedure) {
  return LogCheck(log, unit, procedure).run();
}

}  // namespace slipcase::drive

#include "drive/learning_events.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

namespace slipcase::drive {

namespace {

using profile::Manoeuvre;

// Numbers of this file are invented in the right order of size; docs/learning-drive.md tells them.
constexpr double about = 500.0;           // ms before and behind a shift that are looked at
constexpr double longest_shift = 3000.0;  // ms; more and something else lay between the two gears
constexpr double least_gap = 1000.0;      // ms
constexpr double gap_steps = 5.0;

constexpr Faults outside = fault(NotCounted::not_in_procedure);

/// Lowest and highest of some rows, of what is known.
struct Reach {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
  bool is_whole = true;  // known in each row
};
Reach reach_of(const std::vector<double>& values, std::size_t first, std::size_t last) {
  Reach reach;
  for (std::size_t row = first; row <= last; ++row) {
    const double value = values[row];
    if (std::isnan(value)) {
      reach.is_whole = false;
    } else {
      reach.low = std::min(reach.low, value);
      reach.high = std::max(reach.high, value);
    }
  }
  return reach;
}

struct WindowFaults {
  NotCounted below;
  NotCounted above;
  NotCounted unknown;
};
constexpr WindowFaults of_fluid{NotCounted::too_cold, NotCounted::too_hot,
                                NotCounted::fluid_not_logged};
constexpr WindowFaults of_pedal{NotCounted::too_little_pedal, NotCounted::too_much_pedal,
                                NotCounted::not_logged};
constexpr WindowFaults of_speed{NotCounted::too_slow, NotCounted::too_fast, NotCounted::not_logged};

Faults against(const std::optional<profile::Window>& window, const Reach& reach,
               const WindowFaults& named) {
  if (!window) return 0;
  return (reach.low < window->low ? fault(named.below) : 0U) |
         (reach.high > window->high ? fault(named.above) : 0U) |
         (reach.is_whole ? 0U : fault(named.unknown));
}

bool is_within(const std::optional<profile::Window>& window, double value) {
  return !window || window->holds(value);
}

/// The place of a gear on the path.
std::optional<std::size_t> place_on(const Manoeuvre& manoeuvre, const std::string& gear) {
  const auto found = std::ranges::find(manoeuvre.path, gear);
  if (found == manoeuvre.path.end()) return std::nullopt;
  return static_cast<std::size_t>(found - manoeuvre.path.begin());
}

/// Whether a shift is a part of the manoeuvre, and whether it is the one that it ends with. A
/// controller may leave out gears of the path.
struct Part {
  bool is_part = false;
  bool is_last = false;
};
Part part_of(const Manoeuvre& manoeuvre, const profile::Shift& shift, profile::MemberId id) {
  if (manoeuvre.path.empty()) {
    const bool is_one = std::ranges::find(manoeuvre.shifts, id) != manoeuvre.shifts.end();
    return {is_one, is_one};
  }
  const auto from = place_on(manoeuvre, shift.from);
  const auto to = place_on(manoeuvre, shift.to);
  if (!from || !to || *to <= *from) return {};
  return {true, *to + 1 == manoeuvre.path.size()};
}

class EventFinder {
 public:
  EventFinder(const DriveLog& log, const GearTrack& track, const LogRows& rows,
              const profile::Profile& unit, const profile::Procedure& procedure)
      : log_(log), track_(track), rows_(rows), unit_(unit), procedure_(procedure) {}

  std::vector<ShiftEvent> run() {
    std::vector<ShiftEvent> events;
    for (std::size_t i = 1; i < track_.stretches.size(); ++i) {
      ShiftEvent event = between(i);
      judge(event);
      events.push_back(std::move(event));
    }
    return events;
  }

 private:
  [[nodiscard]] ShiftEvent between(std::size_t i) const {
    const Stretch& before = track_.stretches[i - 1];
    const Stretch& after = track_.stretches[i];
    ShiftEvent event{before.gear, after.gear, before.end - 1, after.begin, i, {}, {}};
    if (log_.time[event.first_row] - log_.time[event.last_row] > longest_shift) return event;
    const std::string from = gear_name(unit_, before.gear);
    const std::string to = gear_name(unit_, after.gear);
    for (std::uint32_t s = 0; s < unit_.shifts.size(); ++s) {
      if (unit_.shifts[s].from == from && unit_.shifts[s].to == to) event.shift = {s};
    }
    return event;
  }

  void judge(ShiftEvent& event) const {
    for (const Manoeuvre& manoeuvre : procedure_.manoeuvres) {
      event.faults.push_back(faults_for(manoeuvre, event));
    }
  }

  [[nodiscard]] Faults faults_for(const Manoeuvre& manoeuvre, const ShiftEvent& event) const {
    if (!event.shift) return outside;
    const Part part = part_of(manoeuvre, unit_.shifts[event.shift->at()], *event.shift);
    if (!part.is_part) return outside;
    Faults faults = rows_.about_shift(manoeuvre, event);
    if (!part.is_last || !manoeuvre.hold) return faults;
    const LogRows::Held held = rows_.held(manoeuvre, track_.stretches[event.stretch]);
    if (held.longest >= *manoeuvre.hold) return faults;
    return faults |
           fault(held.fluid_missing ? NotCounted::fluid_not_logged : NotCounted::hold_too_short);
  }

  const DriveLog& log_;
  const GearTrack& track_;
  const LogRows& rows_;
  const profile::Profile& unit_;
  const profile::Procedure& procedure_;
};

}  // namespace

NotCounted first_of(Faults faults) { return static_cast<NotCounted>(std::countr_zero(faults)); }

LogRows::LogRows(const DriveLog& log, const profile::Procedure& procedure)
    : log_(log), procedure_(procedure) {
  std::vector<double> steps(log.rows() - 1);
  for (std::size_t i = 0; i < steps.size(); ++i) steps[i] = log.time[i + 1] - log.time[i];
  auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  step_ = *middle;
  const double longest = std::max(least_gap, gap_steps * step_);
  for (std::size_t i = 1; i < log.rows(); ++i) {
    if (log.time[i] - log.time[i - 1] > longest) gaps_.push_back(i);
  }
}

bool LogRows::has_gap(std::size_t first, std::size_t last) const {
  const auto next = std::ranges::upper_bound(gaps_, first);
  return next != gaps_.end() && *next <= last;
}

Faults LogRows::about_shift(const Manoeuvre& manoeuvre, const ShiftEvent& event) const {
  const auto row_at = [&](double time) {
    return static_cast<std::size_t>(std::ranges::lower_bound(log_.time, time) - log_.time.begin());
  };
  const std::size_t first = std::min(row_at(log_.time[event.last_row] - about), event.last_row);
  const std::size_t behind = row_at(log_.time[event.first_row] + about);
  const std::size_t last = std::max(std::min(behind, log_.rows() - 1), event.first_row);
  Faults faults = has_gap(first, last) ? fault(NotCounted::log_gap) : 0U;
  const Reach pedal = reach_of(log_.pedal, first, last);
  faults |= against(manoeuvre.fluid, reach_of(log_.fluid, first, last), of_fluid);
  faults |= against(manoeuvre.pedal, pedal, of_pedal);
  faults |= against(manoeuvre.speed, reach_of(log_.speed, first, last), of_speed);
  if (!pedal.is_whole) faults |= fault(NotCounted::not_logged);  // it may have moved
  if (pedal.high - pedal.low > procedure_.steady_pedal) faults |= fault(NotCounted::pedal_moved);
  return faults;
}

bool LogRows::holds(const Manoeuvre& manoeuvre, std::size_t row) const {
  const double speed = log_.speed[row];
  const bool at_speed =
      manoeuvre.standing ? speed <= procedure_.standstill : is_within(manoeuvre.speed, speed);
  return at_speed && is_within(manoeuvre.pedal, log_.pedal[row]) &&
         is_within(manoeuvre.fluid, log_.fluid[row]);
}

LogRows::Held LogRows::held(const Manoeuvre& manoeuvre, const Stretch& stretch) const {
  Held held;
  bool holding = false;
  double since = 0.0;
  const auto end_run = [&](double until) {
    if (!holding) return;
    const double time = until - since;
    held.longest = std::max(held.longest, time);
    if (manoeuvre.hold) held.whole += static_cast<std::size_t>(time / *manoeuvre.hold);
    holding = false;
  };
  for (std::size_t row = stretch.begin; row < stretch.end; ++row) {
    const bool behind_gap = row > stretch.begin && has_gap(row - 1, row);
    if (behind_gap) end_run(log_.time[row - 1]);
    held.fluid_missing |= manoeuvre.fluid.has_value() && std::isnan(log_.fluid[row]);
    if (!holds(manoeuvre, row)) {
      // The row before was the last that held.
      if (row > 0) end_run(log_.time[row - 1]);
    } else if (!holding) {
      holding = true;
      since = log_.time[row];
    }
  }
  end_run(log_.time[stretch.end - 1]);
  return held;
}

std::vector<ShiftEvent> learning_events(const DriveLog& log, const GearTrack& track,
                                        const LogRows& rows, const profile::Profile& unit,
                                        const profile::Procedure& procedure) {
  return EventFinder(log, track, rows, unit, procedure).run();
}

}  // namespace slipcase::drive

#include "report/drive_words.h"

#include <cmath>

#include <fmt/core.h>

namespace slipcase::report {

std::string_view proof_word(Proof proof) {
  switch (proof) {
    case Proof::proven:
      return "proven";
    case Proof::missing:
      return "missing";
    case Proof::contradicted:
      return "contradicted";
    case Proof::at_the_car:
      return "at_the_car";
  }
  return "";
}

std::string_view heading_word(Heading heading) {
  switch (heading) {
    case Heading::too_few:
      return "too_few";
    case Heading::at_zero:
      return "at_zero";
    case Heading::not_moving:
      return "not_moving";
    case Heading::settled:
      return "settled";
    case Heading::moving:
      return "moving";
    case Heading::to_limit:
      return "to_limit";
    case Heading::zigzag:
      return "zigzag";
    case Heading::not_learned:
      return "not_learned";
    case Heading::not_yet:
      return "not_yet";
  }
  return "";
}

std::string_view not_counted_word(NotCounted why) {
  switch (why) {
    case NotCounted::log_gap:
      return "log_gap";
    case NotCounted::fluid_not_logged:
      return "fluid_not_logged";
    case NotCounted::not_logged:
      return "not_logged";
    case NotCounted::not_in_procedure:
      return "not_in_procedure";
    case NotCounted::too_cold:
      return "too_cold";
    case NotCounted::too_hot:
      return "too_hot";
    case NotCounted::pedal_moved:
      return "pedal_moved";
    case NotCounted::too_much_pedal:
      return "too_much_pedal";
    case NotCounted::too_little_pedal:
      return "too_little_pedal";
    case NotCounted::too_fast:
      return "too_fast";
    case NotCounted::too_slow:
      return "too_slow";
    case NotCounted::hold_too_short:
      return "hold_too_short";
  }
  return "";
}

std::string_view not_counted_says(NotCounted why) {
  switch (why) {
    case NotCounted::log_gap:
      return "gap in the log";
    case NotCounted::fluid_not_logged:
      return "fluid not in the log";
    case NotCounted::not_logged:
      return "pedal or speed not in the log";
    case NotCounted::not_in_procedure:
      return "in no manoeuvre of the procedure";
    case NotCounted::too_cold:
      return "fluid too cold";
    case NotCounted::too_hot:
      return "fluid too hot";
    case NotCounted::pedal_moved:
      return "pedal moved";
    case NotCounted::too_much_pedal:
      return "too much pedal";
    case NotCounted::too_little_pedal:
      return "too little pedal";
    case NotCounted::too_fast:
      return "too fast";
    case NotCounted::too_slow:
      return "too slow";
    case NotCounted::hold_too_short:
      return "held too short";
  }
  return "";
}

std::string_view sign_word(DriveSign sign) {
  switch (sign) {
    case DriveSign::never_warm:
      return "never_warm";
    case DriveSign::never_in_window:
      return "never_in_window";
    case DriveSign::mostly_outside:
      return "mostly_outside";
    case DriveSign::no_stop:
      return "no_stop";
    case DriveSign::top_gears_only:
      return "top_gears_only";
    case DriveSign::short_drive:
      return "short_drive";
    case DriveSign::no_shifts:
      return "no_shifts";
    case DriveSign::slow_log:
      return "slow_log";
    case DriveSign::values_zero:
      return "values_zero";
    case DriveSign::fluid_gaps:
      return "fluid_gaps";
    case DriveSign::lasts_days:
      return "lasts_days";
    case DriveSign::pedal_asleep:
      return "pedal_asleep";
    case DriveSign::fluid_deadly:
      return "fluid_deadly";
  }
  return "";
}

std::string sign_says(DriveSign sign, const DriveCheck& check) {
  const std::string window = check.fluid ? range_says(*check.fluid, "°C") : std::string();
  const std::string seen = range_says(check.fluid_seen, "°C");
  switch (sign) {
    case DriveSign::never_warm:
      return fmt::format("The fluid stayed below {} all the way ({}): nothing was learned.", window,
                         seen);
    case DriveSign::never_in_window:
      return fmt::format("The fluid was never at {} ({}): nothing was learned.", window, seen);
    case DriveSign::mostly_outside:
      return fmt::format("The fluid was at {} for {} of {} only.", window,
                         time_says(check.in_window), time_says(check.duration));
    case DriveSign::no_stop:
      if (check.longest_stop <= 0.0)
        return fmt::format("There is no stop that was held in gear; {} each are asked for.",
                           time_says(check.needed_stop));
      return fmt::format("No stop was held in gear for {}; the longest took {}.",
                         time_says(check.needed_stop), time_says(check.longest_stop));
    case DriveSign::top_gears_only:
      return fmt::format(
          "{} of {} driven were in the two highest gears: what comes on in the low ones had no "
          "chance.",
          time_says(check.in_top_gears), time_says(check.driven));
    case DriveSign::short_drive:
      return fmt::format("The log has {}; the procedure takes about {}.", time_says(check.duration),
                         time_says(check.takes));
    case DriveSign::no_shifts:
      return "There is not one shift or engagement in it.";
    case DriveSign::slow_log:
      return "The log has fewer than two rows a second: a pedal that moves in between is not seen, "
             "so it cannot show that the drive is complete.";
    case DriveSign::values_zero:
      return "Every value that was read since the clearing is exactly zero: the controller has "
             "stored nothing.";
    case DriveSign::fluid_gaps:
      return fmt::format(
          "For {} of {} the fluid is not in the log: its column is empty for longer than five "
          "seconds. What was driven then does not count.",
          time_says(check.fluid_unknown), time_says(check.duration));
    case DriveSign::lasts_days:
      return fmt::format(
          "By the log the drive took {:.0f} days. Is time in ms, and the mapping says s?",
          check.duration / 86'400.0);
    case DriveSign::pedal_asleep:
      return fmt::format(
          "The pedal never passes {:.2g} % although the car drives. Does its column run from 0 to "
          "1, "
          "and the mapping says %?",
          check.pedal_seen * 100.0);
    case DriveSign::fluid_deadly:
      return fmt::format(
          "The fluid reaches {:.4g} °C, more than an automatic survives. Is the column in F, and "
          "the "
          "mapping says C?",
          check.fluid_seen.high);
  }
  return {};
}

std::string heading_says(const MovingValue& value) {
  const std::string where =
      value.estimate_says.empty() ? std::string() : ", heading for " + value.estimate_says;
  switch (value.heading) {
    case Heading::too_few:
      if (!value.not_used.empty())
        return "fewer than two readings that can be used: whether it moves cannot be said";
      return "one reading since the clearing: whether it moves cannot be said";
    case Heading::at_zero:
      return "exactly zero each time: nothing was stored";
    case Heading::not_moving:
      return "near zero, and not moving";
    case Heading::settled:
      return "settled, as far as scatter lets one see";
    case Heading::moving:
      return where.empty() ? "still moving; where it ends cannot be said yet"
                           : "still moving" + where;
    case Heading::to_limit:
      return where.empty() ? "at its limit" : "still moving" + where + ": at the limit or beyond";
    case Heading::zigzag:
      return "forth and back by more than scatter: not learning, something disturbs it";
    case Heading::not_learned:
      return "not learned when last read";
    case Heading::not_yet:
      return "whether it has settled cannot be told yet: " + value.because;
  }
  return {};
}

std::string time_says(double seconds) {
  constexpr double minute = 60.0;
  if (seconds < 2.0 * minute) return fmt::format("{:.3g} s", seconds);
  const auto minutes = static_cast<long>(std::lround(seconds / minute));
  if (minutes < 90) return fmt::format("{} minutes", minutes);
  return fmt::format("{} h {} minutes", minutes / 60, minutes % 60);
}

std::string range_says(const DriveRange& range, std::string_view unit) {
  return fmt::format("{:.4g} to {:.4g} {}", range.low, range.high, unit);
}

}  // namespace slipcase::report

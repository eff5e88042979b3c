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
  }
  return "";
}

std::string_view not_counted_word(NotCounted why) {
  switch (why) {
    case NotCounted::log_gap:
      return "log_gap";
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
      return "The log has fewer than two rows a second: a pedal that moves in between is not seen.";
    case DriveSign::values_zero:
      return "Every value that was read since the clearing is exactly zero: the controller has "
             "stored nothing.";
  }
  return {};
}

std::string heading_says(const MovingValue& value) {
  const std::string where =
      value.estimate_says.empty() ? std::string() : ", heading for " + value.estimate_says;
  switch (value.heading) {
    case Heading::too_few:
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

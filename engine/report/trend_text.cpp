// The readings of a vehicle over its visits on screen: what was done, what each reading does, what
// they do together, when to look again, plots.
#include <algorithm>
#include <map>
#include <set>

#include <fmt/core.h>

#include "report/lines.h"
#include "report/trend_plot.h"
#include "report/trend_words.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::heading;
using report::rounded_down;
using report::rounded_up;
using report::short_number;
using report::with_blanks;
using report::wrapped;

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::string slope_says(const TrendSlope& slope) {
  return fmt::format("{} ({} to {})", short_number(slope.value), short_number(slope.low),
                     short_number(slope.high));
}

std::string steps_say(const TrendSegment& segment) {
  std::string text;
  for (const TrendStep& step : segment.steps)
    text += fmt::format("{}{:+.0f} between {} and {}{}", text.empty() ? "jumped by " : ", ",
                        step.height, step.from, step.to,
                        step.confirmed ? "" : " (one value only on a side of it)");
  if (segment.slope)
    text += fmt::format("; since then {} {}", segment.slope->moved ? "moving by" : "flat,",
                        slope_says(*segment.slope));
  return text;
}

std::string shape_says(const TrendSegment& segment) {
  const std::string values = counted(segment.used, "value", "values");
  switch (segment.shape) {
    case TrendShape::too_few:
      if (segment.used == 0) return "all set aside";
      return segment.used < 2 ? values : values + ": no trend yet";
    case TrendShape::too_near:
      return values + ", too near to each other for a trend";
    case TrendShape::flat:
      return "flat, " + slope_says(*segment.slope) + ", " + values;
    case TrendShape::rising:
      return "rising by " + slope_says(*segment.slope) + ", " + values;
    case TrendShape::falling:
      return "falling by " + slope_says(*segment.slope) + ", " + values;
    case TrendShape::bending:
      return "moving faster and faster, at the end by " + slope_says(*segment.slope) + ", " +
             values;
    case TrendShape::disorder:
      return "up and down without order, " + values;
    case TrendShape::unclear:
      return "no clear direction, " + slope_says(*segment.slope) + ", " + values;
    case TrendShape::step:
      break;
  }
  return steps_say(segment) + ", " + values;
}

std::string since_says(const TrendSegment& segment) {
  return (segment.split_surely ? "" : "perhaps ") + segment.since;
}

std::string distance_says(const VehicleTrend& trend, const ReadingTrend& reading) {
  const LimitDistance& found = *reading.to_limit;
  const std::string limit =
      fmt::format("its limit of {} {}", short_number(found.limit), reading.unit);
  const std::string earliest = rounded_down(found.earliest);
  if (!found.latest)
    return fmt::format("; {} is {} {} or more away", limit, earliest, trend.distance_unit);
  return fmt::format("; {} is {} to {} {} away", limit, earliest, rounded_up(*found.latest),
                     trend.distance_unit);
}

std::string range_says(const ReadingTrend& reading) {
  if (reading.range == ReadingRange::beyond_limit) return "; at its limit";
  return reading.range == ReadingRange::beyond_watch ? "; beyond its watch line" : "";
}

bool is_on_the_move(const TrendSegment& segment) {
  return !segment.steps.empty() || segment.shape == TrendShape::disorder ||
         segment.shape == TrendShape::unclear || (segment.slope && segment.slope->moved);
}

std::string newest_says(const VehicleTrend& trend, const ReadingTrend& reading) {
  const TrendSegment& newest = reading.segments.back();
  std::string text = newest.values.empty() ? "nothing read" : shape_says(newest);
  if (!newest.since.empty()) text += " since " + since_says(newest);
  text += range_says(reading);
  if (reading.to_limit) {
    text += distance_says(trend, reading);
  } else if (newest.slope && newest.slope->moved && reading.range != ReadingRange::beyond_limit) {
    text += "; no distance to its limit: " + reading.no_distance_because;
  }
  for (const std::string& note : reading.notes) text += "; " + note;
  return text;
}

/// Earlier stretches that moved, or all that can be told.
std::string reading_lines(const VehicleTrend& trend, const ReadingTrend& reading, bool all,
                          std::size_t width) {
  const std::string none = reading.segments.back().values.empty() ? "-" : "set aside";
  const std::string lead = fmt::format("   {:<4} {:>10}  ", reading.member,
                                       reading.newest ? reading.newest->says : none);
  std::string out = report::led(lead, lead.size(), newest_says(trend, reading), width);
  for (std::size_t i = reading.segments.size() - 1; i-- > 0;) {
    const TrendSegment& older = reading.segments[i];
    if (older.shape == TrendShape::too_few || older.shape == TrendShape::too_near ||
        !(all || is_on_the_move(older)))
      continue;
    out +=
        wrapped(fmt::format("until {}: {}", since_says(reading.segments[i + 1]), shape_says(older)),
                width, lead.size(), 0);
  }
  return out;
}

std::string reading_section(const VehicleTrend& trend, const TextStyle& style, bool all,
                            std::size_t width) {
  std::string out;
  std::string kind;
  for (const ReadingTrend& reading : trend.readings) {
    if (reading.kind != kind) {
      kind = reading.kind;
      out += "\n" + heading(fmt::format("{}, {} per {:.0f} {}", with_blanks(kind), reading.unit,
                                        trend.slope_distance, trend.distance_unit),
                            style);
    }
    out += reading_lines(trend, reading, all, width);
  }
  return out;
}

/// Those that changed, but neither up nor down over all.
std::string unsteady_says(const TrendPattern& pattern) {
  if (pattern.unsteady.empty()) return {};
  return fmt::format("{} changed by more than readings scatter, in no clear direction",
                     report::joined(pattern.unsteady, "and"));
}

std::string each_says(const TrendPattern& pattern, const std::string& kind) {
  std::string text = kind + ":";
  if (!pattern.up.empty()) text += " " + report::joined(pattern.up, "and") + " up";
  if (!pattern.down.empty())
    text += (pattern.up.empty() ? " " : ", ") + report::joined(pattern.down, "and") + " down";
  if (!pattern.unsteady.empty()) text += "; " + unsteady_says(pattern);
  const bool others = pattern.up.size() + pattern.down.size() + pattern.unsteady.size() <
                      std::max(pattern.told, std::size_t{1});
  if (others) text += pattern.unsteady.empty() ? ", the others not" : "; the others do not move";
  return text + ".";
}

std::string together(const TrendPattern& pattern) {
  const std::string kind =
      with_blanks(pattern.reading) + (pattern.until.empty() ? "" : " until " + pattern.until);
  const bool up = pattern.up.size() >= pattern.down.size();
  const auto& most = up ? pattern.up : pattern.down;
  switch (pattern.moved) {
    case ChangePattern::none:
      if (!pattern.unsteady.empty()) return kind + ": " + unsteady_says(pattern) + ".";
      return kind + ": none of them moves by more than readings scatter.";
    case ChangePattern::one:
      if (!pattern.unsteady.empty()) return each_says(pattern, kind);
      return fmt::format(
          "{}: only {} moves. That points to {} itself and to nothing that all share.", kind,
          most.front(), most.front());
    case ChangePattern::all:
      return fmt::format(
          "{}: {} of {} go {} together. Look first at what all share: level and fluid, main "
          "pressure, supply.",
          kind, most.size(), pattern.told, up ? "up" : "down");
    case ChangePattern::several:
      break;
  }
  return each_says(pattern, kind) + " Look at what these share.";
}

/// Values that were set aside, those of one visit and one reason together.
std::string aside_section(const VehicleTrend& trend, std::size_t width) {
  std::vector<std::pair<std::string, std::string>> order;
  std::map<std::pair<std::string, std::string>, std::size_t> counts;
  for (const ReadingTrend& reading : trend.readings)
    for (const TrendSegment& segment : reading.segments)
      for (const TrendValue& value : segment.values) {
        if (value.aside.empty()) continue;
        const std::pair key(value.at, value.aside);
        if (counts[key]++ == 0) order.push_back(key);
      }
  std::ranges::sort(order);
  std::string out;
  for (const auto& key : order)
    out += wrapped(fmt::format("{}: {} set aside: {}", key.first,
                               counts[key] == 1 ? "1 value" : fmt::format("{} values", counts[key]),
                               key.second),
                   width, 1, 2);
  return out.empty() ? out : "\n" + out;
}

/// What the ranges are worth, where they are worth less than they look.
std::string range_note(const VehicleTrend& trend) {
  std::set<std::size_t> few;
  bool any = false;
  for (const ReadingTrend& reading : trend.readings)
    for (const TrendSegment& segment : reading.segments) {
      if (!segment.slope) continue;
      any = true;
      if (segment.slope->confidence < 0.8)
        few.insert(3);
      else if (segment.slope->confidence < 0.95)
        few.insert(4);
    }
  if (!any) return {};
  std::string text =
      "Behind each slope its range: the wider of what the values say and what one reading "
      "scatters. "
      "The values alone hold the true slope in 95 of 100 such series or more";
  if (few.contains(3)) text += "; three of them only in 2 of 3";
  if (few.contains(4)) text += "; four in 11 of 12";
  return text + ".";
}

/// "2500 to 5000", or one number
std::string between_says(double from, double to) {
  return from == to ? fmt::format("{:.0f}", to) : fmt::format("{:.0f} to {:.0f}", from, to);
}

std::string next_says(const VehicleTrend& trend) {
  const NextLook& next = *trend.next;
  const double from = report::three_digits_down(next.from);
  const double to = report::three_digits_down(next.to);
  std::string text =
      fmt::format("Next look: in {0} {2}, at {1} {2}", between_says(from, to),
                  between_says(next.odometer + from, next.odometer + to), trend.distance_unit);
  if (to <= 0.0) text = "Next look: now";
  if (next.because.empty()) return text + ", the next routine service.";
  return text + "; " + with_blanks(next.because) + ".";
}

std::string head(const VehicleTrend& trend, std::size_t width) {
  std::string text =
      fmt::format("Vehicle {}: {}, {}", trend.vehicle, counted(trend.cards, "card", "cards"),
                  counted(trend.snapshots, "look at the values", "looks at the values"));
  if (trend.snapshots == 1) text += ", " + trend.first_at;
  if (trend.snapshots > 1 && !trend.first_at.empty())
    text += fmt::format(", from {} to {}", trend.first_at, trend.last_at);
  std::string out = wrapped(text + ".", width, 0, 2);
  if (!trend.left_out.empty())
    out += wrapped(
        fmt::format("NOT COMPLETE: {} could not be used: {}. What is told here is without "
                    "{}.",
                    counted(trend.left_out.size(), "card", "cards"), report::joined(trend.left_out),
                    trend.left_out.size() == 1 ? "it" : "them"),
        width, 0, 2);
  if (trend.disagreements > 0)
    out += wrapped(fmt::format("Two cards disagree in {}; the messages say where.",
                               counted(trend.disagreements, "place", "places")),
                   width, 0, 2);
  return out;
}

std::string mark_says(const TrendMark& mark) {
  if (!mark.at.empty())
    return mark.at + ": " + mark.says + (mark.splits ? "; values begin anew" : "");
  return "at an unknown time: " + mark.says +
         (mark.splits ? "; values may begin anew anywhere, so write the latest day it can have been"
                      : "");
}

std::string marks_section(const VehicleTrend& trend, const TextStyle& style, std::size_t width) {
  if (trend.marks.empty()) return {};
  std::string out = "\n" + heading("What was done", style);
  for (const TrendMark& mark : trend.marks) out += wrapped(mark_says(mark), width, 1, 2);
  return out;
}

bool worth_a_plot(const ReadingTrend& reading) {
  return reading.range != ReadingRange::inside ||
         std::ranges::any_of(reading.segments, is_on_the_move);
}

std::string plots(const VehicleTrend& trend, const TextStyle& style, std::size_t width, bool all) {
  std::string out;
  for (const ReadingTrend& reading : trend.readings) {
    if (!all && !worth_a_plot(reading)) continue;
    const std::string plot = report::trend_plot(trend, reading, width);
    if (!plot.empty()) out += "\n" + heading(with_blanks(reading.id), style) + plot;
  }
  if (out.empty()) return out;
  return out + wrapped(
                   "* value, 2 to 9 several, x set aside, . slope, = limit, - watch line, "
                   "| values begin anew, : other work",
                   width, 0, 2);
}

}  // namespace

std::string to_text(const VehicleTrend& trend, const TextStyle& style, bool all) {
  const std::size_t width = report::usable_width(style);
  std::string out = head(trend, width);
  if (!trend.ordered)
    return out + wrapped(
                     "The cards leave open in which order the readings were taken: give each a "
                     "date or an odometer.",
                     width, 0, 2);
  if (trend.readings.empty())
    return out +
           wrapped("There is nothing to follow: no card has a reading with limits.", width, 0, 2);
  const std::string note = range_note(trend);
  if (!note.empty()) out += wrapped(note, width, 0, 2);
  out += marks_section(trend, style, width);
  out += reading_section(trend, style, all, width);
  out += aside_section(trend, width);
  std::string conclusions;
  for (const TrendPattern& pattern : trend.patterns)
    conclusions += wrapped(together(pattern), width, 0, 2);
  if (trend.next) conclusions += wrapped(next_says(trend), width, 0, 2);
  if (!conclusions.empty()) out += "\n" + conclusions;
  return out + plots(trend, style, width, all);
}

}  // namespace slipcase

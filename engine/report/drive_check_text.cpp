// A logged drive held against its procedure, on screen.
#include <algorithm>

#include <fmt/core.h>

#include "report/drive_words.h"
#include "report/lines.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::heading;
using report::joined;
using report::led;
using report::range_says;
using report::time_says;
using report::wrapped;

std::string not_counted_text(const std::vector<NotCountedTimes>& list) {
  std::vector<std::string> parts;
  for (const NotCountedTimes& one : list)
    parts.push_back(fmt::format("{} {} (line {})", one.times, report::not_counted_says(one.why),
                                one.first_line));
  return joined(parts);
}

std::string with_reasons(std::string text, const std::vector<NotCountedTimes>& list) {
  if (!list.empty()) text += "; not counted: " + not_counted_text(list);
  return text;
}

template <class List>
std::size_t name_width(const List& list) {
  std::size_t width = 0;
  for (const auto& one : list) width = std::max(width, report::columns(one.name));
  return width + 3;
}

/// What the card contradicts first: then the drive is not for the card.
std::string unproven_lines(const DriveCheck& check, std::size_t width) {
  std::string out;
  for (const Proof proof : {Proof::contradicted, Proof::missing}) {
    for (const Precondition& one : check.before) {
      if (one.proof != proof) continue;
      const std::string_view mark = proof == Proof::contradicted ? "[!]" : "[ ]";
      out += wrapped(fmt::format("{} {}: {}", mark, one.says, one.because), width, 1, 4);
    }
  }
  if (out.empty()) return out;
  const std::string_view lead =
      check.is_contradicted()
          ? "But by the card not all was so that has to be before the drive. With what is marked "
            "[!] the controller may have learned nothing, or the wrong thing:"
          : "The card does not prove all that has to be so before the drive:";
  return wrapped(lead, width, 0, 0) + out;
}

std::string complete_verdict(const DriveCheck& check, std::size_t width) {
  return wrapped(
             "The drive counts as complete: every element has its shifts and engagements, "
             "every manoeuvre its times.",
             width, 0, 0) +
         unproven_lines(check, width);
}

/// Enough was counted, in a log that cannot show it.
std::string ruled_out_verdict(const DriveCheck& check, std::size_t width) {
  std::string text = "The drive cannot count as complete, though enough was counted.";
  for (const DriveSign sign : check.signs)
    if (rules_out(sign)) text += " " + report::sign_says(sign, check);
  return wrapped(text, width, 0, 0);
}

std::string verdict(const DriveCheck& check, std::size_t width) {
  if (check.complete) return complete_verdict(check, width);
  if (check.counts_reached) return ruled_out_verdict(check, width);
  std::vector<std::string> elements;
  std::vector<std::string> manoeuvres;
  for (const ElementEvents& one : check.elements)
    if (!one.enough()) elements.push_back(one.name);
  for (const ManoeuvreTimes& one : check.manoeuvres)
    if (one.missing() > 0) manoeuvres.push_back(fmt::format("{} ({})", one.name, one.missing()));
  std::string out;
  if (!elements.empty())
    out += wrapped(fmt::format("The drive is not complete. Too few learning events: {}.",
                               joined(elements, "and")),
                   width, 0, 0);
  if (!manoeuvres.empty())
    out += wrapped(fmt::format("{}Still to be driven, with how often: {}.",
                               elements.empty() ? "The drive is not complete. " : "",
                               joined(manoeuvres, "and")),
                   width, 0, 0);
  return out;
}

std::string log_section(const DriveCheck& check, const TextStyle& style, std::size_t width) {
  std::string out = heading("THE LOG", style);
  out += wrapped(check.log, width, 1, 2);
  std::string text = fmt::format("{} rows, {}, fluid {}", check.rows, time_says(check.duration),
                                 range_says(check.fluid_seen, "°C"));
  if (check.fluid)
    text +=
        fmt::format(", {} of it at {}", time_says(check.in_window), range_says(*check.fluid, "°C"));
  out += wrapped(text, width, 1, 2);
  if (check.gear_from_speeds)
    out += wrapped("The gear is worked out from turbine and output speed.", width, 1, 2);
  if (check.open_engagements > 0)
    out +=
        wrapped(fmt::format("Not counted: {} engagement{} at standstill. By the speeds nobody can "
                            "tell drive from reverse; log the gear too.",
                            check.open_engagements, check.open_engagements == 1 ? "" : "s"),
                width, 1, 2);
  for (const DriveGap& gap : check.gaps)
    out += wrapped(fmt::format("gap of {} at {:.10g} s (line {})", time_says(gap.to - gap.from),
                               gap.from, gap.line),
                   width, 1, 2);
  for (const DriveSign sign : check.signs)
    out += wrapped(report::sign_says(sign, check), width, 1, 2);
  return out + "\n";
}

std::string elements_section(const DriveCheck& check, const TextStyle& style, std::size_t width) {
  std::string out = heading("LEARNING EVENTS BY ELEMENT", style);
  const std::size_t lead = name_width(check.elements);
  for (const ElementEvents& one : check.elements) {
    const std::string counted = one.needed == 0
                                    ? fmt::format("{}, no manoeuvre teaches it", one.counted)
                                    : fmt::format("{} of {}", one.counted, one.needed);
    out += led(" " + one.name, lead, with_reasons(counted, one.not_counted), width);
  }
  return out + "\n";
}

std::string manoeuvres_section(const DriveCheck& check, const TextStyle& style, std::size_t width) {
  std::string out = heading("MANOEUVRES", style);
  const std::size_t lead = name_width(check.manoeuvres);
  for (const ManoeuvreTimes& one : check.manoeuvres) {
    std::string counted = fmt::format("{} of {}", one.counted, one.needed);
    if (one.missing() > 0) counted += fmt::format(", {} missing", one.missing());
    out += led(" " + one.name, lead, with_reasons(counted, one.not_counted), width);
  }
  return out + "\n";
}

std::string value_line(const MovingValue& value, std::size_t width) {
  const std::string kind = value.member.empty() ? value.kind : value.kind + " " + value.member;
  std::string text = kind + ": ";
  if (!value.values.empty()) text += joined(value.values) + "; ";
  text += report::heading_says(value);
  if (!value.not_used.empty()) text += "; not used: " + joined(value.not_used);
  return wrapped(text, width, 1, 3);
}

std::string values_section(const DriveCheck& check, const TextStyle& style, std::size_t width) {
  const MovingValues& moving = check.moving;
  std::string out = heading("VALUES SINCE THEY WERE CLEARED", style);
  if (moving.cleared_at.empty())
    return out + wrapped("The card has no clearing of the values.", width, 1, 2);
  out += wrapped(fmt::format("Cleared {}, read {}.", moving.cleared_at,
                             moving.read.empty() ? "not since" : joined(moving.read, "and")),
                 width, 1, 2);
  if (!moving.ordered)
    return out + wrapped("The card leaves open which reading came first: nothing is said of them.",
                         width, 1, 2);
  bool estimated = false;
  for (const MovingValue& one : moving.values) {
    out += value_line(one, width);
    estimated = estimated || one.estimate;
  }
  if (estimated)
    out += wrapped(
        "Where a value is heading holds only if about as much was driven between its "
        "readings. What it needs may be more: read again after some days.",
        width, 1, 2);
  return out;
}

std::string record_section(const DriveCheck& check, std::size_t width) {
  if (!check.record) return {};
  return "\n" +
         wrapped(fmt::format("For the card, under `{}`, with the day of the drive:",
                             check.record->list),
                 width, 0, 2) +
         fmt::format("  - {{ done: {}, date: ... }}\n", check.record->done);
}

}  // namespace

std::string to_text(const DriveCheck& check, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out = wrapped(check.title, width, 0, 2);
  out +=
      wrapped(fmt::format("{}{}", check.unit_title, check.job.empty() ? "" : ", job " + check.job),
              width, 0, 2);
  out += "\n" + verdict(check, width) + "\n";
  out += log_section(check, style, width) + elements_section(check, style, width) +
         manoeuvres_section(check, style, width) + values_section(check, style, width);
  out += record_section(check, width);
  return check.note.empty() ? out : out + "\n" + wrapped(check.note, width, 0, 0);
}

}  // namespace slipcase

// The sheet of a learning drive, to be printed and ticked by hand.
#include <algorithm>
#include <array>

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

std::string_view box(Proof proof) {
  switch (proof) {
    case Proof::proven:
      return " [x] ";
    case Proof::contradicted:
      return " [!] ";
    case Proof::missing:
    case Proof::at_the_car:
      break;
  }
  return " [ ] ";
}

std::string proof_lead(Proof proof) {
  switch (proof) {
    case Proof::proven:
      return "proven: ";
    case Proof::missing:
      return "missing: ";
    case Proof::contradicted:
      return "not so: ";
    case Proof::at_the_car:
      break;
  }
  return {};
}

std::string precondition_lines(const Precondition& one, std::size_t width) {
  constexpr std::size_t lead_width = 5;
  std::string out = led(box(one.proof), lead_width, one.says, width);
  if (one.because.empty()) return out;
  out += wrapped(proof_lead(one.proof) + one.because, width, lead_width, 0);
  // On a line of its own: how long a path is must not move the words.
  return one.place.empty() ? out : out + wrapped("at " + one.place, width, lead_width, 0);
}

std::string first_section(const BeforeDriving& first, const TextStyle& style, std::size_t width) {
  if (first.is_clear()) return {};
  std::string out = heading("NOT TO BE DRIVEN BEFORE THIS IS CLEARED", style);
  for (const DriveCaution& one : first.cautions) {
    out += wrapped(one.says, width, 1, 1);
    for (const std::string& seen : one.seen) out += wrapped("- " + seen, width, 1, 2);
  }
  if (!first.beyond.empty())
    out += wrapped("At a limit or beyond it, when last read:", width, 1, 1);
  for (const BeyondLimit& one : first.beyond) {
    out += wrapped("- " + one.says, width, 1, 2);
    if (!one.place.empty()) out += wrapped("at " + one.place, width, 3, 0);
  }
  if (first.work_done)
    out += wrapped(
        "Repairs stand on the card. Whether they ended this it cannot say: look again first.",
        width, 1, 1);
  return out + "\n";
}

std::string before_section(const DriveSheet& sheet, const TextStyle& style, std::size_t width) {
  std::string out = heading("BEFORE THE DRIVE", style);
  for (const Precondition& one : sheet.before) out += precondition_lines(one, width);
  return out + "\n";
}

std::string element_line(const SheetElement& element, std::size_t width) {
  std::string text = element.taught_by.empty() ? "no manoeuvre teaches it"
                                               : "learns in " + joined(element.taught_by);
  if (!element.needs_it.empty()) text += "; needs it most: " + element.needs_it;
  const std::string lead =
      fmt::format("{} {} ", element.needs_it.empty() ? " " : "*", element.name);
  return led(lead, 6, text, width);
}

std::string elements_section(const DriveSheet& sheet, const TextStyle& style, std::size_t width) {
  std::string out = heading(
      fmt::format("WHAT IS TO BE LEARNED ({} GOOD SHIFTS OR ENGAGEMENTS EACH)", sheet.events),
      style);
  for (const SheetElement& one : sheet.elements) out += element_line(one, width);
  return out + "\n";
}

std::string path_text(const SheetManoeuvre& one) {
  std::string text;
  for (const std::string& gear : one.path) text += (text.empty() ? "" : "-") + gear;
  if (one.path.size() == 1) return "gear " + text;
  return text.empty() && !one.shifts.empty() ? "any of " + joined(one.shifts) : text;
}

std::string conditions(const SheetManoeuvre& one) {
  std::vector<std::string> parts;
  if (const std::string path = path_text(one); !path.empty()) parts.push_back(path);
  if (one.pedal) parts.push_back("pedal " + range_says(*one.pedal, "%"));
  if (one.speed) parts.push_back(range_says(*one.speed, "km/h"));
  if (one.hold)
    parts.push_back(
        fmt::format("{} for {}", one.standing ? "then stand" : "hold", time_says(*one.hold)));
  if (one.takes)
    parts.push_back(
        fmt::format("about {}{}", time_says(*one.takes), one.repeats > 1 ? " each" : ""));
  return joined(parts);
}

std::string boxes(std::uint32_t repeats, std::size_t width) {
  std::string text;
  for (std::uint32_t i = 0; i < repeats; ++i) text += "[_] ";
  std::string lines = wrapped(text, width, 3, 0);
  for (std::size_t at = 0; (at = lines.find("[_]", at)) != std::string::npos;) lines[at + 1] = ' ';
  return lines;
}

std::string manoeuvre_lines(const SheetManoeuvre& one, std::size_t number, std::size_t width) {
  std::string out = led(fmt::format("{:2} ", number), 3, one.says, width);
  if (const std::string text = conditions(one); !text.empty()) out += wrapped(text, width, 3, 0);
  if (!one.teaches.empty()) out += wrapped("teaches " + joined(one.teaches), width, 3, 0);
  return out + boxes(one.repeats, width);
}

/// The number of the first manoeuvre that is more than getting warm.
std::size_t first_taught(const DriveSheet& sheet) {
  const auto found = std::ranges::find_if(sheet.manoeuvres, [](const SheetManoeuvre& one) {
    return !one.path.empty() || !one.shifts.empty();
  });
  return static_cast<std::size_t>(found - sheet.manoeuvres.begin()) + 1;
}

std::string drive_section(const DriveSheet& sheet, const TextStyle& style, std::size_t width) {
  std::string out = heading("THE DRIVE", style);
  std::string window;
  if (sheet.fluid)
    window = fmt::format("Fluid at {} all the way from {} on. ", range_says(*sheet.fluid, "°C"),
                         first_taught(sheet));
  if (sheet.takes > 0.0) window += fmt::format("About {} in all.", time_says(sheet.takes));
  if (!window.empty()) out += wrapped(window, width, 1, 0);
  for (std::size_t i = 0; i < sheet.manoeuvres.size(); ++i)
    out += manoeuvre_lines(sheet.manoeuvres[i], i + 1, width);
  return out + "\n";
}

// Common practice, no source.
constexpr std::array<std::string_view, 8> drive_cautions = {
    "Manufacturer's procedure, law and local rules come before this sheet.",
    "Two people: one drives and looks at the road, one logs and ticks. Nobody who drives looks at "
    "a "
    "screen.",
    "Legal speeds, seat belts, insurance and plates for a test drive in order.",
    "Full stops only on an empty stretch: brake lights working, nothing behind.",
    "Engagements at standstill: brake held hard, nobody in front of or behind the car.",
    "Stop at once if anything slips, binds, smells, or a lamp comes on; with P0893 stored, "
    "bind-up, "
    "or no drive do not drive at all.",
    "Pause if the fluid gets hotter than the window. Fluid and exhaust burn: nobody works below "
    "the "
    "car until it has cooled.",
    "What comes back at the same value after the drive is a fault and no learning.",
};

std::string closing_section(const TextStyle& style, std::size_t width) {
  std::string out = heading("CAUTIONS", style);
  for (const std::string_view caution : drive_cautions)
    out += wrapped(fmt::format("- {}", caution), width, 1, 2);
  return out +
         "\n date ____________  driver ______________  logger ______________\n"
         " odometer from ____________ to ____________  fluid from _____ to _____ °C\n";
}

}  // namespace

std::string to_text(const DriveSheet& sheet, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out = wrapped(sheet.title, width, 0, 2);
  out +=
      wrapped(fmt::format("{}{}", sheet.unit_title, sheet.job.empty() ? "" : ", job " + sheet.job),
              width, 0, 2);
  if (!sheet.note.empty()) out += wrapped(sheet.note, width, 0, 0);
  out += "\n" + first_section(sheet.first, style, width) + before_section(sheet, style, width) +
         elements_section(sheet, style, width) + drive_section(sheet, style, width);
  return out + closing_section(style, width);
}

std::string to_text(const NoProcedure& none, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  if (none.known.empty()) {
    return wrapped(fmt::format("The profile of {} has no `procedures`: copy the manufacturer's "
                               "learning drive into it. docs/profile.md tells how, and the profile "
                               "of the invented six-speed has an example.",
                               none.unit),
                   width, 0, 0);
  }
  return wrapped(fmt::format("The profile of {} has no procedure `{}`; it has {}.", none.unit,
                             none.asked, joined(none.known, "and")),
                 width, 0, 0);
}

}  // namespace slipcase

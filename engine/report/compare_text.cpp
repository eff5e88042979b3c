// Readings before and after on screen and as JSON: the values, what each change says, what they say
// together.
#include <algorithm>

#include <fmt/core.h>

#include "report/json_parts.h"
#include "report/lines.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::heading;
using report::Json;
using report::list_json;
using report::wrapped;

std::string spaced(std::string name) {
  std::ranges::replace(name, '_', ' ');
  return name;
}

std::string_view word(ReadingChange change) {
  switch (change) {
    case ReadingChange::small:
      return "small";
    case ReadingChange::came_back:
      return "came_back";
    case ReadingChange::partly_back:
      return "partly_back";
    case ReadingChange::stayed_away:
      return "stayed_away";
    case ReadingChange::grown:
      return "grown";
    case ReadingChange::not_yet:
      return "not_yet";
    case ReadingChange::same:
      return "same";
    case ReadingChange::nearer:
      return "nearer";
    case ReadingChange::further:
      return "further";
    case ReadingChange::new_start:
      return "new_start";
    case ReadingChange::unknown:
      return "unknown";
  }
  return "";
}

std::string_view says(ReadingChange change) {
  switch (change) {
    case ReadingChange::small:
      return "small, as before";
    case ReadingChange::came_back:
      return "came back: the cause is still there";
    case ReadingChange::partly_back:
      return "partly back: still on its way, or less than it was";
    case ReadingChange::stayed_away:
      return "stayed away";
    case ReadingChange::grown:
      return "was not there before";
    case ReadingChange::not_yet:
      return "cannot be judged yet";
    case ReadingChange::same:
      return "as before";
    case ReadingChange::nearer:
      return "nearer to zero";
    case ReadingChange::further:
      return "further from zero";
    case ReadingChange::new_start:
      return "begins anew";
    case ReadingChange::unknown:
      return "one value is missing";
  }
  return "";
}

std::string_view word(ReadingRange range) {
  switch (range) {
    case ReadingRange::inside:
      return "inside";
    case ReadingRange::beyond_watch:
      return "beyond_watch";
    case ReadingRange::beyond_limit:
      return "beyond_limit";
  }
  return "";
}

std::string_view word(ChangePattern pattern) {
  switch (pattern) {
    case ChangePattern::none:
      return "none";
    case ChangePattern::one:
      return "one";
    case ChangePattern::several:
      return "several";
    case ChangePattern::all:
      return "all";
  }
  return "";
}

std::string range_says(ReadingRange range) {
  if (range == ReadingRange::beyond_limit) return ", at its limit";
  return range == ReadingRange::beyond_watch ? ", beyond its watch line" : "";
}

std::string lines(const Comparison& comparison, std::size_t width) {
  std::string out;
  std::string kind;
  for (const ComparedReading& reading : comparison.readings) {
    if (reading.kind != kind) {
      kind = reading.kind;
      out += wrapped(spaced(kind), width, 1, 2);
    }
    const auto or_nothing = [](const std::string& text) { return text.empty() ? "-" : text; };
    const std::string lead =
        fmt::format("   {:<4} {:>11} -> {:>11}  ", reading.member, or_nothing(reading.before_says),
                    or_nothing(reading.after_says));
    out += report::led(lead, lead.size(),
                       std::string(says(reading.change)) + range_says(reading.range), width);
  }
  return out;
}

constexpr std::string_view look_at_all =
    " Look first at what all share: level and fluid, main pressure, supply.";

std::string are(const std::vector<std::string>& members) {
  return report::joined(members, "and") + (members.size() == 1 ? " is" : " are");
}

std::string back_says(const ReadingPattern& pattern) {
  const std::string members = report::joined(pattern.members, "and");
  switch (pattern.came_back) {
    case ChangePattern::one:
      return fmt::format(
          "only {0} is back. That points to {0} itself and to nothing that all share.", members);
    case ChangePattern::all:
      return pattern.same_way ? "all are back." + std::string(look_at_all)
                              : "all are back, but not on the same side of zero.";
    case ChangePattern::several:
      return members + " are back, others are not. Look at what these share.";
    case ChangePattern::none:
      break;
  }
  return {};
}

std::string grown_says(const ReadingPattern& pattern) {
  const std::string members = report::joined(pattern.grown_members, "and");
  switch (pattern.grown) {
    case ChangePattern::one:
      return fmt::format("only {} is new: it was not there before.", members);
    case ChangePattern::all:
      return pattern.same_way ? "all are new, on the same side of zero." + std::string(look_at_all)
                              : members + " are new, but not on the same side of zero.";
    case ChangePattern::several:
      return members + " are new, others are not. Look at what these share.";
    case ChangePattern::none:
      break;
  }
  return {};
}

/// Some came back, and others were not there before.
std::string mixed_says(const ReadingPattern& pattern) {
  const std::size_t count = pattern.members.size() + pattern.grown_members.size();
  return fmt::format("{} back, {} new{}. What is new did not come back: look at it by itself.",
                     are(pattern.members), are(pattern.grown_members),
                     count < pattern.told ? ", the others neither" : "");
}

std::string moved_says(const ReadingPattern& pattern) {
  const std::string members = report::joined(pattern.members, "and");
  switch (pattern.moved) {
    case ChangePattern::one:
      return fmt::format("only {} moved.", members);
    case ChangePattern::all:
      return pattern.same_way ? "all moved the same way. Look first at what all share."
                              : members + " moved, but not the same way.";
    case ChangePattern::several:
      return members + " moved, others did not.";
    case ChangePattern::none:
      break;
  }
  return {};
}

/// What the members of one kind say together.
std::string together(const ReadingPattern& pattern) {
  const bool back = pattern.came_back != ChangePattern::none;
  const bool grown = pattern.grown != ChangePattern::none;
  std::string text;
  if (back && grown) {
    text = mixed_says(pattern);
  } else if (back) {
    text = back_says(pattern);
  } else {
    text = grown ? grown_says(pattern) : moved_says(pattern);
  }
  return text.empty() ? text : spaced(pattern.reading) + ": " + text;
}

std::string conclusions(const Comparison& comparison, std::size_t width) {
  std::string out;
  for (const ReadingPattern& pattern : comparison.patterns) {
    const std::string text = together(pattern);
    if (!text.empty()) out += wrapped(text, width, 1, 2);
  }
  if (comparison.km_after)
    out +=
        wrapped(fmt::format("The newer values were read {:.0f} km after the last of what was done "
                            "in between: they may still move. Read them again.",
                            *comparison.km_after),
                width, 1, 2);
  const auto has = [&](ReadingChange change) {
    return std::ranges::any_of(comparison.readings,
                               [&](const ComparedReading& r) { return r.change == change; });
  };
  if (has(ReadingChange::stayed_away))
    out += wrapped("What stayed away was learning, or what was done in between ended its cause.",
                   width, 1, 2);
  if (comparison.other_software)
    out += wrapped("The software is another one: values before and after do not belong together.",
                   width, 1, 2);
  for (const ComparedReading& reading : comparison.readings) {
    if (reading.change != ReadingChange::not_yet) continue;
    return out + wrapped("Not judged yet, because " + reading.because + ".", width, 1, 2);
  }
  return out;
}

std::string section(const Comparison& comparison, const TextStyle& style, std::size_t width) {
  std::string out = "\n" + heading(comparison.before_at + "  ->  " + comparison.after_at, style);
  out += wrapped("between: " + report::joined(comparison.between), width, 1, 2);
  return out + lines(comparison, width) + conclusions(comparison, width);
}

Json comparison_json(const Comparison& comparison) {
  return {{"between", comparison.between},
          {"before_at", comparison.before_at},
          {"after_at", comparison.after_at},
          {"cleared", comparison.cleared},
          {"other_software", comparison.other_software},
          {"km_after", comparison.km_after ? report::number(*comparison.km_after) : Json(nullptr)},
          {"readings", list_json(comparison.readings,
                                 [](const ComparedReading& reading) {
                                   Json json{{"id", reading.id},
                                             {"before", reading.before_says},
                                             {"after", reading.after_says},
                                             {"change", word(reading.change)},
                                             {"range", word(reading.range)}};
                                   if (!reading.because.empty()) json["because"] = reading.because;
                                   return json;
                                 })},
          {"patterns", list_json(comparison.patterns, [](const ReadingPattern& pattern) {
             return Json{{"reading", pattern.reading},   {"came_back", word(pattern.came_back)},
                         {"grown", word(pattern.grown)}, {"moved", word(pattern.moved)},
                         {"members", pattern.members},   {"grown_members", pattern.grown_members},
                         {"told", pattern.told},         {"same_way", pattern.same_way}};
           })}};
}

}  // namespace

std::string to_text(const Comparisons& comparisons, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  const std::string job = comparisons.job.empty() ? "" : "Job " + comparisons.job + ". ";
  if (!comparisons.ordered)
    return wrapped(job +
                       "The card leaves open in which order its readings were taken: give each a "
                       "date or an odometer.",
                   width, 0, 2);
  if (comparisons.list.empty())
    return wrapped(job +
                       "Nothing to compare: the card has no readings on both sides of a clearing, "
                       "a repair or a part that was renewed.",
                   width, 0, 2);
  std::string out = wrapped(job +
                                "Readings before and after; what two readings of the same thing "
                                "scatter counts as no change.",
                            width, 0, 2);
  for (const Comparison& comparison : comparisons.list) out += section(comparison, style, width);
  return out;
}

std::string to_json(const Comparisons& comparisons) {
  return report::dumped({{"job", comparisons.job},
                         {"unit", comparisons.unit},
                         {"snapshots", comparisons.snapshots},
                         {"ordered", comparisons.ordered},
                         {"comparisons", list_json(comparisons.list, comparison_json)}});
}

}  // namespace slipcase

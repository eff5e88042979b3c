// The evidence for and against one cause on screen.
#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "report/lines.h"
#include "report/supposed.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::heading;
using report::two_sided;
using report::wrapped;

constexpr double says_nothing = 0.05;  // five in a hundred on the odds
constexpr std::size_t most_open = 8;

std::string times_text(double log_factor) {
  if (std::isinf(log_factor)) return log_factor > 0 ? "settles it" : "rules it out";
  const double times = std::exp(log_factor);
  return times >= 1.0 ? fmt::format("odds x {:.3g}", times)
                      : fmt::format("odds / {:.3g}", 1.0 / times);
}

std::string start_section(const Reasons& reasons, const TextStyle& style, std::size_t width) {
  std::string out = heading(reasons.says + " (" + reasons.cause + ")", style);
  out += report::supposed_lines(reasons.supposed, width);
  const bool never = reasons.chance == Probability::never();
  out += wrapped(
      fmt::format("{} like this one; place {} of the ranking.",
                  never ? "no job" : in_plain_counts(reasons.chance) + " jobs", reasons.place),
      width, 1, 2);
  if (!reasons.put_right_by.empty()) {
    out += wrapped(
        fmt::format("It was to be put right by what did not help: {}. {}", reasons.put_right_by,
                    never ? "By the rules it cannot be there after that."
                          : "What follows is about its being there after that."),
        width, 1, 2);
  }
  if (!reasons.judged) {
    out += wrapped("It cannot be judged yet: " + reasons.not_judged_because +
                       ". The figures below are what the other facts would give.",
                   width, 1, 2);
  }
  if (!reasons.possible)
    out += wrapped("Ruled out here: " + reasons.impossible_because, width, 1, 2);
  out += "\n" + heading("START", style);
  out += wrapped(fmt::format("found in {} jobs that come in", in_plain_counts(reasons.found)),
                 width, 1, 2);
  for (const RateStep& step : reasons.rate_steps) {
    out += wrapped(fmt::format("{:g} times as likely: {} ({})", step.times, step.text, step.rule),
                   width, 1, 2);
  }
  if (!reasons.made_by.empty())
    out += wrapped("can also come of: " + report::joined(reasons.made_by), width, 1, 2);
  return out +
         wrapped(fmt::format("before any finding of this job: {}", in_plain_counts(reasons.prior)),
                 width, 1, 2);
}

/// "from fill_pressure of K2: 210 mbar (demo.yaml:14:3), ...; findings.rules:3:5"
std::string facts_line(const ReasonStep& step, std::size_t width) {
  constexpr std::size_t most_facts = 4;
  if (step.worked_out_by.empty()) return {};
  // What the card says comes before what it does not say.
  std::vector<std::string> texts;
  for (const UsedFact& fact : step.facts) {
    if (!fact.place.empty()) texts.push_back(fact.text + " (" + fact.place + ")");
  }
  for (const UsedFact& fact : step.facts) {
    if (fact.place.empty() && texts.empty()) texts.push_back(fact.text);
  }
  std::string text = "from ";
  for (std::size_t i = 0; i < std::min(texts.size(), most_facts); ++i) {
    text += (i > 0 ? ", " : "") + texts[i];
  }
  if (texts.size() > most_facts) text += fmt::format(" and {} more", texts.size() - most_facts);
  return wrapped(text + "; by " + step.worked_out_by, width, 5, 2);
}

std::string step_lines(const Reasons& reasons, const ReasonStep& step, std::size_t width) {
  std::string out = two_sided(fmt::format("{} {}", report::strength_word(step.log_factor),
                                          report::seen_text(step.says, step.state, step.grade)),
                              times_text(step.log_factor), width, 1, 2);
  const std::string through = step.through.empty() ? "" : "through \"" + step.through + "\": ";
  const std::string& place = step.rule.empty() ? step.said_at : step.rule;
  out += wrapped(through + step.counts + (step.counts.empty() ? "(" : " (") + place + ")", width, 5,
                 2);
  if (step.finding != complaint_stayed && report::fits_others_better(step.state, step.log_factor))
    out += wrapped("other causes of this job show it more often", width, 5, 2);
  out += facts_line(step, width);
  if (!step.because.empty()) out += wrapped("because " + step.because, width, 5, 2);
  const std::string without = in_plain_counts(step.chance_without);
  if (without == in_plain_counts(reasons.chance)) return out;
  return out + wrapped("without it: " + without, width, 5, 2);
}

bool matters(const ReasonStep& step) { return std::fabs(step.log_factor) >= says_nothing; }
bool linked(const ReasonStep& step) {
  return !step.rule.empty() || step.finding == complaint_stayed;
}

/// The steps that `wanted` accepts, strongest first.
template <class Wanted>
std::vector<const ReasonStep*> strongest(const Reasons& reasons, Wanted wanted) {
  std::vector<const ReasonStep*> steps;
  for (const ReasonStep& step : reasons.chain) {
    if (matters(step) && wanted(step)) steps.push_back(&step);
  }
  std::stable_sort(steps.begin(), steps.end(), [](const ReasonStep* a, const ReasonStep* b) {
    return std::fabs(a->log_factor) > std::fabs(b->log_factor);
  });
  return steps;
}

std::string chain_section(const Reasons& reasons, const TextStyle& style, std::size_t width,
                          bool speaks_for) {
  const auto steps = strongest(reasons, [speaks_for](const ReasonStep& step) {
    return linked(step) && (step.log_factor > 0) == speaks_for;
  });
  std::string out = "\n" + heading(speaks_for ? "FOR" : "AGAINST", style);
  for (const ReasonStep* step : steps) out += step_lines(reasons, *step, width);
  if (steps.empty()) out += wrapped("nothing", width, 1, 0);
  return out;
}

// What no line of the rules links to the cause speaks through its rivals: each by itself says
// little.
std::string unlinked_section(const Reasons& reasons, const TextStyle& style, std::size_t width) {
  constexpr std::size_t most_named = 5;
  const auto steps = strongest(reasons, [](const ReasonStep& step) { return !linked(step); });
  if (steps.empty()) return {};
  double sum = 0.0;
  for (const ReasonStep* step : steps) sum += step->log_factor;
  std::string out =
      "\n" + heading("THROUGH OTHER CAUSES, which they make more or less likely", style);
  for (std::size_t i = 0; i < std::min(steps.size(), most_named); ++i) {
    out += two_sided(report::seen_text(steps[i]->says, steps[i]->state, steps[i]->grade),
                     times_text(steps[i]->log_factor), width, 1, 2);
  }
  if (steps.size() > most_named) {
    out += two_sided(fmt::format("all {} together", steps.size()), times_text(sum), width, 1, 2);
  }
  return out;
}

std::string sum_section(const Reasons& reasons, std::size_t width) {
  double sum = 0.0;
  for (const ReasonStep& step : reasons.chain) sum += step.log_factor;
  const auto neutral = std::count_if(reasons.chain.begin(), reasons.chain.end(),
                                     [](const ReasonStep& step) { return !matters(step); });
  std::string out =
      "\n" + wrapped(fmt::format(
                         "All together: {} from the start to {}. Each factor is taken after the "
                         "ones that stand before it in the rules, those through other causes last.",
                         times_text(sum), in_plain_counts(reasons.chance)),
                     width, 0, 0);
  if (neutral > 0)
    out +=
        wrapped(fmt::format("{} more facts say next to nothing about it.", neutral), width, 0, 0);
  return out;
}

std::string open_section(const Reasons& reasons, const TextStyle& style, std::size_t width) {
  std::string out;
  if (!reasons.unknown.empty()) out += "\n" + heading("NOT KNOWN, and it would matter", style);
  for (std::size_t i = 0; i < std::min(reasons.unknown.size(), most_open); ++i) {
    const OpenLink& link = reasons.unknown[i];
    out += wrapped(fmt::format("- {}: yes {}, no {}", link.says, in_plain_counts(link.if_yes),
                               in_plain_counts(link.if_no)),
                   width, 1, 2);
  }
  if (reasons.unknown.size() > most_open) {
    out += wrapped(fmt::format("{} more (--json lists all)", reasons.unknown.size() - most_open),
                   width, 3, 0);
  }
  if (!reasons.competitors.empty()) {
    out += "\n" + heading("OTHER CAUSES OF THE SAME FINDINGS", style);
    out += wrapped(report::joined(reasons.competitors), width, 1, 0);
  }
  return out;
}

std::string tipping_section(const Reasons& reasons, const TextStyle& style, std::size_t width) {
  if (!reasons.leads) return {};
  std::string out = "\n" + heading("WHICH COUNT WOULD CHANGE THE FIRST PLACE", style);
  if (reasons.tipping.empty())
    return out + wrapped("None by itself, whatever it were.", width, 1, 0);
  for (const TippingCount& count : reasons.tipping) {
    out += wrapped(fmt::format("- {} ({})", count.line, count.rule), width, 1, 2);
    out += wrapped(fmt::format("{} instead of {}: then first is {}", count.to, count.from,
                               count.then_first_says),
                   width, 5, 2);
  }
  return out;
}

std::string tipping_answers_section(const Reasons& reasons, const TextStyle& style,
                                    std::size_t width) {
  if (!reasons.leads) return {};
  std::string out = "\n" + heading("WHICH ANSWER WOULD CHANGE THE FIRST PLACE", style);
  const auto& answers = reasons.tipping_answers;
  if (answers.empty()) return out + wrapped("No single answer that is open.", width, 1, 2);
  for (std::size_t i = 0; i < std::min(answers.size(), most_open); ++i) {
    const TippingAnswer& answer = answers[i];
    out += wrapped(
        fmt::format("- {}: {} ({}): then first is {}", answer.says, answer.yes ? "yes" : "no",
                    in_plain_counts(answer.chance), answer.then_first_says),
        width, 1, 2);
  }
  if (answers.size() > most_open)
    out +=
        wrapped(fmt::format("{} more, less likely (--json lists all)", answers.size() - most_open),
                width, 3, 0);
  return out;
}

std::string known_separator(const Separator& separator, std::size_t width) {
  const std::string lead = separator.log_factor > 0 ? "for " : "against ";
  return two_sided(lead + report::seen_text(separator.says, separator.state, separator.grade),
                   times_text(separator.log_factor), width, 1, 2);
}

std::string unknown_separator(const Separator& separator, std::size_t width) {
  const std::string by = separator.found_by.empty() ? "" : ", by: " + separator.found_by;
  return wrapped(
      fmt::format("- {}{}. If it is this, yes in {}; if the other, in {}", separator.says, by,
                  in_plain_counts(separator.if_this), in_plain_counts(separator.if_other)),
      width, 1, 2);
}

std::string against_section(const Reasons& reasons, const TextStyle& style, std::size_t width) {
  if (!reasons.against) return {};
  constexpr std::size_t most_named = 8;
  const Against& against = *reasons.against;
  std::string about = wrapped("AGAINST THE OTHER: " + against.says, width, 0, 2);
  about.pop_back();
  std::string out = "\n" + heading(about, style);
  out += wrapped(fmt::format("The other stands in {} jobs like this. One without the other: {} for "
                             "this one.",
                             in_plain_counts(against.chance), times_text(against.log_odds)),
                 width, 1, 2);
  for (std::size_t i = 0; i < std::min(against.known.size(), most_named); ++i)
    out += known_separator(against.known[i], width);
  out += wrapped(against.unknown.empty() ? "Nothing that is still open would tell them apart."
                                         : "What would tell them apart, most first:",
                 width, 1, 2);
  for (std::size_t i = 0; i < std::min(against.unknown.size(), most_named); ++i)
    out += unknown_separator(against.unknown[i], width);
  return out;
}

}  // namespace

std::string to_text(const Reasons& reasons, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  return start_section(reasons, style, width) + chain_section(reasons, style, width, true) +
         chain_section(reasons, style, width, false) + unlinked_section(reasons, style, width) +
         sum_section(reasons, width) + open_section(reasons, style, width) +
         tipping_section(reasons, style, width) + tipping_answers_section(reasons, style, width) +
         against_section(reasons, style, width);
}

}  // namespace slipcase

// What to do next on screen: what now, why, the checks worth their cost, the repairs behind them.
#include <algorithm>

#include <fmt/core.h>

#include "report/lines.h"
#include "report/plan_words.h"
#include "report/supposed.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::Amounts;
using report::CautionNumbers;
using report::counts;
using report::heading;
using report::wrapped;

constexpr std::size_t most_outcomes = 5;
constexpr std::size_t most_not_worth_it = 3;
constexpr double worth_saying = 0.01;

bool is_worth_it(const CheckAdvice& check) { return check.net() > 0.0; }

class NextText {
 public:
  NextText(const NextAdvice& advice, const TextStyle& style)
      : advice_(advice), style_(style), width_(report::usable_width(style)), amounts_(advice) {}

  /// Section by section: cautions are numbered as they come.
  std::string text() {
    std::string out = now() + report::supposed_lines(advice_.supposed, width_);
    out += complaint();
    out += first();
    out += checks();
    out += repairs();
    out += "\n" + heading("MIND", style_) + cautions_.list(width_);
    return out + report::closing_lines(width_);
  }

 private:
  /// The one line for whoever reads no further.
  std::string now() const {
    const std::string job = advice_.job.empty() ? "" : "Job " + advice_.job + ". ";
    std::string what;
    if (!advice_.first.empty()) {
      const FirstThing& thing = advice_.first.front();
      what = fmt::format("First: {}, because {}.", thing.step.says, thing.because);
    } else if (const CheckAdvice* best = best_check()) {
      const bool question = best->step.kind == StepKind::question;
      what = fmt::format("{}: {}{} It costs {} and saves {} on average.",
                         question ? "Ask now" : "Check now", best->step.says, question ? "" : ".",
                         amounts_.text(best->cost), amounts_.text(best->gain));
    } else if (advice_.plan.empty()) {
      what = "Neither a check nor a repair of the rules is worth its cost for this complaint.";
    } else {
      what = fmt::format("No check is worth its cost. Repair: {}.",
                         report::together(advice_.plan.front().repairs));
    }
    return wrapped(job + what, width_, 0, 2);
  }

  [[nodiscard]] const CheckAdvice* best_check() const {
    const bool any = !advice_.checks.empty() && is_worth_it(advice_.checks.front());
    return any ? &advice_.checks.front() : nullptr;
  }

  std::string complaint() const {
    return "\n" + heading("THE COMPLAINT", style_) + report::complaint_lines(advice_, width_);
  }

  std::string first() {
    if (advice_.first.empty()) return {};
    std::string out = "\n" + heading("FIRST, before hard parts are judged", style_);
    for (const FirstThing& thing : advice_.first) {
      const std::string mind = cautions_.of(thing.step.cautions);
      out +=
          wrapped("- " + thing.step.says + (mind.empty() ? "" : " (" + mind + ")"), width_, 1, 2);
      out += wrapped("because " + thing.because, width_, 5, 2);
      out += report::step_lines(thing.before, "before it: ", width_, cautions_);
      if (thing.ends >= worth_saying)
        out += wrapped(
            fmt::format("that alone ends the complaint in {} jobs like this", counts(thing.ends)),
            width_, 5, 2);
    }
    return out;
  }

  std::string checks() {
    std::string worth;
    std::vector<const CheckAdvice*> others;
    for (const CheckAdvice& check : advice_.checks) {
      if (is_worth_it(check)) {
        worth += check_lines(check);
      } else {
        others.push_back(&check);
      }
    }
    if (worth.empty() && others.empty()) return {};
    std::string out = "\n" + heading("CHECKS, by what they save beyond cost", style_) + worth;
    return out + not_worth_it(others);
  }

  std::string not_worth_it(const std::vector<const CheckAdvice*>& others) const {
    if (others.empty()) return {};
    std::string list;
    for (std::size_t i = 0; i < others.size() && i < most_not_worth_it; ++i) {
      list += fmt::format("{}{} (costs {}, saves {})", i == 0 ? "" : "; ", others[i]->step.says,
                          amounts_.text(others[i]->cost), amounts_.text(others[i]->gain));
    }
    return wrapped("Not worth it now: " + list + ".", width_, 1, 2);
  }

  std::string check_lines(const CheckAdvice& check) {
    const std::string worth =
        fmt::format("costs {}, saves {}", amounts_.text(check.cost), amounts_.text(check.gain));
    std::string out = report::two_sided("- " + check.step.says, worth, width_, 1, 2);
    const std::string mind = cautions_.of(check.step.cautions);
    if (!check.step.how.empty() || !mind.empty())
      out += wrapped(check.step.how + (mind.empty() ? "" : " (" + mind + ")"), width_, 5, 2);
    for (std::size_t i = 0; i < check.outcomes.size() && i < most_outcomes; ++i)
      out += outcome_lines(check, check.outcomes[i]);
    if (check.outcomes.size() > most_outcomes)
      out += wrapped(fmt::format("{} rarer answers (--json lists them)",
                                 check.outcomes.size() - most_outcomes),
                     width_, 5, 2);
    if (check.more_findings > 0)
      out += wrapped(fmt::format("It answers {} more; they can only add to what it saves.",
                                 check.more_findings),
                     width_, 5, 2);
    return out;
  }

  /// "no", "Slips in 3rd; all else no".
  static std::string answer(const CheckAdvice& check, const CheckOutcome& outcome) {
    if (outcome.answers.size() == 1) return outcome.answers.front();
    std::string text;
    for (std::size_t i = 0; i < outcome.answers.size(); ++i) {
      if (outcome.answers[i] == "no") continue;
      text += (text.empty() ? "" : " and ") + check.findings[i].says;
      if (outcome.answers[i] != "yes") text += " (" + outcome.answers[i] + ")";
    }
    return text.empty() ? "nothing of it" : text;
  }

  std::string outcome_lines(const CheckAdvice& check, const CheckOutcome& outcome) const {
    const std::string plan = report::same_repairs(outcome.plan, advice_.plan)
                                 ? "the plan below stays"
                                 : report::plan_in_short(outcome.plan);
    std::string text =
        fmt::format("{}: in {} jobs like this. ", answer(check, outcome), counts(outcome.chance));
    if (!outcome.first_says.empty())
      text +=
          fmt::format("Likeliest then: {}, {}. ", outcome.first_says, counts(outcome.first_chance));
    text += fmt::format("Then: {}; {} on average.", plan, amounts_.text(outcome.cost));
    return wrapped(text, width_, 5, 2);
  }

  std::string repairs() {
    std::string out = "\n" + heading("REPAIRS, if nothing more is looked at", style_);
    if (!advice_.first.empty())
      out += wrapped(
          "For the case that the steps above do not end it, and only of what may be judged "
          "now: afterwards it can be another row.",
          width_, 1, 2);
    if (advice_.plan.empty()) {
      out +=
          wrapped("No repair of the rules ends this complaint often enough to be worth its cost.",
                  width_, 1, 2);
      if (!advice_.alone.empty()) {
        const RepairRound& best = advice_.alone.front();
        out += wrapped(fmt::format("The likeliest to end it: {}, in {} jobs like this, for {}.",
                                   report::together(best.repairs), counts(best.ends),
                                   amounts_.text(best.cost)),
                       width_, 1, 2);
      }
    } else {
      out += report::round_lines(advice_.plan, amounts_, width_, cautions_);
    }
    out += wrapped(expected(), width_, 1, 2);
    return out + report::cost_note(advice_, width_);
  }

  [[nodiscard]] std::string expected() const {
    std::string text = fmt::format("Until the complaint is gone: {} on average",
                                   amounts_.text(advice_.cost_of_repairs));
    if (best_check() != nullptr)
      text += fmt::format("; {} with the first check", amounts_.text(advice_.cost_with_check));
    return text + ".";
  }

  const NextAdvice& advice_;
  const TextStyle& style_;
  std::size_t width_;
  Amounts amounts_;
  CautionNumbers cautions_;
};

}  // namespace

std::string to_text(const NextAdvice& advice, const TextStyle& style) {
  return NextText(advice, style).text();
}

std::string to_text(const ComplaintGone& gone, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  const std::string job = gone.job.empty() ? "" : "Job " + gone.job + ". ";
  CautionNumbers cautions;
  std::string out = wrapped(job + "The complaint is gone with: " + gone.by.says + ".", width, 0, 2);
  out += report::supposed_lines(gone.supposed, width);
  out += "\n" + heading("THE COMPLAINT", style);
  for (const FindingReport& finding : gone.complaint)
    out += wrapped(report::seen_text(finding.says, finding.state, finding.grade), width, 1, 2);
  out += "\n" + heading("BEFORE HANDOVER, if not done since", style);
  out += gone.handover.empty()
             ? wrapped("The rules want nothing more after this repair.", width, 1, 2)
             : report::step_lines(gone.handover, "- ", width, cautions, 1);
  const std::string mind = cautions.list(width);
  return mind.empty() ? out : out + "\n" + heading("MIND", style) + mind;
}

std::string to_text(const NoComplaint&, const TextStyle& style) {
  return wrapped(
      "Nothing on the card is a complaint, so there is nothing to plan for. Write what "
      "the car does under `complaint: { findings: [...] }`, or answer what was seen.",
      report::usable_width(style), 0, 0);
}

}  // namespace slipcase

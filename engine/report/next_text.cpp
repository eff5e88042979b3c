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
using report::jobs;
using report::wrapped;

constexpr std::size_t most_outcomes = 5;
constexpr std::size_t most_outcomes_in_short = 3;
constexpr std::size_t most_not_worth_it = 3;
constexpr double worth_saying = 0.01;

bool is_worth_it(const CheckAdvice& check) { return check.pays; }

class NextText {
 public:
  NextText(const NextAdvice& advice, const TextStyle& style, bool all)
      : advice_(advice),
        style_(style),
        all_(all),
        width_(report::usable_width(style)),
        amounts_(advice),
        behind_first_(report::behind_first(advice.plan)) {}

  /// Section by section: cautions are numbered as they come.
  std::string text() {
    std::string out = now() + report::supposed_lines(advice_.supposed, width_);
    out += complaint();
    out += report::care_lines(advice_.cautions, width_, cautions_);
    out += first();
    out += checks();
    out += repairs();
    const std::string mind = cautions_.list(width_);
    if (all_ || !mind.empty()) out += "\n" + heading("MIND", style_) + mind;
    if (!all_ && left_out_)
      out += wrapped("With --all: how each step is done, and every answer.", width_, 1, 1);
    return out + report::closing_lines(width_);
  }

 private:
  [[nodiscard]] bool has_first_repair() const {
    return !advice_.plan.empty() && advice_.plan.front().comes_first;
  }

  /// The one line for whoever reads no further.
  std::string now() const {
    const std::string job = advice_.job.empty() ? "" : "Job " + advice_.job + ". ";
    std::string what;
    if (!advice_.first.empty()) {
      const FirstThing& thing = advice_.first.front();
      what = fmt::format("First: {}, because {}.", thing.step.says, thing.because);
    } else if (const CheckAdvice* best = best_check()) {
      const bool question = best->step.kind == StepKind::question;
      const std::string missing = report::still_missing(best->still_missing);
      what = fmt::format("{}: {}{}{} It costs {} and saves {} on average.",
                         question ? "Ask now" : "Check now", best->step.says,
                         missing.empty() ? "" : " (" + missing + ")", question ? "" : ".",
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
      out += wrapped("- " + report::named(thing.step, cautions_), width_, 1, 2);
      out += wrapped("because " + thing.because, width_, 5, 2);
      out += all_ ? report::step_lines(thing.before, "before it: ", width_, cautions_)
                  : report::steps_in_short(thing.before, "before it: ", width_, cautions_);
      if (thing.ends >= worth_saying)
        out +=
            wrapped(fmt::format("that alone ends the complaint in {} like this", jobs(thing.ends)),
                    width_, 5, 2);
    }
    return out;
  }

  std::string checks() {
    std::string worth;
    std::size_t told = 0;
    std::vector<const CheckAdvice*> others;
    for (const CheckAdvice& check : advice_.checks) {
      if (!is_worth_it(check)) {
        if (!check.needed_anyway) others.push_back(&check);
      } else {
        worth += check_lines(check, told++ == 0);
      }
    }
    if (worth.empty() && others.empty()) return {};
    const std::string_view title =
        has_first_repair() ? "CHECKS, if that does not end it, the one to begin with first"
                           : "CHECKS, the one to begin with first";
    return "\n" + heading(title, style_) + worth + not_worth_it(others);
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

  std::string check_lines(const CheckAdvice& check, bool first) {
    const bool now = first && advice_.first.empty();
    const std::string worth =
        fmt::format("costs {}, saves {}", amounts_.text(check.cost), amounts_.text(check.gain));
    std::string out =
        report::two_sided("- " + report::named(check.step, cautions_), worth, width_, 1, 2);
    const std::string missing = report::still_missing(check.still_missing);
    if (!missing.empty()) out += wrapped(missing, width_, 5, 2);
    if (check.needed_anyway)
      out += wrapped("A repair of the plan asks for it anyway; it is paid once.", width_, 5, 2);
    if ((all_ || now) && !check.step.how.empty()) out += wrapped(check.step.how, width_, 5, 2);
    return all_ || first ? out + outcome_lines(check) : out;
  }

  std::string outcome_lines(const CheckAdvice& check) {
    std::string out;
    const std::size_t most = all_ ? most_outcomes : most_outcomes_in_short;
    for (const CheckOutcome* outcome : told(check, most)) out += outcome_lines(check, *outcome);
    if (check.outcomes.size() > most) {
      const std::size_t rest = check.outcomes.size() - most;
      out += wrapped(fmt::format("{} more {} (told with {})", rest,
                                 rest == 1 ? "answer" : "answers", all_ ? "--json" : "--all"),
                     width_, 5, 2);
      left_out_ = true;
    }
    if (check.more_findings > 0)
      out += wrapped(fmt::format("It answers {} more; they can only add to what it saves.",
                                 check.more_findings),
                     width_, 5, 2);
    return out;
  }

  /// The likeliest answers; one that changes the plan is among them, if any does.
  [[nodiscard]] std::vector<const CheckOutcome*> told(const CheckAdvice& check,
                                                      std::size_t most) const {
    std::vector<const CheckOutcome*> list;
    bool any_changes = false;
    for (const CheckOutcome& outcome : check.outcomes) {
      const bool changes = !report::same_repairs(outcome.plan, behind_first_);
      if (list.size() < most) {
        list.push_back(&outcome);
      } else if (changes && !any_changes) {
        list.back() = &outcome;
      }
      any_changes = any_changes || changes;
    }
    return list;
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
    const std::string plan = report::same_repairs(outcome.plan, behind_first_)
                                 ? "the plan below stays"
                                 : report::plan_in_short(outcome.plan);
    std::string text =
        fmt::format("{}: in {} like this. ", answer(check, outcome), jobs(outcome.chance));
    if (!outcome.first_says.empty() && (all_ || advice_.first.empty()))
      text +=
          fmt::format("Likeliest then: {}, {}. ", outcome.first_says, counts(outcome.first_chance));
    text += fmt::format("Then: {}; {} on average.", plan, amounts_.text(outcome.cost));
    return wrapped(text, width_, 5, 2);
  }

  std::string repairs() {
    std::string out = "\n" + heading("REPAIRS, if nothing more is looked at", style_);
    for (std::size_t round = 0; round < advice_.plan.size(); ++round) {
      out += report::round_lines(advice_.plan, round, amounts_, width_, cautions_,
                                 all_ || (round == 0 && best_check() == nullptr));
      if (advice_.plan[round].comes_first) out += if_first_fails(advice_.plan[round]);
      left_out_ = true;
    }
    if (behind_first_.empty() && !has_first_repair()) out += no_repair();
    out += wrapped(expected(), width_, 1, 2);
    return out + report::cost_note(advice_, width_);
  }

  [[nodiscard]] std::string if_first_fails(const RepairRound& first) const {
    const std::string_view what =
        behind_first_.empty()
            ? "no repair of the rules is worth its cost by what is known today. Ask again then, "
              "with what was measured after it."
            : "this by what is known today. Ask again then, with what was measured after it: it "
              "can be another row.";
    return wrapped(fmt::format("If that does not end it ({}): {}", jobs(1.0 - first.ends), what),
                   width_, 1, 2);
  }

  [[nodiscard]] std::string no_repair() const {
    std::string out =
        wrapped("No repair of the rules ends this complaint often enough to be worth its cost.",
                width_, 1, 2);
    if (advice_.alone.empty()) return out;
    const RepairRound& best = advice_.alone.front();
    out += wrapped(
        fmt::format("The likeliest to end it: {}, in {} like this, for {}.",
                    report::together(best.repairs), jobs(best.ends), amounts_.text(best.cost)),
        width_, 1, 2);
    if (advice_.complaint.size() == 1) return out;
    return out + wrapped(fmt::format("The complaint is {} findings, and a repair has to end them "
                                     "all. If they may be two troubles, plan for each by itself: a "
                                     "card whose complaint names only what belongs together.",
                                     advice_.complaint.size()),
                         width_, 1, 2);
  }

  [[nodiscard]] std::string expected() const {
    std::string text = fmt::format("Until the complaint is gone: {} on average{}",
                                   amounts_.text(advice_.cost_of_repairs),
                                   advice_.first.empty() ? "" : ", with what comes first");
    if (best_check() != nullptr)
      text += fmt::format("; {} with the first check", amounts_.text(advice_.cost_with_check));
    return text + ".";
  }

  const NextAdvice& advice_;
  const TextStyle& style_;
  bool all_;
  bool left_out_ = false;
  std::size_t width_;
  Amounts amounts_;
  std::vector<RepairRound> behind_first_;
  CautionNumbers cautions_;
};

}  // namespace

std::string to_text(const NextAdvice& advice, const TextStyle& style, bool all) {
  return NextText(advice, style, all).text();
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

// A second opinion on screen: the verdict, what it rests on, and lines for the one who decides.
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
using report::two_sided;
using report::wrapped;

constexpr std::size_t most_reviewed = 5;
constexpr double least_reviewed = 0.005;
constexpr double cheap_beside_the_repair = 0.1;
constexpr double as_often_as_not = 0.495;
constexpr double worth_telling_of_part = 0.05;
constexpr double adds_nothing = 0.002;
constexpr double says_something = 0.1;  // ten in a hundred on the odds

/// What moves the figure less is left out: by so much, or where it is near nothing or all by so
/// many times.
constexpr double least_move = 0.03;
constexpr double least_times = 1.5;
constexpr double least_difference = 0.01;

bool moves(double ends, double without) {
  if (counts(ends) == counts(without) || std::abs(ends - without) < least_difference) return false;
  const auto times = [](double a, double b) { return std::max(a, b) / std::min(a, b); };
  return std::abs(ends - without) >= least_move || times(ends, without) >= least_times ||
         times(1.0 - ends, 1.0 - without) >= least_times;
}

/// "check the level" for "Check the level"; an abbreviation stays as it is.
std::string lower_first(std::string text) {
  const auto is_upper = [](char c) { return c >= 'A' && c <= 'Z'; };
  if (text.size() > 1 && is_upper(text[0]) && !is_upper(text[1]) && text[1] != ' ')
    text[0] = static_cast<char>(text[0] - 'A' + 'a');
  return text;
}

class ReviewText {
 public:
  ReviewText(const Review& review, const TextStyle& style)
      : review_(review),
        style_(style),
        width_(report::usable_width(style)),
        amounts_(review.best) {}

  /// Section by section: cautions are numbered as they come.
  std::string text() {
    std::string out = wrapped(verdict(), width_, 0, 2);
    out += report::supposed_lines(review_.best.supposed, width_);
    out += intended();
    out += complaint();
    out += report::care_lines(review_.best.cautions, width_, cautions_);
    out += costs();
    out += must_be_true();
    out += evidence();
    out += first_place();
    out += not_checked();
    out += not_met();
    out += "\n" + heading("MIND", style_) + cautions_.list(width_);
    return out + report::closing_lines(width_) + signature();
  }

 private:
  [[nodiscard]] std::string verdict() const {
    const std::string often = jobs(review_.ends) + " like this";
    switch (review_.verdict) {
      case Verdict::not_yet:
        return not_yet();
      case Verdict::check_first:
        return check_first(often);
      case Verdict::other_repair:
        return fmt::format("Another repair first: {}. This one ends the complaint in {}.",
                           report::together(review_.best.plan.front().repairs), often);
      case Verdict::go_ahead:
        return go_ahead(often);
      case Verdict::no_use:
        return fmt::format(
            "Not this repair: it ends the complaint in {}, too seldom for what it "
            "costs.",
            often);
    }
    return {};
  }

  [[nodiscard]] std::string go_ahead(const std::string& often) const {
    if (comes_first_anyway())
      return "Go ahead: it has to come first, before anything else can be judged.";
    if (review_.ends < as_often_as_not)
      return fmt::format(
          "{}, but more likely than not it will not end the complaint: it does in {}.",
          hardly_dearer() ? "The best plan is hardly cheaper" : "No cheaper way is in sight",
          often);
    return fmt::format(
        "Go ahead: it ends the complaint in {}, and {}.", often,
        hardly_dearer() ? "the best plan is hardly cheaper" : "no cheaper way is in sight");
  }

  [[nodiscard]] bool hardly_dearer() const {
    return amounts_.text(review_.cost_ahead) != amounts_.text(review_.cost_best);
  }

  /// What ends a distrust and is not itself intended.
  [[nodiscard]] std::vector<const FirstThing*> first_things() const {
    std::vector<const FirstThing*> things;
    for (const FirstThing& thing : review_.best.first)
      if (std::ranges::find(review_.repairs, thing.step.id, &StepReport::id) ==
          review_.repairs.end())
        things.push_back(&thing);
    return things;
  }

  [[nodiscard]] bool comes_first_anyway() const { return !review_.best.first.empty(); }

  [[nodiscard]] std::string not_yet() const {
    const auto first = first_things();
    if (!first.empty() || !review_.best.first.empty()) {
      const FirstThing& thing = first.empty() ? review_.best.first.front() : *first.front();
      return fmt::format("Not yet: first {}, because {}.", lower_first(thing.step.says),
                         thing.because);
    }
    const std::string because =
        review_.must_be_true.empty() ? "" : review_.must_be_true.front().not_judged_because;
    return "Not yet: nothing that it cures may be judged now, because " + because + ".";
  }

  [[nodiscard]] std::string check_first(const std::string& often) const {
    const CheckAdvice& check = review_.best.checks.front();
    const bool question = check.step.kind == StepKind::question;
    return fmt::format(
        "Not yet: first {}{} (costs {}, saves {} on average). The repair ends the complaint in {}.",
        question ? "ask: " : "", question ? check.step.says : lower_first(check.step.says),
        amounts_.text(check.cost), amounts_.text(check.gain), often);
  }

  std::string intended() {
    std::string out = "\n" + heading("INTENDED", style_);
    for (std::size_t r = 0; r < review_.repairs.size(); ++r) {
      const StepReport& repair = review_.repairs[r];
      const std::string mind = cautions_.of(repair.cautions);
      out += two_sided(repair.says, repair.id, width_, 1, 2);
      if (!repair.how.empty() || !mind.empty())
        out += wrapped(repair.how + (mind.empty() ? "" : " (" + mind + ")"), width_, 5, 2);
      if (review_.repairs.size() > 1 && r < review_.adds.size() && review_.adds[r] < adds_nothing)
        out += wrapped("It adds nothing: without it the rest ends the complaint as often.", width_,
                       5, 2);
    }
    return out + report::steps_in_short(review_.after, "after it: ", width_, cautions_);
  }

  std::string complaint() const {
    return "\n" + heading("THE COMPLAINT", style_) + report::complaint_lines(review_.best, width_) +
           parts();
  }

  /// Which part of the complaint stays, where they are not alike.
  std::string parts() const {
    std::string out;
    for (const ReviewPart& part : review_.parts) {
      if (part.remains < worth_telling_of_part) continue;
      std::string text =
          fmt::format("After the repair `{}` would remain in {}", part.finding, jobs(part.remains));
      if (moves(review_.ends, part.ends_without))
        text += fmt::format("; without it the repair ends the complaint in {}",
                            counts(part.ends_without));
      out += wrapped(text + ".", width_, 1, 2);
    }
    return out;
  }

  std::string costs() {
    std::string out = "\n" + heading("WHAT IT COSTS", style_);
    out +=
        two_sided("The intended repair, once", amounts_.text(review_.cost_of_round), width_, 1, 2);
    out += two_sided("Going ahead, until the complaint is gone, on average",
                     amounts_.text(review_.cost_ahead), width_, 1, 2);
    out += two_sided("The best plan, on average", amounts_.text(review_.cost_best), width_, 1, 2);
    return out + wrapped(best_plan(), width_, 1, 2) + report::cost_note(review_.best, width_);
  }

  [[nodiscard]] std::string best_plan() const {
    const auto& checks = review_.best.checks;
    const bool with_check = !checks.empty() && checks.front().pays;
    const std::string repairs = report::plan_in_short(report::behind_first(review_.best.plan));
    if (!review_.best.plan.empty() && review_.best.plan.front().comes_first)
      return fmt::format(
          "The best plan: {}; then, where that does not end it: {}.",
          report::together(review_.best.plan.front().repairs),
          with_check ? "\"" + checks.front().step.says + "\", and by its answer" : repairs);
    return with_check ? fmt::format("The best plan: \"{}\", then by its answer; without it: {}.",
                                    checks.front().step.says, repairs)
                      : "The best plan: " + repairs + ".";
  }

  std::string must_be_true() const {
    std::string out = "\n" + heading("TO BE RIGHT, one of these must be so", style_);
    if (review_.must_be_true.empty())
      return out + wrapped("Nothing that it cures itself is likely to make this complaint.", width_,
                           1, 2);
    for (std::size_t i = 0; i < review_.must_be_true.size() && i < most_reviewed; ++i) {
      const CuredCause& cause = review_.must_be_true[i];
      if (i > 0 && cause.chance.value() < least_reviewed) break;
      out += two_sided(cause.says, cause.judged ? in_plain_counts(cause.chance) : "not judged yet",
                       width_, 1, 2);
    }
    return out;
  }

  std::string evidence() const {
    std::string out;
    std::size_t told = 0;
    for (const ReviewEvidence& evidence : review_.evidence) {
      if (std::abs(evidence.log_factor) < says_something || told++ == most_reviewed) continue;
      const std::string lead =
          fmt::format(" {:<8} {:<9}", evidence.log_factor > 0 ? "for" : "against",
                      report::strength_word(evidence.log_factor));
      std::string text = report::seen_text(evidence.says, evidence.state, evidence.grade);
      if (moves(review_.ends, evidence.ends_without))
        text += ": without it " + counts(evidence.ends_without);
      out += report::led(lead, 19, text, width_);
    }
    if (out.empty()) return {};
    return "\n" + heading("FOR AND AGAINST, beside the complaint", style_) +
           wrapped(fmt::format("By the complaint alone it would end it in {} like this.",
                               jobs(review_.ends_by_complaint)),
                   width_, 1, 2) +
           out;
  }

  /// Nobody should trust a first place that hangs on one guess.
  std::string first_place() const {
    const FirstPlace& first = review_.first_place;
    if (first.id.empty()) return {};
    std::string out = "\n" + heading("WHAT THE RANKING HANGS ON", style_);
    out +=
        wrapped(fmt::format("It starts with: {}, {}.", first.says, in_plain_counts(first.chance)),
                width_, 1, 2);
    if (first.tipping.empty())
      return out + wrapped("No single count of the rules would change that.", width_, 1, 2);
    // Where it stands has a line of its own: how long a path is must not move the words.
    const TippingCount& count = first.tipping.front();
    out += wrapped(fmt::format("The single count that would change it soonest: \"{}\"", count.line),
                   width_, 1, 2);
    out += wrapped("(" + count.rule + ")", width_, 3, 0);
    return out + wrapped(fmt::format("With {} instead of {} it would start with: {}.", count.to,
                                     count.from, count.then_first_says),
                         width_, 1, 2);
  }

  /// Cheap beside the repair, or worth its cost.
  std::string not_checked() {
    std::string out;
    for (const CheckAdvice& check : review_.best.checks) {
      const bool cheap = check.cost <= cheap_beside_the_repair * review_.cost_of_round;
      if (!cheap && !check.pays) continue;
      out += two_sided(
          "- " + report::named(check.step, cautions_),
          fmt::format("costs {}, saves {}", amounts_.text(check.cost), amounts_.text(check.gain)),
          width_, 1, 2);
    }
    if (out.empty())
      out = wrapped("Nothing that is cheap and would change the plan.", width_, 1, 2);
    return "\n" + heading("NOT CHECKED, although it costs little", style_) + out;
  }

  std::string not_met() {
    std::string out = "\n" + heading("STILL TO COME BEFORE IT", style_);
    const auto first = first_things();
    if (review_.before.empty() && first.empty())
      return out + wrapped("Nothing: all that must come before it is recorded.", width_, 1, 2);
    for (const FirstThing* thing : first)
      out +=
          wrapped(fmt::format("- {}, because {}", thing->step.says, thing->because), width_, 1, 2);
    for (const StepReport& step : review_.before) {
      const auto same = [&](const FirstThing* thing) { return thing->step.id == step.id; };
      if (std::ranges::any_of(first, same)) continue;
      out += wrapped("- " + report::named(step, cautions_), width_, 1, 2);
      if (!step.how.empty()) out += wrapped(step.how, width_, 5, 2);
    }
    return out;
  }

  std::string signature() const {
    return "\n" + heading("DECISION, by the person who signs", style_) +
           " Decision: ____________________________\n"
           " Name:     ____________________________\n"
           " Date:     ____________________________\n";
  }

  const Review& review_;
  const TextStyle& style_;
  std::size_t width_;
  Amounts amounts_;
  CautionNumbers cautions_;
};

}  // namespace

std::string to_text(const Review& review, const TextStyle& style) {
  return ReviewText(review, style).text();
}

}  // namespace slipcase

#include "model/count_warnings.h"

#include <algorithm>

#include <fmt/core.h>

#include "model/messages.h"
#include "support/per_hundred.h"

namespace slipcase::model {

using grounding::GroundFinding;
using network::HiddenLink;

// One warning a line of the rules, however many members it reaches.
bool CountWarnings::first_time(const Place& place, const Message& message) {
  return warned_.insert({place, std::string(message.name)}).second;
}

std::string CountWarnings::name_of(GroundFinding finding, std::size_t grade) const {
  const std::string name = fmt::format("`{}`", ground_.name_of(finding));
  const auto& grades = ground_.declaration(finding).grades;
  if (grades.empty()) return name;
  return fmt::format("{} as `{}`{}", name, grades.at(grade).name,
                     grade + 1 < grades.size() ? " or more" : "");
}

void CountWarnings::below_the_rest(const CountedLink& link, GroundFinding finding,
                                   std::size_t grade, Probability rest) {
  if (!first_time(link.place, fewer_than_the_rest)) return;
  diagnostics_.add(
      fewer_than_the_rest, link.place,
      fmt::format("`{0}` shows {1} in {2} jobs, less often than the {3} that its `overall` leaves "
                  "for jobs without any cause. It is taken as no link: `{0}` does not make `{4}` "
                  "rarer",
                  link.from, name_of(finding, grade), link.line->at_least.at(grade)->text(),
                  per_hundred(rest.value()), ground_.name_of(finding)));
}

void CountWarnings::grades_disagree(const CountedLink& link, GroundFinding finding) {
  if (!first_time(link.place, model::grades_disagree)) return;
  diagnostics_.add(
      model::grades_disagree, link.place,
      fmt::format("the stronger grade of `{}` follows from `{}` more surely than this line's "
                  "weaker one: give the weaker grade the larger count",
                  ground_.name_of(finding), link.from));
}

void CountWarnings::overall(const Overall& overall, Expectation& expectation) {
  for (std::size_t g = overall.solved.base.size(); g-- > 0;) {
    if (overall.solved.causes_exceed[g]) {
      exceeded(overall, g, expectation);
    } else if (overall.solved.is_missed(overall.line, g)) {
      missed(overall, g);
    }
  }
}

void CountWarnings::exceeded(const Overall& overall, std::size_t grade, Expectation& expectation) {
  if (!first_time(overall.line.place, more_than_overall)) return;
  struct Part {
    double share;
    std::string name;
  };
  std::vector<Part> parts;
  std::vector<HiddenLink> links;
  for (std::size_t i = 0; i < overall.parents.size(); ++i) {
    const CountedParent& parent = overall.parents[i];
    const auto& counts = parent.line->at_least;
    if (grade >= counts.size() || !counts[grade]) continue;
    links.push_back({parent.parent, counts[grade]->share()});
    const double share =
        expectation.marginal(parent.parent).value() * counts[grade]->share().value();
    parts.push_back({share, overall.names[i]});
  }
  std::stable_sort(parts.begin(), parts.end(),
                   [](const Part& a, const Part& b) { return a.share > b.share; });
  std::string most;
  for (std::size_t i = 0; i < std::min<std::size_t>(parts.size(), 3); ++i) {
    most +=
        fmt::format("{}`{}` {}", i == 0 ? "" : ", ", parts[i].name, per_hundred(parts[i].share));
  }
  const double together = 1.0 - expectation.none_fires(links);
  const auto& written = overall.line.at_least;
  diagnostics_.add(
      more_than_overall, overall.line.place,
      fmt::format(
          "the causes listed already make {} appear in {} jobs ({}), and here it says overall "
          "in {}. One of these is off; until then it is taken as next to never without a cause",
          name_of(overall.finding, grade), per_hundred(together), most,
          grade < written.size() && written[grade] ? written[grade]->text() : "fewer"));
}

void CountWarnings::missed(const Overall& overall, std::size_t grade) {
  if (!first_time(overall.line.place, overall_missed)) return;
  const auto& base = overall.solved.base;
  const double rest = base[grade].rate.value();
  const bool held_up = grade + 1 < base.size() && rest == base[grade + 1].rate.value();
  const std::string why =
      held_up ? fmt::format("`{}` alone is there in {} jobs without any cause",
                            ground_.declaration(overall.finding).grades.at(grade + 1).name,
                            per_hundred(rest))
              : fmt::format("the causes listed leave no room for the {} of jobs without any cause",
                            per_hundred(rest));
  diagnostics_.add(
      overall_missed, overall.line.place,
      fmt::format("{} comes out in {} jobs, and here it says overall in {}; {}. One of the counts "
                  "is off",
                  name_of(overall.finding, grade), per_hundred(overall.solved.reached[grade]),
                  overall.line.at_least[grade]->text(), why));
}

}  // namespace slipcase::model

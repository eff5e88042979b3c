#include "advice/tipping.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/core.h>

#include "advice/outlook.h"
#include "model/counted_lines.h"
#include "support/sort_key.h"

namespace slipcase::advice {
namespace {

constexpr double tipping_effort = 8.0;

/// So many sets of numbers are held at a time.
constexpr std::size_t chunk = 64;

using Shares = std::vector<std::vector<double>>;

/// One count set to another number of hits.
struct Trial {
  std::size_t line = 0;
  std::size_t grade = 0;
  double hits = 0;
};

/// A count whose leader changes somewhere between `same` and `other`.
struct Bracket {
  Trial other;
  double same = 0;
  GroundCause then_first;
};

class Search {
 public:
  Search(JobModel& job, const Stories& stories)
      : job_(job),
        stories_(stories),
        counts_(job.rules(), job.states(), job.network()),
        solver_(job.network(), job.tried().failed,
                {.memory_bytes = job.memory_bytes(), .search_effort = tipping_effort}) {
    for (const model::CountedLine& line : counts_.lines()) shares_.push_back(line.shares());
    const auto now = solver_.solve_numbers(job.evidence(), {{counts_.numbers(shares_)}});
    leader_ = leader_of(now.front());
  }

  std::vector<TippingPoint> run(std::size_t how_many) {
    if (!leader_) return {};
    std::vector<Bracket> open = brackets();
    narrow(open);
    std::vector<TippingPoint> points;
    for (const Bracket& bracket : open) points.push_back(point(bracket));
    std::ranges::stable_sort(points, {}, distance);
    if (points.size() > how_many) points.resize(how_many);
    return points;
  }

 private:
  [[nodiscard]] const model::CountedLine& line(const Trial& trial) const {
    return counts_.lines()[trial.line];
  }
  [[nodiscard]] double hits(std::size_t line, std::size_t grade) const {
    return shares_[line][grade] * counts_.lines()[line].total();
  }

  /// The cause to start with, or none where the numbers rule the evidence out.
  [[nodiscard]] std::optional<GroundCause> leader_of(const network::Outcome& outcome) const {
    const auto* posterior = std::get_if<network::Posterior>(&outcome);
    if (posterior == nullptr) return std::nullopt;
    return stories_.leader(job_, posterior->hidden);
  }

  std::vector<std::optional<GroundCause>> leaders(const std::vector<Trial>& trials) {
    std::vector<std::optional<GroundCause>> result;
    for (std::size_t first = 0; first < trials.size(); first += chunk) {
      std::vector<network::Numbers> numbers;
      for (std::size_t i = first; i < std::min(first + chunk, trials.size()); ++i) {
        const Trial& trial = trials[i];
        const double before = shares_[trial.line][trial.grade];
        shares_[trial.line][trial.grade] = trial.hits / line(trial).total();
        numbers.push_back(counts_.numbers(shares_));
        shares_[trial.line][trial.grade] = before;
      }
      for (const auto& outcome : solver_.solve_numbers(job_.evidence(), numbers))
        result.push_back(leader_of(outcome));
    }
    return result;
  }

  /// Every count at both ends of what it could be; those where that changes the leader.
  std::vector<Bracket> brackets() {
    std::vector<Trial> ends;
    for (std::size_t l = 0; l < shares_.size(); ++l) {
      if (!counts_.lines()[l].place) continue;
      const double total = counts_.lines()[l].total();
      for (std::size_t g = 0; g < shares_[l].size(); ++g) {
        const double least = g + 1 < shares_[l].size() ? hits(l, g + 1) : 0.5;
        const double most = g > 0 ? hits(l, g - 1) : total - 0.5;
        if (least < hits(l, g)) ends.push_back({l, g, least});
        if (most > hits(l, g)) ends.push_back({l, g, most});
      }
    }
    const auto then = leaders(ends);
    std::vector<Bracket> open;
    for (std::size_t i = 0; i < ends.size(); ++i)
      if (then[i] && *then[i] != *leader_)
        open.push_back({ends[i], hits(ends[i].line, ends[i].grade), *then[i]});
    return open;
  }

  /// Halves every bracket until its ends are neighbouring whole numbers of hits.
  void narrow(std::vector<Bracket>& open) {
    for (;;) {
      std::vector<Trial> middles;
      std::vector<std::size_t> which;
      for (std::size_t i = 0; i < open.size(); ++i) {
        const double middle = std::round((open[i].same + open[i].other.hits) / 2);
        const double low = std::min(open[i].same, open[i].other.hits);
        const double high = std::max(open[i].same, open[i].other.hits);
        if (!(middle > low && middle < high)) continue;
        middles.push_back({open[i].other.line, open[i].other.grade, middle});
        which.push_back(i);
      }
      if (middles.empty()) return;
      const auto then = leaders(middles);
      for (std::size_t i = 0; i < middles.size(); ++i) {
        Bracket& bracket = open[which[i]];
        if (then[i] && *then[i] != *leader_) {
          bracket.other = middles[i];
          bracket.then_first = *then[i];
        } else {
          bracket.same = middles[i].hits;
        }
      }
    }
  }

  [[nodiscard]] TippingPoint point(const Bracket& bracket) const {
    return {.place = *line(bracket.other).place,
            .grade = bracket.other.grade,
            .hits = hits(bracket.other.line, bracket.other.grade),
            .needed = bracket.other.hits,
            .total = line(bracket.other).total(),
            .then_first = bracket.then_first};
  }

  static double distance(const TippingPoint& point) {
    const auto log_odds = [&](double hits) {
      return std::log(std::max(hits, 0.25)) - std::log(std::max(point.total - hits, 0.25));
    };
    return std::abs(log_odds(point.needed) - log_odds(point.hits));
  }

  JobModel& job_;
  const Stories& stories_;
  model::CountedLines counts_;
  network::Solver solver_;
  Shares shares_;
  std::optional<GroundCause> leader_;
};

std::string hits_text(double hits, double total) {
  return fmt::format("{:g} of {:g}", hits, total);
}

}  // namespace

std::vector<TippingPoint> tipping_points(JobModel& job, const Stories& stories,
                                         std::size_t how_many) {
  if (how_many == 0) return {};
  return Search(job, stories).run(how_many);
}

std::vector<TippingCount> tipping_counts(JobModel& job, const Stories& stories,
                                         std::size_t how_many, const SourceSet& sources) {
  std::vector<TippingCount> counts;
  for (const TippingPoint& point : tipping_points(job, stories, how_many)) {
    std::string_view line = sources.line_at(point.place.source, point.place.begin);
    line.remove_prefix(std::min(line.find_first_not_of(" \t"), line.size()));
    counts.push_back({sources.describe(point.place), std::string(line),
                      hits_text(point.hits, point.total), hits_text(point.needed, point.total),
                      job.ground().name_of(point.then_first), job.ground().says(point.then_first)});
  }
  return counts;
}

std::vector<TippingAnswer> tipping_answers(JobModel& job, const Stories& stories,
                                           const network::Posterior& now) {
  std::vector<GroundFinding> open;
  for (std::uint32_t f = 0; f < job.ground().findings.size(); ++f)
    if (is_open(job, GroundFinding{f}) && !job.network().findings[f].parents.empty())
      open.push_back({f});
  const auto first = stories.leader(job, now.hidden);
  std::vector<TippingAnswer> list;
  const auto add = [&](GroundFinding finding, bool yes, Probability chance,
                       const std::vector<Probability>& then) {
    if (chance == Probability::never()) return;
    const auto other = stories.leader(job, then);
    if (!other || other == first) return;
    list.push_back({job.ground().name_of(finding), job.ground().says(finding), yes, chance,
                    job.ground().name_of(*other), job.ground().says(*other)});
  };
  const auto ahead = outlooks(job, now, open);
  for (std::size_t i = 0; i < open.size(); ++i) {
    if (!ahead[i]) continue;
    add(open[i], true, ahead[i]->yes, ahead[i]->if_yes);
    add(open[i], false, ahead[i]->yes.inverted(), ahead[i]->if_no);
  }
  std::ranges::stable_sort(list, std::ranges::greater{},
                           [](const TippingAnswer& a) { return sort_key(a.chance.value()); });
  return list;
}

std::optional<FirstPlace> first_place(JobModel& job, std::size_t how_many,
                                      const SourceSet& sources) {
  const auto before = job.prior();
  const auto now = job.solve(job.evidence());
  const auto* prior = std::get_if<network::Posterior>(&before);
  const auto* posterior = std::get_if<network::Posterior>(&now);
  if (prior == nullptr || posterior == nullptr) return std::nullopt;
  const Stories stories(job, *prior, *posterior);
  const auto first = stories.leader(job, posterior->hidden);
  if (!first) return std::nullopt;
  return FirstPlace{job.ground().name_of(*first), job.ground().says(*first),
                    job.chance(*posterior, *first),
                    tipping_counts(job, stories, how_many, sources)};
}

}  // namespace slipcase::advice

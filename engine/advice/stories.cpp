#include "advice/stories.h"

#include <algorithm>
#include <cmath>

#include "advice/rank_job.h"

namespace slipcase::advice {

using network::Posterior;

namespace {

constexpr double likely = 0.15;
constexpr double least_share = 0.05;

/// A link that can have made the consequence.
struct Suspect {
  GroundCause origin;
  std::size_t link = 0;  // in network::Numbers
};

/// An origin that is there too seldom for its share to count is left out.
std::vector<Suspect> suspects(JobModel& job, const Posterior& now, GroundCause consequence) {
  const std::size_t h = job.hidden(consequence).at();
  const double chance = now.hidden.at(h).value();
  const auto& parents = job.network().hidden.at(h).parents;
  const std::size_t first = job.solver().wiring().parent_begin.at(h);
  std::vector<Suspect> list;
  for (std::size_t i = 0; i < parents.size(); ++i) {
    const auto* origin = std::get_if<GroundCause>(&job.rules().origin.at(parents[i].parent.at()));
    if (origin == nullptr || !job.states().judged.at(origin->at())) continue;
    if (job.chance(now, *origin).value() >= least_share * chance)
      list.push_back({*origin, first + i});
  }
  return list;
}

/// P(link fired | consequence, facts) = P(origin | ...) - P(origin, link did not fire | ...), the
/// latter from the same network with the link cut.
std::vector<Making> makings_of(JobModel& job, const Posterior& now, GroundCause consequence) {
  const std::vector<Suspect> list = suspects(job, now, consequence);
  if (list.empty()) return {};
  network::Evidence with_it = job.evidence();
  with_it.held.push_back({job.hidden(consequence), true});
  std::vector<network::Numbers> numbers(
      list.size() + 1, network::read_numbers(job.solver().wiring(), job.network()));
  for (std::size_t i = 0; i < list.size(); ++i) {
    numbers[i + 1].hidden_fire[list[i].link] = 0.0;
    numbers[i + 1].hidden_pass[list[i].link] = 1.0;
  }
  const std::vector<network::Outcome> outcomes = job.solver().solve_numbers(with_it, numbers);
  const auto* whole = std::get_if<Posterior>(&outcomes.front());
  if (whole == nullptr) return {};
  std::vector<Making> makings;
  for (std::size_t i = 0; i < list.size(); ++i) {
    double chance = job.chance(*whole, list[i].origin).value();
    // Without the link the consequence may be impossible; then it was this link.
    if (const auto* cut = std::get_if<Posterior>(&outcomes[i + 1])) {
      chance -= numbers[0].hidden_pass[list[i].link] *
                std::exp(cut->log_evidence - whole->log_evidence) *
                job.chance(*cut, list[i].origin).value();
    }
    if (chance >= least_share) makings.push_back({list[i].origin, consequence, chance});
  }
  return makings;
}

}  // namespace

bool is_raised(Probability before, Probability now) {
  constexpr double least_chance = 0.01;
  constexpr double clearly = 1.05;
  return now.value() >= least_chance && now.value() > clearly * before.value();
}

Stories::Stories(JobModel& job, const Posterior& before, const Posterior& now)
    : main_origin_(job.ground().causes.size()) {
  for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c)
    before_.push_back(job.chance(before, GroundCause{c}));
  find_makings(job, now);
  std::vector<GroundCause> raised;
  for (const GroundCause cause : by_chance(job, now)) {
    if (job.states().judged.at(cause.at()) &&
        is_raised(before_.at(cause.at()), job.chance(now, cause)))
      raised.push_back(cause);
  }
  fold(raised);
}

void Stories::find_makings(JobModel& job, const Posterior& now) {
  for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c) {
    const GroundCause consequence{c};
    if (!job.states().judged.at(c) || job.chance(now, consequence).value() < likely) continue;
    double most = 0.5;
    for (const Making& making : makings_of(job, now, consequence)) {
      makings_.push_back(making);
      if (making.chance <= most || job.chance(now, making.origin).value() < likely) continue;
      most = making.chance;
      main_origin_[c] = making.origin;
    }
  }
}

std::optional<GroundCause> Stories::maker_of(GroundCause consequence) const {
  return main_origin_.at(consequence.at());
}

/// `raised` is in the order of the ranking.
void Stories::fold(const std::vector<GroundCause>& raised) {
  for (const GroundCause cause : raised) {
    GroundCause start = cause;
    while (const auto maker = maker_of(start)) start = *maker;
    auto line = std::find_if(lines_.begin(), lines_.end(),
                             [start](const StoryLine& l) { return l.start == start; });
    if (line == lines_.end()) line = lines_.insert(line, StoryLine{start, {}});
    if (cause != start) line->then.push_back(cause);
  }
}

std::optional<GroundCause> Stories::first() const {
  if (lines_.empty()) return std::nullopt;
  return lines_.front().start;
}

std::optional<GroundCause> Stories::leader(const JobModel& job,
                                           const std::vector<Probability>& chances) const {
  const auto chance = [&](GroundCause cause) { return chances.at(job.hidden(cause).at()).value(); };
  std::optional<GroundCause> best;
  bool any_raised = false;
  for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c) {
    const GroundCause cause{c};
    if (!job.states().judged.at(c)) continue;
    const bool raised = is_raised(before_.at(c), chances.at(job.hidden(cause).at()));
    const bool better =
        !best || raised > any_raised || (raised == any_raised && chance(cause) > chance(*best));
    if (!better) continue;
    any_raised = raised;
    best = cause;
  }
  if (!best) return std::nullopt;
  for (auto maker = maker_of(*best); maker && chance(*maker) > chance(*best) / 2.0;
       maker = maker_of(*best))
    best = *maker;
  return best;
}

}  // namespace slipcase::advice

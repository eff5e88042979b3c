#include "advice/how_sure.h"

#include <algorithm>
#include <optional>

#include "model/draws.h"

namespace slipcase::advice {
namespace {

/// All draws share one plan, so a longer search for it pays.
constexpr double effort_for_one_plan = 8.0;

constexpr double tail = 0.05;

/// The value that a share `tail` of the sorted values lies below.
double quantile(const std::vector<double>& sorted, double share) {
  const double place = share * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const double part = place - static_cast<double>(below);
  if (below + 1 >= sorted.size()) return sorted.back();
  return sorted[below] * (1 - part) + sorted[below + 1] * part;
}

}  // namespace

std::vector<Spread> how_sure(JobModel& job, const Stories& stories, std::size_t draws,
                             std::uint64_t seed) {
  if (draws == 0) return {};
  model::Draws source(model::CountedLines(job.rules(), job.states(), job.network()), seed);
  std::vector<network::Numbers> numbers;
  for (std::size_t i = 0; i < draws; ++i) numbers.push_back(source.next());
  network::Solver solver(
      job.network(), job.tried().failed,
      {.memory_bytes = job.memory_bytes(), .search_effort = effort_for_one_plan});

  const std::size_t causes = job.ground().causes.size();
  std::vector<std::vector<double>> chances(causes);
  std::vector<std::size_t> firsts(causes, 0);
  for (const network::Outcome& outcome : solver.solve_numbers(job.evidence(), numbers)) {
    const auto* posterior = std::get_if<network::Posterior>(&outcome);
    if (posterior == nullptr) continue;
    for (std::uint32_t c = 0; c < causes; ++c)
      chances[c].push_back(job.chance(*posterior, GroundCause{c}).value());
    if (const auto first = stories.leader(job, posterior->hidden)) ++firsts.at(first->at());
  }
  if (causes == 0 || chances.front().empty()) return {};
  std::vector<Spread> result;
  for (std::size_t c = 0; c < causes; ++c) {
    std::ranges::sort(chances[c]);
    result.push_back({quantile(chances[c], tail), quantile(chances[c], 1 - tail),
                      static_cast<double>(firsts[c]) / static_cast<double>(chances[c].size())});
  }
  return result;
}

}  // namespace slipcase::advice

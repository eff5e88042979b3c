#include "self_check/run.h"

#include <algorithm>

namespace self_check {

namespace {

Network with_odds_times(Network network, double factor) {
  for (auto& hidden : network.hidden)
    if (hidden.is_cause) hidden.own = hidden.own.with_odds_times(factor);
  return network;
}

/// `is_true` in the order of the ranking.
void count_places(const std::vector<bool>& is_true, Places& places) {
  const auto place = std::ranges::find(is_true, true) - is_true.begin();
  ++places.jobs;
  places.first += place < 1 ? 1 : 0;
  places.among_three += place < 3 ? 1 : 0;
}

void count_job(const Job& job, const std::optional<Ranked>& ranked,
               const slipcase::model::RuleNetwork& rules, Run& result) {
  if (!ranked) {
    ++result.too_wide;
    return;
  }
  std::vector<bool> is_true;
  for (const RankedCause& entry : ranked->causes) {
    is_true.push_back(job.drawn.present.at(rules.of_cause.at(entry.cause.at()).at()));
    result.causes.add(entry.chance, is_true.back());
    const auto& declaration = rules.rules->declaration(entry.cause);
    result.by_cause[declaration.header.name].add(entry.chance, is_true.back());
  }
  const auto faults = static_cast<std::size_t>(std::ranges::count(is_true, true));
  result.faults += faults;
  result.nothing_listed.add(ranked->nothing_listed, faults == 0);
  result.widths.push_back(ranked->width);
  result.seconds.push_back(ranked->seconds);
  if (faults == 0) {
    ++result.without_fault;
  } else {
    count_places(is_true, faults == 1 ? result.one_fault : result.several_faults);
  }
}

}  // namespace

Places Run::all() const {
  return {one_fault.jobs + several_faults.jobs, one_fault.first + several_faults.first,
          one_fault.among_three + several_faults.among_three};
}

Run run_jobs(const Shipped& shipped, const RunOptions& options) {
  Run result;
  result.options = options;
  Random random(options.seed);
  JobSource source(shipped, options.setting, options.one_is_named);
  const auto counts = jobs_of_each_history(shipped, options.jobs, random);
  for (std::size_t h = 0; h < counts.size(); ++h) {
    const History& history = shipped.histories[h];
    Ranker ranker(shipped.rules(), with_odds_times(history.network, options.odds_times),
                  options.memory_bytes);
    const auto draw = [&](Random& engine) { return draw_job(history.network, engine); };
    for (std::size_t i = 0; i < counts[h]; ++i) {
      const Job job = source.next(history, draw, random);
      count_job(job, ranker.rank(job.known), shipped.rules(), result);
    }
  }
  result.draws = source.counts();
  return result;
}

}  // namespace self_check

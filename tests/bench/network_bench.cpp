// Times and widths of the exact inference on networks of the sizes that matter.
#include <algorithm>
#include <chrono>
#include <string>
#include <vector>

#include <benchmark/benchmark.h>

#include "bench/network_cases.h"
#include "network/solver.h"
#include "support/two_layer_files.h"

namespace slipcase::bench {
namespace {

constexpr std::size_t jobs_per_size = 8;

std::vector<Evidence> jobs(const Network& net, std::size_t positives, std::size_t negatives) {
  Random random(positives);
  std::vector<Evidence> result;
  for (std::size_t i = 0; i < jobs_per_size; ++i)
    result.push_back(job_with(random, net, 3, positives, negatives));
  return result;
}

void report_widths(benchmark::State& state, Solver& solver, const std::vector<Evidence>& all) {
  std::vector<unsigned> widths;
  for (const Evidence& e : all) widths.push_back(solver.plan_info(e).width);
  std::ranges::sort(widths);
  state.counters["width_median"] = widths[widths.size() / 2];
  state.counters["width_max"] = widths.back();
  state.counters["jobs"] = static_cast<double>(all.size());
}

/// Time per job, over the jobs in turn. `replan`: the plan is made anew each time.
void run_jobs(benchmark::State& state, const Network& net, const std::vector<Evidence>& all,
              bool replan) {
  Solver solver(net);
  report_widths(state, solver, all);
  std::size_t next = 0;
  for (auto _ : state) {
    if (replan) solver.forget_plans();
    benchmark::DoNotOptimize(solver.solve(all[next]));
    next = (next + 1) % all.size();
  }
}

void shop(benchmark::State& state) {
  Random random(1);
  const Network net = two_layer(random);
  const auto positives = static_cast<std::size_t>(state.range(0));
  run_jobs(state, net, jobs(net, positives, positives), state.range(1) != 0);
}
BENCHMARK(shop)
    ->ArgNames({"positives", "plan"})
    ->ArgsProduct({{5, 10, 15, 20, 25}, {0, 1}})
    ->Unit(benchmark::kMicrosecond);

const Network& large() {
  static const Network net = test::read_two_layer(SLIPCASE_TEST_DATA "/reference/qmr_big");
  return net;
}

void large_two_layer(benchmark::State& state) {
  const auto positives = static_cast<std::size_t>(state.range(0));
  run_jobs(state, large(), jobs(large(), positives, 2 * positives), state.range(1) != 0);
}
BENCHMARK(large_two_layer)
    ->ArgNames({"positives", "plan"})
    ->ArgsProduct({{5, 10, 15, 20, 25}, {0, 1}})
    ->Unit(benchmark::kMicrosecond);

std::vector<Evidence> full_jobs(const UnitNetwork& unit, std::size_t count) {
  Random random(7);
  std::vector<Evidence> all;
  for (std::size_t i = 0; i < count; ++i) all.push_back(fully_answered(random, unit));
  return all;
}

/// Every finding of a whole unit answered, 200 jobs.
void whole_unit(benchmark::State& state) {
  const UnitNetwork unit(3);
  run_jobs(state, unit.network(), full_jobs(unit, 200), state.range(0) != 0);
}
BENCHMARK(whole_unit)
    ->ArgNames({"plan"})
    ->Arg(0)
    ->Arg(1)
    ->Iterations(200)
    ->Unit(benchmark::kMillisecond);

/// One more finding answered "no": eight hypothetical answers a sweep.
void whole_unit_batch(benchmark::State& state) {
  const UnitNetwork unit(3);
  const std::vector<Evidence> all = full_jobs(unit, 20);
  Solver solver(unit.network());
  report_widths(state, solver, all);
  std::size_t next = 0;
  for (auto _ : state) {
    const std::vector<Evidence> same(8, all[next]);
    benchmark::DoNotOptimize(solver.solve_batch(same));
    next = (next + 1) % all.size();
  }
}
BENCHMARK(whole_unit_batch)->Iterations(40)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace slipcase::bench

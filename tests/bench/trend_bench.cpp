// Slope, range and step of one series: a vehicle's few visits, the most that are counted out
// exactly, and the longest series that is looked at.
#include <random>
#include <vector>

#include <benchmark/benchmark.h>

#include "book/judge.h"
#include "evaluation/slope_interval.h"

namespace {

using namespace slipcase;

std::vector<evaluation::TrendPoint> series(std::int64_t visits) {
  std::mt19937 random(1);
  std::normal_distribution<double> noise(0.0, 20.0);
  std::vector<evaluation::TrendPoint> list;
  for (std::int64_t i = 0; i < visits; ++i) {
    const auto number = static_cast<double>(i);
    list.push_back({5000.0 * number, 3.0 * number + noise(random)});
  }
  return list;
}

void range_of_a_slope(benchmark::State& state) {
  const auto list = series(state.range(0));
  for (auto _ : state) benchmark::DoNotOptimize(evaluation::slope_interval(list));
}
BENCHMARK(range_of_a_slope)->Arg(5)->Arg(10)->Arg(50)->Arg(200);

void everything_of_a_series(benchmark::State& state) {
  const auto list = series(state.range(0));
  for (auto _ : state) benchmark::DoNotOptimize(book::judge(list, {20.0, 56.6}));
}
BENCHMARK(everything_of_a_series)->Arg(5)->Arg(10)->Arg(50)->Arg(200);

}  // namespace

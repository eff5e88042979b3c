// What a user waits for: reading the shipped rules, ranking the demo job, ranking it fully
// answered.
#include <filesystem>

#include <benchmark/benchmark.h>

#include "slipcase/slipcase.h"

namespace {

using namespace slipcase;

const std::filesystem::path six_speed = std::filesystem::path(SLIPCASE_RULES) / "six_speed";

Knowledge shipped_knowledge() {
  Diagnostics diagnostics;
  RulePaths paths;
  paths.shipped = six_speed;
  return *load_knowledge(paths, std::make_shared<SourceSet>(), diagnostics).knowledge;
}

Job job_from(const Knowledge& knowledge, const char* card) {
  Diagnostics diagnostics;
  return *load_job(*read_card(six_speed / "jobs" / card, diagnostics).card, knowledge, diagnostics)
              .job;
}

void read_shipped_rules(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(shipped_knowledge());
}
BENCHMARK(read_shipped_rules)->Unit(benchmark::kMillisecond);

void read_demo_card(benchmark::State& state) {
  const Knowledge knowledge = shipped_knowledge();
  for (auto _ : state) benchmark::DoNotOptimize(job_from(knowledge, "demo.yaml"));
}
BENCHMARK(read_demo_card)->Unit(benchmark::kMillisecond);

void rank_job(benchmark::State& state, const char* card, std::size_t combinations) {
  const Knowledge knowledge = shipped_knowledge();
  const Job job = job_from(knowledge, card);
  RankOptions options;
  options.combinations = combinations;
  unsigned width = 0;
  for (auto _ : state) {
    const RankResult result = rank(knowledge, job, options);
    width = std::get<Ranking>(result).width;
  }
  state.counters["width"] = width;
}
BENCHMARK_CAPTURE(rank_job, demo_as_on_screen, "demo.yaml", 0)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(rank_job, demo_as_json, "demo.yaml", 5)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(rank_job, fully_answered_as_on_screen, "demo_all_answered.yaml", 0)
    ->Unit(benchmark::kMillisecond);

void explain_demo(benchmark::State& state) {
  const Knowledge knowledge = shipped_knowledge();
  const Job job = job_from(knowledge, "demo.yaml");
  for (auto _ : state) benchmark::DoNotOptimize(reasons(knowledge, job, {}));
}
BENCHMARK(explain_demo)->Unit(benchmark::kMillisecond);

}  // namespace

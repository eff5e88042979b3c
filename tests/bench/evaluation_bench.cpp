// Grounding, binding and evaluating: the shipped rules with a demonstration job, and made-up rule
// bases of two sizes in a mix of one and two thresholds and flags.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <memory>
#include <random>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include <benchmark/benchmark.h>
#include <fmt/core.h>

#include "evaluation/bind.h"
#include "evaluation/evaluator.h"
#include "facts/job_card.h"
#include "language/parse.h"
#include "profile/read_profile.h"
#include "rulebase/resolve.h"

namespace {

using namespace slipcase;
using evaluation::Answer;
using evaluation::JobFacts;
using evaluation::ReadingFact;

std::string contents(const std::filesystem::path& path) {
  std::ifstream file(path);
  if (!file) throw std::runtime_error("cannot read " + path.string());
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

struct Loaded {
  SourceSet sources;
  std::shared_ptr<const profile::Profile> profile;
  std::shared_ptr<const rulebase::Rulebase> rules;
  std::shared_ptr<const grounding::GroundRules> ground;
};

template <class T>
T taken(std::optional<T> value, const Diagnostics& diagnostics, const SourceSet& sources) {
  if (value) return std::move(*value);
  std::string all;
  for (const auto& diagnostic : diagnostics.list()) all += render(diagnostic, sources) + "\n";
  throw std::runtime_error(all);
}

Loaded load(const std::vector<std::string>& texts) {
  Loaded made;
  Diagnostics said;
  const auto folder = std::filesystem::path(SLIPCASE_RULES) / "six_speed";
  const auto id = made.sources.add("profile.yaml", contents(folder / "profile.yaml"));
  made.profile = std::make_shared<const profile::Profile>(
      taken(profile::read_profile(made.sources, id, said), said, made.sources));
  std::vector<language::File> files;
  for (const auto& text : texts) {
    files.push_back(language::parse(made.sources, made.sources.add("x.rules", text), said));
  }
  made.rules = std::make_shared<const rulebase::Rulebase>(
      taken(rulebase::resolve(files, made.profile->vocabulary, said), said, made.sources));
  made.ground = std::make_shared<const grounding::GroundRules>(
      taken(grounding::ground(made.rules, made.profile, said), said, made.sources));
  return made;
}

Loaded shipped() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(SLIPCASE_RULES) / "six_speed")) {
    if (entry.path().extension() == ".rules") files.push_back(entry.path());
  }
  std::ranges::sort(files);
  std::vector<std::string> texts;
  for (const auto& file : files) texts.push_back(contents(file));
  return load(texts);
}

facts::JobCard card_of(SourceSet& sources, const std::string& text) {
  Diagnostics said;
  const auto id = sources.add("card.yaml", text);
  return taken(facts::read_job_card(sources, id, said), said, sources);
}

facts::JobCard demo(SourceSet& sources) {
  return card_of(sources,
                 contents(std::filesystem::path(SLIPCASE_RULES) / "six_speed/jobs/demo.yaml"));
}

JobFacts bound(const grounding::GroundRules& rules, const facts::JobCard& card,
               const SourceSet& sources) {
  Diagnostics said;
  return taken(evaluation::bind(rules, card, said), said, sources);
}

/// `count` findings of each of the five elements over 16 readings: 60 % two thresholds, 30 % one
/// and two flags, 10 % two flags.
std::string made_up(int count) {
  std::mt19937 random(7);
  const auto pick = [&](int n) { return std::uniform_int_distribution<int>(0, n - 1)(random); };
  std::string text = "language 1\n";
  for (int i = 0; i < 16; ++i) text += fmt::format("reading value_{} of element : pressure\n", i);
  for (int i = 0; i < 10; ++i) {
    text += fmt::format("finding flag_{} asks \"?\" otherwise in 1 of 100 jobs\n", i);
  }
  for (int i = 0; i < count; ++i) {
    const auto over = [&] {
      return fmt::format("value_{} of element > {} mbar", pick(16), pick(100));
    };
    const auto flag = [&] { return fmt::format("flag_{}", pick(10)); };
    const int kind = pick(10);
    const std::string when = kind < 6   ? over() + " and " + over()
                             : kind < 9 ? over() + " and " + flag() + " and not " + flag()
                                        : flag() + " or " + flag();
    text +=
        fmt::format("finding found_{} of element when {} otherwise in 1 of 100 jobs\n", i, when);
  }
  return text;
}

JobFacts some_job(Loaded& loaded) {
  const auto card =
      card_of(loaded.sources, "opened: 2031-04-17\nreadings: [ { date: 2031-04-17 } ]\n");
  JobFacts facts = bound(*loaded.ground, card, loaded.sources);
  std::mt19937 random(11);
  const auto pick = [&](int n) { return std::uniform_int_distribution<int>(0, n - 1)(random); };
  for (auto& reading : facts.readings) {
    if (pick(100) < 15) continue;
    reading.said = ReadingFact::Said::value;
    reading.value = pick(100) * 100.0;
  }
  for (std::size_t i = 0; i < 10; ++i) {
    if (pick(100) < 15) continue;
    facts.answers[i].said = pick(2) == 0 ? Answer::Said::yes : Answer::Said::no;
  }
  return facts;
}

void ground_shipped(benchmark::State& state) {
  const Loaded loaded = shipped();
  for (auto _ : state) {
    Diagnostics said;
    benchmark::DoNotOptimize(grounding::ground(loaded.rules, loaded.profile, said));
  }
}
BENCHMARK(ground_shipped)->Unit(benchmark::kMicrosecond);

void bind_demo(benchmark::State& state) {
  Loaded loaded = shipped();
  const auto card = demo(loaded.sources);
  for (auto _ : state) {
    benchmark::DoNotOptimize(bound(*loaded.ground, card, loaded.sources));
  }
}
BENCHMARK(bind_demo)->Unit(benchmark::kMicrosecond);

void evaluate_demo(benchmark::State& state) {
  Loaded loaded = shipped();
  const JobFacts facts = bound(*loaded.ground, demo(loaded.sources), loaded.sources);
  evaluation::Evaluator evaluator(loaded.ground);
  for (auto _ : state) benchmark::DoNotOptimize(&evaluator.evaluate(facts));
  state.SetItemsProcessed(state.iterations());
}
BENCHMARK(evaluate_demo)->Unit(benchmark::kMicrosecond);

void change_answer_demo(benchmark::State& state) {
  Loaded loaded = shipped();
  evaluation::Evaluator evaluator(loaded.ground);
  evaluator.evaluate(bound(*loaded.ground, demo(loaded.sources), loaded.sources));
  const auto finding = *loaded.ground->find_finding("level_low");
  Answer answer;
  for (auto _ : state) {
    answer.said = answer.said == Answer::Said::yes ? Answer::Said::no : Answer::Said::yes;
    benchmark::DoNotOptimize(&evaluator.change_answer(finding, answer));
  }
}
BENCHMARK(change_answer_demo)->Unit(benchmark::kMicrosecond);

void evaluate_made_up(benchmark::State& state) {
  Loaded loaded = load({made_up(static_cast<int>(state.range(0)))});
  const JobFacts facts = some_job(loaded);
  evaluation::Evaluator evaluator(loaded.ground);
  for (auto _ : state) benchmark::DoNotOptimize(&evaluator.evaluate(facts));
  state.SetItemsProcessed(state.iterations());
  state.counters["rules"] = static_cast<double>(loaded.ground->findings.size());
  state.counters["instructions"] = static_cast<double>(loaded.ground->programs.code.size());
}
BENCHMARK(evaluate_made_up)->Arg(60)->Arg(300)->Unit(benchmark::kMicrosecond);

void ground_made_up(benchmark::State& state) {
  const Loaded loaded = load({made_up(static_cast<int>(state.range(0)))});
  for (auto _ : state) {
    Diagnostics said;
    benchmark::DoNotOptimize(grounding::ground(loaded.rules, loaded.profile, said));
  }
}
BENCHMARK(ground_made_up)->Arg(60)->Arg(300)->Unit(benchmark::kMicrosecond);

}  // namespace

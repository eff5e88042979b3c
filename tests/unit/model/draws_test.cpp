#include "model/draws.h"

#include <cmath>
#include <string>

#include <doctest/doctest.h>
#include <fmt/core.h>

#include "support/job_bench.h"

namespace slipcase::test {
namespace {

using model::Draws;
using network::Numbers;

/// Invented; every kind of count there is. `times` the jobs behind each.
std::string rules(std::uint64_t times) {
  const auto count = [times](std::uint64_t k, std::uint64_t n) {
    return fmt::format(" in {} of {} jobs", k * times, n * times);
  };
  const auto grades = [times](std::uint64_t some, std::uint64_t much, std::uint64_t n) {
    return fmt::format(" some or more in {}, much in {} of {} jobs", some * times, much * times,
                       n * times);
  };
  std::string text;
  text += "finding noise\n  asks \"Is there a noise?\"\n  otherwise" + count(1, 20) + "\n";
  text += "finding slip of element\n  asks \"Slip?\"\n  grade some\n  grade much\n  otherwise" +
          grades(2, 1, 50) + "\n";
  text += "finding heat\n  asks \"Heat?\"\n  overall" + count(10, 50) + "\n";
  text += "inside loose of element\n  otherwise" + count(1, 40) + "\n  shows slip of element" +
          grades(7, 3, 10) + "\n";
  text += "cause worn of element\n  found" + count(8, 100) + " together\n  shows loose of element" +
          count(9, 10) + "\n  shows noise" + count(4, 10) + "\n";
  text += "cause old\n  found" + count(5, 40) + "\n  shows heat" + count(6, 10) +
          "\n  then causes worn of K1" + count(3, 10) + "\n";
  return text;
}

constexpr std::string_view card =
    "answers: {noise: yes, heat: no, slip: {K1: much, K2: no, others: some}}\n";

struct Bench {
  explicit Bench(std::uint64_t times)
      : job(rules(times)),
        states(job.evaluate(card)),
        network(model::build_network(job.shared_rules(), diagnostics)),
        of_job(model::network_for(network, states)) {}

  [[nodiscard]] Draws draws(std::uint64_t seed) const {
    return {model::CountedLines(network, states, of_job), seed};
  }
  [[nodiscard]] Numbers plain() const {
    return network::read_numbers(network::lay_out(of_job), of_job);
  }

  JobBench job;
  Diagnostics diagnostics;
  evaluation::Evaluation states;
  model::RuleNetwork network;
  network::Network of_job;
};

std::vector<std::vector<double> Numbers::*> all_numbers() {
  return {&Numbers::own_yes,  &Numbers::own_no,  &Numbers::hidden_fire, &Numbers::hidden_pass,
          &Numbers::leak_yes, &Numbers::leak_no, &Numbers::link_fire,   &Numbers::link_pass};
}

TEST_CASE("with very many jobs behind each count a draw is the number itself") {
  const Bench bench(1'000'000'000);
  const Numbers plain = bench.plain();
  const Numbers drawn = bench.draws(1).next();
  for (const auto list : all_numbers()) {
    REQUIRE((drawn.*list).size() == (plain.*list).size());
    for (std::size_t i = 0; i < (plain.*list).size(); ++i) {
      CAPTURE(i);
      CHECK((drawn.*list)[i] == doctest::Approx((plain.*list)[i]).epsilon(0.002));
    }
  }
}

TEST_CASE("draws keep the mean of the rates") {
  const Bench bench(1);
  const Numbers plain = bench.plain();
  Draws draws = bench.draws(7);
  constexpr int rounds = 4000;
  std::vector<double> own(plain.own_yes.size(), 0.0);
  std::vector<double> leak(plain.leak_yes.size(), 0.0);
  for (int i = 0; i < rounds; ++i) {
    const Numbers drawn = draws.next();
    for (std::size_t h = 0; h < own.size(); ++h) own[h] += drawn.own_yes[h] / rounds;
    for (std::size_t f = 0; f < leak.size(); ++f) leak[f] += drawn.leak_yes[f] / rounds;
  }
  // Four standard errors of a mean of 4000 draws of Beta(1, 19) are 0.003.
  for (std::size_t h = 0; h < own.size(); ++h) CHECK(std::abs(own[h] - plain.own_yes[h]) < 0.004);
  for (std::size_t f = 0; f < leak.size(); ++f)
    CHECK(std::abs(leak[f] - plain.leak_yes[f]) < 0.005);
}

TEST_CASE("members that share a line of the rules share its draw") {
  const Bench bench(1);
  const Numbers drawn = bench.draws(3).next();
  const auto own = [&](std::string_view cause) {
    const auto id = bench.network.of_cause[bench.job.cause(cause).at()];
    return drawn.own_yes[id.at()];
  };
  CHECK(own("worn of K2") == own("worn of B1"));
  CHECK(own("worn of K2") != own("old"));
}

TEST_CASE("the same seed draws the same numbers, another one others") {
  const Bench bench(1);
  CHECK(bench.draws(5).next().own_yes == bench.draws(5).next().own_yes);
  CHECK(bench.draws(5).next().own_yes != bench.draws(6).next().own_yes);
}

TEST_CASE("more jobs behind the counts bring the draws closer together") {
  double last = 1.0;
  for (const std::uint64_t times : {1U, 10U, 100U}) {
    const Bench bench(times);
    const double mean = bench.plain().own_yes[0];
    Draws draws = bench.draws(2);
    double spread = 0.0;
    for (int i = 0; i < 300; ++i) spread += std::abs(draws.next().own_yes[0] - mean) / 300;
    CHECK(spread < last / 2);
    last = spread;
  }
}

}  // namespace
}  // namespace slipcase::test

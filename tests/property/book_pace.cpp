// How often readings that only scatter are told as fast, and how often fast ones are missed. Series
// are drawn at random; one reading scatters by 20 mbar, the limit is 300.
#include <cmath>
#include <random>
#include <vector>

#include <doctest/doctest.h>

#include "book/pace.h"

namespace slipcase::book {
namespace {

const Scatter drawn_scatter{20.0, 2.0 * std::sqrt(2.0) * 20.0, 1500.0};

/// Of 4000 series of so many visits, `run` km apart: in what share the look is "act".
double share_of_act(double level, double per_visit, int visits, double run) {
  const PaceLimits drawn_limits{-300.0, 300.0, drawn_scatter.least_difference, 22500.0, 1500.0};
  std::mt19937 random(31);
  std::normal_distribution<double> error(0.0, 20.0);
  constexpr int series = 4000;
  int act = 0;
  for (int s = 0; s < series; ++s) {
    std::vector<evaluation::TrendPoint> list;
    for (int i = 0; i < visits; ++i)
      list.push_back({50000.0 + run * i, level + per_visit * i + error(random)});
    const Pace pace = pace_of(list, judge(list, drawn_scatter), drawn_limits);
    const bool fast = pace != Pace::slow && pace != Pace::watch;
    act += fast || is_near_limit(list.back().value, drawn_limits) ? 1 : 0;
  }
  return static_cast<double>(act) / series;
}

TEST_CASE("what only scatters is rarely told as fast") {
  for (const double level : {0.0, 20.0, 40.0, 80.0}) {
    for (const int visits : {2, 3, 5, 8}) {
      CAPTURE(level);
      CAPTURE(visits);
      CHECK(share_of_act(level, 0.0, visits, 15000.0) < 0.03);
      CHECK(share_of_act(level, 0.0, visits, 22500.0) < 0.01);
    }
  }
}

TEST_CASE("what is fast is rarely missed") {
  CHECK(share_of_act(0.0, 90.0, 2, 22500.0) > 0.6);
  CHECK(share_of_act(0.0, 120.0, 2, 22500.0) > 0.9);
  CHECK(share_of_act(0.0, 90.0, 3, 22500.0) > 0.9);
  CHECK(share_of_act(0.0, 90.0, 4, 22500.0) > 0.99);
}

TEST_CASE("what only scatters is rarely told as moving faster and faster") {
  std::mt19937 random(32);
  std::normal_distribution<double> error(20.0, 20.0);
  for (const int visits : {4, 5, 6, 8}) {
    int bending = 0;
    for (int s = 0; s < 4000; ++s) {
      std::vector<evaluation::TrendPoint> list;
      for (int i = 0; i < visits; ++i) list.push_back({50000.0 + 15000.0 * i, error(random)});
      bending += judge(list, drawn_scatter).shape == TrendShape::bending ? 1 : 0;
    }
    CAPTURE(visits);
    CHECK(bending < 80);
  }
}

}  // namespace
}  // namespace slipcase::book

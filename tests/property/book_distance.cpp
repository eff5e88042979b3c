// How often the distance to a limit holds where the limit is truly reached: drawn series, a
// straight drift and readings that scatter as the profile says (20 mbar, limit 300 mbar).
// docs/trends.md has the outcome.
#include <cmath>
#include <random>
#include <vector>

#include <doctest/doctest.h>

#include "book/judge.h"

namespace slipcase::book {
namespace {

struct Outcome {
  int told = 0;
  int held = 0;
  int too_late = 0;  // the limit came before the near end
};

/// `drift` in mbar from visit to visit.
Outcome draw(int visits, double drift) {
  const Scatter scatter{20.0, 2.0 * std::sqrt(2.0) * 20.0};
  const double truth = 300.0 / drift;
  std::mt19937 random(31);
  std::normal_distribution<double> noise(0.0, scatter.one);
  Outcome outcome;
  for (int i = 0; i < 2000; ++i) {
    std::vector<evaluation::TrendPoint> list;
    for (int v = 0; v < visits; ++v) list.push_back({1.0 * v, drift * v + noise(random)});
    const auto fitted = fit(list, scatter);
    if (!fitted || !fitted->moved) continue;
    const double level = 2.0 * scatter.one / std::sqrt(1.0 * visits);
    const auto found = evaluation::limit_crossing(list, fitted->range, 300.0, level);
    if (!found) continue;
    ++outcome.told;
    outcome.held += found->earliest <= truth && truth <= found->latest ? 1 : 0;
    outcome.too_late += found->earliest > truth ? 1 : 0;
  }
  return outcome;
}

TEST_CASE("a distance that is told holds the true one in 95 of 100, and is hardly ever too late") {
  for (const int visits : {3, 4, 6, 10}) {
    for (const double drift : {15.0, 40.0}) {
      const Outcome outcome = draw(visits, drift);
      CAPTURE(visits);
      CAPTURE(drift);
      CAPTURE(outcome.told);
      // A drift that few readings can hardly show is told where chance makes it look faster.
      const bool hardly_seen = visits < 6 && drift < 20.0;
      CHECK(outcome.held * 100 >= outcome.told * (hardly_seen ? 85 : 95));
      CHECK(outcome.too_late * 100 <= outcome.told);
      if (hardly_seen) CHECK(outcome.told < 400);
    }
  }
}

}  // namespace
}  // namespace slipcase::book

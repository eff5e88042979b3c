#include "model/expectation.h"

#include <doctest/doctest.h>

#include "model/overall.h"

using namespace slipcase;
using network::Hidden;
using network::HiddenId;
using network::HiddenLink;
using network::Network;

namespace {

Probability p(double value) { return *Probability::from(value); }

Hidden root(double rate) { return {p(rate), {}, true}; }

}  // namespace

TEST_CASE("unrelated parents multiply") {
  const Network network{{root(0.1), root(0.3)}, {}};
  model::Expectation expectation(network);
  const std::vector<HiddenLink> parents{{HiddenId{0}, p(0.5)}, {HiddenId{1}, p(0.8)}};
  CHECK(expectation.none_fires(parents) == doctest::Approx((1 - 0.05) * (1 - 0.24)).epsilon(1e-14));
}

TEST_CASE("parents with a common origin do not multiply") {
  // Invented: a root of rate 0.2 makes each of two insides with 0.9; their own rates are 0.01.
  Network network{{root(0.2)}, {}};
  for (int i = 0; i < 2; ++i) network.hidden.push_back({p(0.01), {{HiddenId{0}, p(0.9)}}, false});
  model::Expectation expectation(network);
  const std::vector<HiddenLink> parents{{HiddenId{1}, p(0.7)}, {HiddenId{2}, p(0.7)}};
  const auto fires_none = [](double present) { return 1 - 0.7 * present; };
  const double with_root = 1 - 0.99 * 0.1;
  const double by_hand = 0.2 * fires_none(with_root) * fires_none(with_root) +
                         0.8 * fires_none(0.01) * fires_none(0.01);
  CHECK(expectation.none_fires(parents) == doctest::Approx(by_hand).epsilon(1e-13));
  CHECK(expectation.marginal(HiddenId{1}).value() ==
        doctest::Approx(0.2 * with_root + 0.8 * 0.01).epsilon(1e-13));
}

TEST_CASE("a certain parent that always fires leaves nothing") {
  const Network network{{root(1.0)}, {}};
  model::Expectation expectation(network);
  const std::vector<HiddenLink> parents{{HiddenId{0}, Probability::certain()}};
  CHECK(expectation.none_fires(parents) == 0.0);
}

TEST_CASE("an overall share is met exactly by the rate that is solved for") {
  const Network network{{root(0.1), root(0.05)}, {}};
  model::Expectation expectation(network);
  const rulebase::GradedLine first{{units::Count::from(8, 10)}, false, {}};
  const rulebase::GradedLine second{{units::Count::from(4, 10)}, false, {}};
  const rulebase::GradedLine overall{{units::Count::from(25, 100)}, false, {}};
  const auto solved = model::solve_overall(
      overall, 1, 1, {{HiddenId{0}, &first}, {HiddenId{1}, &second}}, expectation);
  const double a = solved.base[0].rate.value();
  const double absent = (1 - a) * (0.9 + 0.1 * (0.2 / (1 - a))) * (0.95 + 0.05 * (0.6 / (1 - a)));
  CHECK(1 - absent == doctest::Approx(0.25).epsilon(1e-12));
  CHECK_FALSE(solved.causes_exceed[0]);
}

TEST_CASE("causes that exceed the overall share leave half a count and say so") {
  const Network network{{root(0.5)}, {}};
  model::Expectation expectation(network);
  const rulebase::GradedLine shows{{units::Count::from(9, 10)}, false, {}};
  const rulebase::GradedLine overall{{units::Count::from(10, 100)}, false, {}};
  const auto solved = model::solve_overall(overall, 1, 1, {{HiddenId{0}, &shows}}, expectation);
  CHECK(solved.causes_exceed[0]);
  CHECK(solved.base[0].rate.value() == doctest::Approx(0.005).epsilon(1e-12));
}

TEST_CASE("each grade of an overall share is solved for, the stronger never above the weaker") {
  const Network network{{root(0.1)}, {}};
  model::Expectation expectation(network);
  const rulebase::GradedLine shows{
      {units::Count::from(7, 10), units::Count::from(5, 10)}, false, {}};
  const rulebase::GradedLine overall{
      {units::Count::from(20, 100), units::Count::from(10, 100)}, false, {}};
  const auto solved = model::solve_overall(overall, 2, 1, {{HiddenId{0}, &shows}}, expectation);
  for (std::size_t g = 0; g < 2; ++g) {
    const double a = solved.base[g].rate.value();
    const double left = g == 0 ? 0.3 : 0.5;
    CHECK(1 - (1 - a) * (0.9 + 0.1 * left / (1 - a)) ==
          doctest::Approx(g == 0 ? 0.2 : 0.1).epsilon(1e-12));
  }
  CHECK(solved.base[0].rate.value() >= solved.base[1].rate.value());
}

TEST_CASE("what comes out is told where a stronger grade holds the weaker one up") {
  const Network network{{root(0.3)}, {}};
  model::Expectation expectation(network);
  const auto of_100 = [](std::uint64_t k) { return units::Count::from(k, 100); };
  const rulebase::GradedLine shows{{of_100(90), of_100(30)}, false, {}};
  const rulebase::GradedLine overall{{of_100(31), of_100(30)}, false, {}};
  const auto solved = model::solve_overall(overall, 2, 1, {{HiddenId{0}, &shows}}, expectation);
  // 1 - 0.7 (0.7 + 0.3 * 0.1 / 0.7) by hand.
  CHECK(solved.reached[0] == doctest::Approx(0.48).epsilon(1e-12));
  CHECK(solved.is_missed(overall, 0));
  CHECK(solved.reached[1] == doctest::Approx(0.3).epsilon(1e-12));
  CHECK_FALSE(solved.is_missed(overall, 1));
}

TEST_CASE("a long row of causes one after the other is quick") {
  Network network;
  network.hidden.push_back(root(0.01));
  constexpr std::uint32_t length = 50'000;
  for (std::uint32_t i = 1; i < length; ++i)
    network.hidden.push_back({p(0.01), {{HiddenId{i - 1}, p(0.5)}}, true});
  const model::Expectation expectation(network);
  // Where it no longer changes: x = 1 - 0.99 (1 - x / 2).
  CHECK(expectation.marginal(HiddenId{length - 1}).value() ==
        doctest::Approx(0.01 / 0.505).epsilon(1e-12));
}

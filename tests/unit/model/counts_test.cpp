#include "model/counts.h"

#include <cmath>

#include <doctest/doctest.h>

using namespace slipcase;
using model::BaseRate;
using units::Count;

namespace {

Count count(std::uint64_t k, std::uint64_t n) { return *Count::from(k, n); }

BaseRate counted(std::uint64_t k, std::uint64_t n) { return {count(k, n).share(), count(k, n)}; }

rulebase::GradedLine line(std::vector<std::optional<Count>> counts, bool together = false) {
  return {std::move(counts), together, {}};
}

constexpr double exact = 1e-15;

}  // namespace

TEST_CASE("a link adds what the share holds beyond the rate without a cause") {
  // Values of A10 in the collection of reference values: Henrion's 0.3 and 0.7 with rate 0.1 are
  // the links 2/9 and 2/3 (M. Henrion, UAI 1987; F. J. Diez, UAI 1993; recomputed, from memory of
  // the papers).
  CHECK(model::link_strength(count(3, 10), counted(1, 10)).fire.value() ==
        doctest::Approx(2.0 / 9.0).epsilon(exact));
  CHECK(model::link_strength(count(7, 10), counted(1, 10)).fire.value() ==
        doctest::Approx(2.0 / 3.0).epsilon(exact));
}

TEST_CASE("both halves of a link come from the counts and not from each other") {
  const auto link = model::link_strength(
      count(999'999'999'999'999'999U, 1'000'000'000'000'000'000U), counted(1, 100));
  // 1 - s is 1e-18: formed from a rounded s it would be 0.
  CHECK(link.fire.complement() == doctest::Approx(1e-18 / 0.99).epsilon(1e-12));
}

TEST_CASE("a share at or below the rate without a cause is no link") {
  CHECK(model::link_strength(count(1, 10), counted(1, 10)).fire == Probability::never());
  CHECK(model::link_strength(count(1, 20), counted(1, 10)).fire == Probability::never());
}

TEST_CASE("a share below the rate by up to half a count is passed over in silence") {
  CHECK_FALSE(model::link_strength(count(1, 10), counted(14, 100)).share_below_base);
  CHECK(model::link_strength(count(1, 10), counted(16, 100)).share_below_base);
}

TEST_CASE("always means always: n of n passes nothing") {
  CHECK(model::link_strength(count(10, 10), counted(1, 100)).fire == Probability::certain());
}

TEST_CASE("a rate of 0 of n is half a count") {
  CHECK(model::member_rate(count(0, 30), false, 1).value() ==
        doctest::Approx(0.5 / 30).epsilon(exact));
  const auto rates = model::otherwise_rates(line({count(0, 200)}), 1, 1);
  CHECK(rates[0].rate.value() == doctest::Approx(0.5 / 200).epsilon(exact));
}

TEST_CASE("a rate of the whole scope together leaves that chance for at least one member") {
  const Probability one = model::member_rate(count(1, 50), true, 5);
  CHECK(1.0 - std::pow(one.complement(), 5) == doctest::Approx(0.02).epsilon(1e-14));
}

TEST_CASE(
    "a grade left out of otherwise is half a count, and rates never rise from grade to grade") {
  const auto rates = model::otherwise_rates(line({count(4, 100), std::nullopt}), 2, 1);
  CHECK(rates[0].rate.value() == doctest::Approx(0.04).epsilon(exact));
  CHECK(rates[1].rate.value() == doctest::Approx(0.005).epsilon(exact));
  const auto upside_down = model::otherwise_rates(line({std::nullopt, count(4, 100)}), 2, 1);
  CHECK(upside_down[0].rate == upside_down[1].rate);
}

TEST_CASE("who shows the stronger grade shows the weaker one at least as surely") {
  const std::vector<BaseRate> base{counted(1, 10), counted(1, 1000)};
  const auto strength = model::graded_strength(line({count(5, 10), count(5, 10)}), base);
  CHECK(strength.fire[1].value() == doctest::Approx((0.5 - 0.001) / 0.999).epsilon(exact));
  CHECK(strength.fire[0] == strength.fire[1]);
  CHECK_FALSE(strength.order_broken);  // half a count of ten covers the difference
}

TEST_CASE("a weaker grade with too small a count is reported") {
  const std::vector<BaseRate> base{counted(30, 100), counted(1, 1000)};
  CHECK(model::graded_strength(line({count(50, 100), count(49, 100)}), base).order_broken);
}

TEST_CASE("a grade without a count has no link of its own but inherits from the stronger one") {
  const std::vector<BaseRate> base{counted(1, 100), counted(1, 100)};
  const auto only_weak = model::graded_strength(line({count(7, 10), std::nullopt}), base);
  CHECK(only_weak.fire[1] == Probability::never());
  const auto only_strong = model::graded_strength(line({std::nullopt, count(5, 10)}), base);
  CHECK(only_strong.fire[0] == only_strong.fire[1]);
}

TEST_CASE("the grade whose share is below its rate is named") {
  const std::vector<BaseRate> base{counted(32, 100), counted(30, 100)};
  CHECK(model::graded_strength(line({count(58, 100), count(26, 100)}), base).below_base == 1U);
  CHECK(model::graded_strength(line({count(20, 100), count(10, 100)}), base).below_base == 0U);
  CHECK_FALSE(model::graded_strength(line({count(58, 100), count(50, 100)}), base).below_base);
}

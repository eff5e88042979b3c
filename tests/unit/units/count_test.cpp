#include "units/count.h"

#include <doctest/doctest.h>

using slipcase::units::Count;
using slipcase::units::largest_count;

TEST_CASE("a count is some of at least one, up to 10^18") {
  CHECK(Count::from(8, 10));
  CHECK(Count::from(0, 30));
  CHECK(Count::from(largest_count, largest_count));
  CHECK_FALSE(Count::from(12, 10));
  CHECK_FALSE(Count::from(0, 0));
  CHECK_FALSE(Count::from(1, largest_count + 1));
}

TEST_CASE("a count keeps how many were counted") {
  const auto few = *Count::from(8, 10);
  const auto many = *Count::from(24, 30);
  CHECK(few.share() == many.share());
  CHECK(few != many);
  CHECK(many.text() == "24 of 30");
}

TEST_CASE("never seen is taken as half a count where it must not mean impossible") {
  const auto never = *Count::from(0, 30);
  CHECK(never.share().value() == 0.0);
  CHECK(never.share_at_least_half().value() == doctest::Approx(0.5 / 30).epsilon(1e-15));
  CHECK(Count::from(1, 30)->share_at_least_half() == Count::from(1, 30)->share());
}

TEST_CASE("both halves of a share are exact quotients") {
  const auto rare = Count::from(1, largest_count)->share();
  CHECK(rare.value() == 1e-18);
  CHECK(rare.complement() == static_cast<double>(largest_count - 1) / 1e18);
}

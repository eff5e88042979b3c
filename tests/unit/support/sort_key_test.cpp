#include "support/sort_key.h"

#include <cmath>
#include <limits>

#include <doctest/doctest.h>

namespace slipcase {
namespace {

TEST_CASE("what rounding alone sets apart sorts as equal") {
  CHECK(sort_key(0.1 + 0.2) == sort_key(0.3));
  CHECK(sort_key(0.0086109074583097) == sort_key(std::nextafter(0.0086109074583097, 1.0)));
  CHECK(sort_key(-1.0 / 3.0) == sort_key(std::nextafter(-1.0 / 3.0, 0.0)));
}

TEST_CASE("what differs by more keeps its order") {
  CHECK(sort_key(1.0) < sort_key(1.0 + 1e-11));
  CHECK(sort_key(-1.0) > sort_key(-1.0 - 1e-11));
  CHECK(sort_key(-1e-300) < sort_key(0.0));
  CHECK(sort_key(0.0) < sort_key(1e-300));
}

TEST_CASE("the ends of the number line stay where they are") {
  CHECK(sort_key(0.0) == 0.0);
  CHECK(std::isinf(sort_key(std::numeric_limits<double>::infinity())));
  CHECK(std::isinf(sort_key(-std::numeric_limits<double>::infinity())));
}

}  // namespace
}  // namespace slipcase

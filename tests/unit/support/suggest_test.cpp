#include "support/suggest.h"

#include <vector>

#include <doctest/doctest.h>

using namespace slipcase;

namespace {
const std::vector<std::string> words{"shows", "source", "says", "found", "lining_worn"};
}

TEST_CASE("the nearest name is suggested") {
  CHECK(suggest("show", words) == "shows");
  CHECK(suggest("shosw", words) == "shows");
  CHECK(suggest("lineing_worn", words) == "lining_worn");
  CHECK(did_you_mean("fuond", words) == ", did you mean `found`?");
}

TEST_CASE("nothing is suggested where nothing is near, or two are as near") {
  CHECK_FALSE(suggest("repair", words));
  CHECK_FALSE(suggest("x", words));
  const std::vector<std::string> pair{"K1", "K2"};
  CHECK_FALSE(suggest("K3", pair));
  CHECK(did_you_mean("K3", pair).empty());
}

TEST_CASE("very long words are not compared") {
  CHECK_FALSE(suggest(std::string(100'000, 'a'), words));
  CHECK_FALSE(suggest("", words));
}

TEST_CASE("names are listed in words and cut where there are too many") {
  CHECK(quoted_list(std::vector<std::string>{}).empty());
  CHECK(quoted_list(std::vector<std::string>{"a"}) == "`a`");
  CHECK(quoted_list(std::vector<std::string>{"a", "b", "c"}) == "`a`, `b` or `c`");
  CHECK(quoted_list(std::vector<std::string>{"a", "b", "c"}, 2) == "`a`, `b` and 1 more");
}

#include "support/near_names.h"

#include <string>
#include <vector>

#include <doctest/doctest.h>

using namespace slipcase;

namespace {
const std::vector<std::string> known{"shudder_at_cruise", "shudders_hot", "fluid_temperature",
                                     "drum_rebuilt",      "line_gauge",   "line_vacuum",
                                     "burnt_smell"};

std::vector<std::string> near(std::string_view word) { return near_names(word, known).names; }
}  // namespace

TEST_CASE("a word that is a part of names stands for them, the shortest first") {
  CHECK(near("shudder") == std::vector<std::string>{"shudders_hot", "shudder_at_cruise"});
  CHECK(near_names("shudder", known).sure);
}

TEST_CASE("the beginning of a part stands for it") {
  CHECK(near("fluid_temp") == std::vector<std::string>{"fluid_temperature"});
  CHECK(near("rebuild") == std::vector<std::string>{"drum_rebuilt"});
}

TEST_CASE("names that share only a part are told, but not as sure") {
  CHECK(near("line_pressure") == std::vector<std::string>{"line_gauge", "line_vacuum"});
  CHECK_FALSE(near_names("line_pressure", known).sure);
  CHECK(name_hint("line_pressure", known) ==
        ", did you mean `line_gauge` or `line_vacuum`? `slipcase rules list` shows them all");
}

TEST_CASE("a misspelt name is the only one") {
  CHECK(near("burnt_smel") == std::vector<std::string>{"burnt_smell"});
  CHECK(name_hint("burnt_smel", known) == ", did you mean `burnt_smell`?");
}

TEST_CASE("what is like nothing is told where all names are, or all of a few") {
  CHECK(near("zzz").empty());
  CHECK(name_hint("zzz", known) == "; `slipcase rules list` shows them all");
  CHECK(name_hint("zzz", std::vector<std::string>{"a", "b"}) == "; there is only `a` or `b`");
  CHECK(name_hint("zzz", std::vector<std::string>{}).empty());
}

TEST_CASE("short parts and at most four names") {
  CHECK(near("at").empty());
  const std::vector<std::string> many{"leak_a", "leak_b", "leak_c", "leak_d", "leak_e"};
  CHECK(near_names("leaking", many).names.size() == most_near_names);
}

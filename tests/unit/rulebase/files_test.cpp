#include <doctest/doctest.h>

#include "support/rules_text.h"

using namespace slipcase::test;

namespace {

std::string of_file(std::string_view text) {
  return resolve_texts({{"a.rules", std::string(text)}}).messages();
}

constexpr const char* one_cause = R"(
finding noise asks "Noise?" otherwise in 1 of 20 jobs
cause gear_chipped found in 1 of 50 jobs shows noise in 8 of 10 jobs
)";

}  // namespace

TEST_CASE("an empty file with its language line is a rule base") {
  CHECK(of_file("language 1") == "");
}

TEST_CASE("a file without a language line is refused at its start") {
  CHECK(of_file("cause gear_chipped found in 1 of 50 jobs") == "1:1 language-missing");
}

TEST_CASE("a file of a later language is refused once") {
  CHECK(of_file("language 2") == "1:10 language-version");
}

TEST_CASE("a file for another unit is refused at the unit's name") {
  CHECK(of_file("language 1\nunit large") == "2:6 other-unit");
}

TEST_CASE("a file without a unit line must not name members, and that is said once") {
  const std::string text = std::string("language 1") + one_cause +
                           "finding flare of shift asks \"?\" otherwise in 1 of 20 jobs\n"
                           "cause a found in 1 of 50 jobs\n"
                           "    shows flare of 2-3 in 1 of 2 jobs\n"
                           "    shows flare of 3-4 in 1 of 2 jobs\n";
  CHECK(of_file(text) == "6:20 unit-line-missing");
}

TEST_CASE("the order of files and of declarations does not matter") {
  const std::string findings = "language 1\nfinding noise asks \"?\" otherwise in 1 of 20 jobs";
  const std::string causes =
      "language 1\ncause b found in 1 of 5 jobs shows noise in 1 of 2 jobs\n"
      "cause a found in 1 of 6 jobs shows noise in 1 of 3 jobs then causes b in 1 of 9 jobs";
  const auto one = resolve_texts({{"f.rules", findings}, {"c.rules", causes}});
  const auto other = resolve_texts({{"c.rules", causes}, {"f.rules", findings}});
  CHECK(one.messages() == "");
  REQUIRE(one.rules.has_value());
  REQUIRE(other.rules.has_value());
  CHECK(one.rules->find("noise").has_value());
  CHECK(one.rules->find("nothing") == std::nullopt);
}

TEST_CASE("errors of all files are reported in one run") {
  const auto resolved = resolve_texts({{"a.rules", "language 1\ncause x found in 2 of 1 jobs"},
                                       {"b.rules", "language 1\nremove y"}});
  CHECK(resolved.messages() == "a.rules:2:18 impossible-count; b.rules:2:8 unknown-name");
}

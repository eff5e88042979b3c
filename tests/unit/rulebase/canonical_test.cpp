#include "rulebase/canonical.h"

#include <doctest/doctest.h>

#include "shop.h"

using namespace slipcase::test;
using slipcase::rulebase::canonical_text;
using slipcase::rulebase::fingerprint;

namespace {

std::string print_of(std::string_view lines) {
  const auto resolved = resolve_text(lines);
  REQUIRE(resolved.rules.has_value());
  return fingerprint(*resolved.rules);
}

}  // namespace

TEST_CASE("the fingerprint does not depend on order, comments and layout") {
  const std::string a = "event a asks \"?\"\n";
  const std::string b = "event b counts as a\n";
  CHECK(print_of(a + b) == print_of("# c\n" + b + "\n\n" + a));
}

TEST_CASE("the fingerprint changes with every count, condition and text") {
  const auto with = [](const std::string& condition, const std::string& count) {
    return print_of("finding f when " + condition + " otherwise in " + count + " jobs" +
                    std::string(shop));
  };
  CHECK(with("tuned", "1 of 20") != with("not tuned", "1 of 20"));
  CHECK(with("tuned", "1 of 20") != with("tuned", "2 of 40"));
  CHECK(with("fill_time of K1 > 5 ms", "1 of 20") != with("fill_time of K1 >= 5 ms", "1 of 20"));
  CHECK(with("fill_time of K1 > 5 ms", "1 of 20") != with("fill_time of K2 > 5 ms", "1 of 20"));
  CHECK(print_of("event a says \"x\"") != print_of("event a says \"y\""));
}

TEST_CASE("the same condition in other units is the same") {
  const auto with = [](const std::string& limit) {
    const auto resolved = resolve_text("finding f when odometer > " + limit + std::string(shop));
    REQUIRE(resolved.rules.has_value());
    return canonical_text(*resolved.rules, **resolved.rules->findings.front().when);
  };
  CHECK(with("5 km") == with("5000 m"));
}

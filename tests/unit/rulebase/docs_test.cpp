// The examples of docs/language.md resolve, and not only parse.
#include <fstream>
#include <sstream>

#include <doctest/doctest.h>

#include "support/rules_text.h"

using namespace slipcase::test;

namespace {

std::string page() {
  std::ifstream file(SLIPCASE_TEST_DATA "/../../docs/language.md");
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

/// The first `rules` block below a headline.
std::string example(std::string_view headline) {
  const std::string text = page();
  constexpr std::string_view fence = "```rules\n";
  const std::size_t below = text.find(std::string(headline) + "\n");
  REQUIRE(below != std::string::npos);
  const std::size_t begin = text.find(fence, below) + fence.size();
  return text.substr(begin, text.find("```", begin) - begin);
}

/// Invented: what a layer over it can be about.
constexpr const char* below_the_layer = R"(language 1
finding debris asks "?" otherwise in 1 of 20 jobs
finding flare of shift asks "?" grade sometimes grade always
    otherwise sometimes or more in 4, always in 2 of 100 jobs
finding warm_slip asks "?" otherwise in 1 of 20 jobs
inside slips of element otherwise in 1 of 100 jobs
    shows flare of each shift applying element in 8 of 10 jobs
cause lining_worn of element found in 1 of 50 jobs shows slips of element in 9 of 10 jobs
cause seal_leak of element found in 1 of 60 jobs shows slips of element in 5 of 10 jobs
repair overhaul takes 9 h cures lining_worn of each element, seal_leak of each element
)";

}  // namespace

TEST_CASE("the example of a shop's own layer does what the page says") {
  const std::string layer = "language 1\nunit small\n" + example("## The shop's own layer") + "\n";
  const Resolved resolved = resolve_texts({{"shipped", below_the_layer, slipcase::Origin::shipped},
                                           {"own", layer, slipcase::Origin::own}});
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  const auto& rules = *resolved.rules;
  CHECK(rules.changes.front().note == "Three in a row this spring.");
  CHECK(rules.causes[0].found.all->count.total() == 12);
  CHECK(rules.findings.size() == 2);
  CHECK(rules.insides.front().shows.size() == 4);
  CHECK(rules.findings[1].overall.all.has_value());
  CHECK(rules.repairs.front().cures.size() == 1);
}

TEST_CASE("the examples of lines say nothing wrong but for names declared elsewhere") {
  for (const std::string_view headline : {"### detail", "### reading", "### event", "### inside",
                                          "### cause", "### access", "### repair", "### caution"}) {
    const Resolved resolved = resolve_texts(
        {{"page", "language 1\nunit small\n" + example(headline), slipcase::Origin::own}});
    for (const auto& each : resolved.diagnostics.list()) {
      CHECK_MESSAGE(std::string_view(each.name) == "unknown-name", headline, ": ", each.text);
    }
  }
}

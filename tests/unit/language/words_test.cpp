// Which words belong to the language, and the shapes of words.
#include "language/words.h"

#include <algorithm>

#include <doctest/doctest.h>

#include "language/clauses.h"
#include "language/parse.h"

namespace slipcase::language {
namespace {

TEST_CASE("the words of the language are sorted, and each is one") {
  CHECK(std::is_sorted(reserved_words().begin(), reserved_words().end()));
  CHECK(is_reserved("shows"));
  CHECK(!is_reserved("slips"));
}

TEST_CASE("every word that starts a line is reserved, but for three that trials share with jobs") {
  const std::vector<std::string> shared{"job", "odometer", "opened"};
  for (const grammar::ClauseRule& rule : grammar::clause_rules()) {
    const std::string first(rule.words.substr(0, rule.words.find(' ')));
    CAPTURE(first);
    const bool also_a_name = std::find(shared.begin(), shared.end(), first) != shared.end();
    CHECK(is_reserved(first) != also_a_name);
    const bool in_conditions = first == "not" || first == "by";
    CHECK(starts_line_only(first) == (!also_a_name && !in_conditions));
  }
  for (const DeclarationWord& entry : declaration_words()) CHECK(is_reserved(entry.word));
}

TEST_CASE("words that rules name things with are free") {
  for (const char* const word :
       {"low", "high", "time", "distance", "change", "first_gear", "odometer"}) {
    CHECK(!is_reserved(word));
  }
}

TEST_CASE("names are small letters, digits and underscores, a letter first") {
  CHECK(is_name("lining_worn_2"));
  for (const char* const word : {"", "K3", "2nd", "_a", "a-b", "a.b", "gr\u00F6\u00DFe"}) {
    CAPTURE(word);
    CHECK(!is_name(word));
  }
}

TEST_CASE("numbers have digits, at most one point with digits around it, and an exponent") {
  for (const char* const word : {"0", "12", "-3.5", "1e9", "2.5e-3"}) CHECK(is_number_shaped(word));
  for (const char* const word : {"", "-", "2.", ".5", "1e", "1.2.3", "2-3", "0x1", "inf", "12a"}) {
    CAPTURE(word);
    CHECK(!is_number_shaped(word));
  }
}

TEST_CASE("a name is suggested for a text") {
  CHECK(as_name("Flex-Disc  worn") == "flex_disc_worn");
  CHECK(as_name("???").empty());
}

}  // namespace
}  // namespace slipcase::language

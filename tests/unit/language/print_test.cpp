// The one layout that trees are printed in.
#include <doctest/doctest.h>

#include "unit/language/reading.h"
#include "unit/language/tree_text.h"

namespace slipcase::language::testing {
namespace {

/// Printed, when it could be read without a message.
std::string printed(std::string text) {
  const Reading reading = read(std::move(text));
  REQUIRE_MESSAGE(reading.diagnostics.empty(), reading.rendered());
  return print(reading.file);
}

TEST_CASE("the file of every clause comes out with the same meaning, and then stays as it is") {
  const std::string text = read_test_file(SLIPCASE_TEST_DATA "/language/every_clause.rules");
  const std::string once = printed(text);
  CHECK(meaning_text(read(once).file) == meaning_text(read(text).file));
  CHECK(printed(once) == once);
}

TEST_CASE("lines are indented by four and declarations set apart") {
  CHECK(printed("language 1 unit u cause  x of element says \"y\"\n"
                "found in 1 of 2 jobs,except K3 in 1 of 3 job\nevent e") ==
        "language 1\n"
        "unit u\n"
        "\n"
        "cause x of element\n"
        "    says \"y\"\n"
        "    found in 1 of 2 jobs, except K3 in 1 of 3 jobs\n"
        "\n"
        "event e\n");
}

TEST_CASE("comments stay where they were") {
  CHECK(printed("# head\n"
                "\n"
                "language 1   # the version\n"
                "# about x\n"
                "cause x  # named so\n"
                "  # own line\n"
                "  says \"y\" # behind\n"
                "  shows a raised or more in 7,  # between\n"
                "     high in 5 of 10 jobs # end\n"
                "  # last of x\n"
                "# about e\n"
                "event e\n"
                "# end of file") ==
        "# head\n"
        "\n"
        "language 1  # the version\n"
        "\n"
        "# about x\n"
        "cause x  # named so\n"
        "    # own line\n"
        "    says \"y\"  # behind\n"
        "    # between\n"
        "    shows a raised or more in 7, high in 5 of 10 jobs  # end\n"
        "    # last of x\n"
        "\n"
        "# about e\n"
        "event e\n"
        "# end of file\n");
}

std::string printed_condition(std::string_view text) { return print(read_condition_text(text)); }

TEST_CASE("parentheses are printed where the meaning needs them and nowhere else") {
  CHECK(printed_condition("((a)) and (not (b))") == "a and not b");
  CHECK(printed_condition("(a or b) and c") == "( a or b ) and c");
  CHECK(printed_condition("not (a and b)") == "not ( a and b )");
  CHECK(printed_condition("not (not a)") == "not ( not a )");
  CHECK(printed_condition("any element(a or b)") == "any element ( a or b )");
}

TEST_CASE("numbers are printed in plain digits that read back the same") {
  CHECK(printed_condition("a > 1e21 km") == "a > 1000000000000000000000 km");
  CHECK(printed_condition("a > 0.1 km") == "a > 0.1 km");
  CHECK(printed_condition("a > 1e-7 km") == "a > 0.0000001 km");
  CHECK(printed_condition("a > -15mbar") == "a > -15 mbar");
}

TEST_CASE("a text with straight quotes inside is printed in curly ones") {
  const std::string line = "cause x\n    says “the \"real\" one”\n";
  CHECK(printed(line) == line);
}

TEST_CASE("references and lines are printed alone") {
  const Reading reading = read_lines("shows flare of each shift applying element in 8 of 10 jobs");
  const Clause& clause = reading.file.declarations.at(0).clauses.at(0);
  CHECK(print(clause) == "shows flare of each shift applying element in 8 of 10 jobs");
  CHECK(print(std::get<Shows>(clause.body).what) == "flare of each shift applying element");
}

}  // namespace
}  // namespace slipcase::language::testing

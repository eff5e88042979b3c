// The golden runner is itself tested, with `cat` as the program under test.
#include <doctest/doctest.h>

#include "golden/diff.h"
#include "golden/run.h"
#include "golden/script.h"

namespace {

golden::Run run_test(std::string_view text) {
  return golden::run(golden::parse_test(text), {.program = "/bin/cat", .rules = "/no where/rules"});
}

golden::Run run_page(std::string_view text) {
  return golden::run(golden::parse_markdown(text), {.program = "/bin/cat", .rules = "/nowhere"});
}

}  // namespace

TEST_CASE("a .test file is written back as it was read") {
  const std::string text =
      "# why\n\n--- a b.txt\none\n\ntwo\n\n$ slipcase x\n! 2\nout\n2> err\n\n$ cat y\n\n";
  CHECK(golden::write(golden::parse_test(text)) == text);
}

TEST_CASE("a page is written back as it was read") {
  const std::string text =
      "# T\n```console\n$ slipcase a\nx\n\n$ slipcase b\n\n```\nmid\n```yaml c.yaml\nk: 1\n```\n"
      "```console\n$ git clone\n```\n```\nplain\n";
  CHECK(golden::write(golden::parse_markdown(text)) == text);
}

TEST_CASE("expected output that is printed leaves nothing to report") {
  const golden::Run run = run_test("--- f\none\n\n$ slipcase f\none\n");
  CHECK(run.differences == "");
  CHECK(run.commands == 1);
  CHECK_FALSE(run.any_failed);
}

TEST_CASE("a wrong line, a missing line and a wrong exit code are each reported") {
  CHECK(run_test("--- f\none\ntwo\n\n$ slipcase f\none\n2\n").differences ==
        "$ slipcase f\n  one\n- 2\n+ two\n");
  CHECK(run_test("--- f\none\ntwo\n\n$ slipcase f\none\n").differences ==
        "$ slipcase f\n  one\n+ two\n");
  CHECK(run_test("--- f\none\n\n$ slipcase f\n! 1\none\n").differences ==
        "$ slipcase f\n- ! 1\n  one\n");
}

TEST_CASE("a failing command shows its exit code and its error stream") {
  const golden::Run run = run_test("$ slipcase missing\n");
  CHECK(run.any_failed);
  REQUIRE(run.actual.pieces.back().lines.size() == 2);
  CHECK(run.actual.pieces.back().lines[0] == "! 1");
  CHECK(run.actual.pieces.back().lines[1].starts_with("2> "));
}

TEST_CASE("output that looks like a marker survives an update") {
  const golden::Run run = run_test("--- f\nx\n\n$ slipcase f f\n");
  const golden::Run marked = run_test("--- f\n! 3\n\n$ slipcase f\n1> ! 3\n");
  CHECK(run.actual.pieces.back().lines == golden::Lines{"x", "x"});
  CHECK(marked.differences == "");
}

TEST_CASE("folders that differ from machine to machine are named in the output") {
  CHECK(run_test("--- f\n{rules} {dir}\n\n$ slipcase f\n{rules} {dir}\n").differences == "");
  const golden::Run missing = run_test("$ slipcase {rules}/x\n");
  CHECK(missing.actual.pieces.back().lines.back().find("{rules}/x") != std::string::npos);
}

TEST_CASE("a program that is not ours is refused") { CHECK(run_test("$ rm -r x\n").any_failed); }

TEST_CASE("a page mixes both streams as a terminal does and shows no exit code") {
  const golden::Run run =
      run_page("```yaml f\none\n```\n```console\n$ slipcase f missing\none\n```\n");
  CHECK(run.commands == 1);
  CHECK(run.differences.find("! 1") == std::string::npos);
  CHECK(run.differences.find("\n+ ") != std::string::npos);
  CHECK(run.differences.find("missing: No such file") != std::string::npos);
}

TEST_CASE("a console block of other programs is left alone") {
  CHECK(run_page("```console\n$ rm -r x\n```\n").commands == 0);
}

TEST_CASE("quotes hold a word together") {
  CHECK(golden::split_words("a 'b c' \"d e\"f  ''") == golden::Lines{"a", "b c", "d ef", ""});
}

TEST_CASE("a long equal run is shortened in a difference") {
  const golden::Lines before = {"1", "2", "3", "4", "5", "6", "7", "8", "9"};
  golden::Lines after = before;
  after[0] = "one";
  CHECK(golden::diff(before, after) == "- 1\n+ one\n  2\n  3\n  4\n");
  CHECK(golden::diff(before, before) == "");
}

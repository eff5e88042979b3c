// Declarations and their lines: what each becomes in the tree.
#include <set>

#include <doctest/doctest.h>

#include "unit/language/reading.h"

namespace slipcase::language::testing {
namespace {

Declaration only(std::string text) {
  const Reading reading = read(std::move(text));
  REQUIRE_MESSAGE(reading.diagnostics.empty(), reading.rendered());
  REQUIRE(reading.file.declarations.size() == 1);
  return reading.file.declarations.front();
}

std::string names(const std::vector<Reference>& list) {
  std::string all;
  for (const Reference& each : list) all += (all.empty() ? "" : ", ") + print(each);
  return all;
}

TEST_CASE("the file of every clause has every clause and every declaration") {
  const Reading reading = read(read_test_file(SLIPCASE_TEST_DATA "/language/every_clause.rules"));
  CHECK_MESSAGE(reading.diagnostics.empty(), reading.rendered());
  std::set<std::size_t> bodies;
  std::set<DeclarationKind> kinds;
  for (const Declaration& declaration : reading.file.declarations) {
    kinds.insert(declaration.kind);
    for (const Clause& clause : declaration.clauses) bodies.insert(clause.body.index());
  }
  CHECK(bodies.size() == std::variant_size_v<ClauseBody>);
  CHECK(kinds.size() == 16);
}

TEST_CASE("language and unit belong to the file") {
  const Reading reading = read("language 1\nunit six_speed\n");
  CHECK(reading.file.language->value == 1);
  CHECK(reading.file.unit->text == "six_speed");
}

TEST_CASE("a header has a name and a scope") {
  const Declaration declaration = only("cause lining_worn of element\n");
  CHECK(declaration.kind == DeclarationKind::cause);
  CHECK(declaration.name.text == "lining_worn");
  CHECK(declaration.of->text == "element");
}

TEST_CASE("a detail has one of four types") {
  CHECK(std::holds_alternative<YesNoType>(*only("detail a : yes or no").type));
  CHECK(std::holds_alternative<DateType>(*only("detail a : date").type));
  CHECK(std::get<ChoiceType>(*only("detail a : one of b, c").type).words.size() == 2);
  const Declaration warm = only("detail a of element : temperature difference\n  asks \"?\"");
  CHECK(std::get<DimensionType>(*warm.type).name.text == "temperature difference");
  CHECK(warm.clauses.size() == 1);
}

TEST_CASE("a reading has a dimension") {
  CHECK(std::get<DimensionType>(*only("reading a : pressure per distance").type).name.text ==
        "pressure per distance");
}

TEST_CASE("at most one has its scope and its findings") {
  const Declaration declaration = only("at most one per element of a, b, c");
  CHECK(declaration.of->text == "element");
  CHECK(declaration.alternatives.size() == 3);
  CHECK(!only("at most one of a, b").of);
}

TEST_CASE("the shop's own layer names a declaration, a member and its lines") {
  const Declaration extended =
      only("extend lining_worn of K3\n  by \"AB\"\n  dated 2031-05-02\n  note \"n\"");
  CHECK(extended.of->text == "K3");
  CHECK(extended.clauses.size() == 3);
  CHECK(only("remove lining_worn").clauses.empty());
}

TEST_CASE("remove names a line by its target, with or without its count") {
  const auto shows = [](const Declaration& declaration) {
    return std::get<Shows>(declaration.clauses.at(0).body);
  };
  CHECK(shows(only("remove x\n  shows flare of 2-3")).count.parts.empty());
  CHECK(shows(only("remove x\n  shows flare of 2-3 in 8 of 10 jobs")).count.total.value == 10);
  CHECK(read("extend x\n  shows flare of 2-3").message() == "2:18 expected-other");
}

TEST_CASE("found has exceptions for members") {
  const auto found = read_line<Found>(
      "found in 1 of 50 jobs, except K3 in 1 of 20 jobs, B1 B2 in 1 of 80 jobs together");
  CHECK(found.count.total.value == 50);
  REQUIRE(found.except.size() == 2);
  CHECK(found.except.at(0).members.at(0).text == "K3");
  CHECK(found.except.at(1).members.size() == 2);
  CHECK(found.except.at(1).count.together);
}

TEST_CASE("shows takes a plain count, grades and a reason") {
  const auto plain = read_line<Shows>("shows slips of each shift applying element in 9 of 10 jobs");
  CHECK(!plain.count.parts.at(0).grade);
  CHECK(std::get<Selection>(*plain.what.target).relation->term.text == "element");
  const auto graded =
      read_line<Shows>("shows both_up raised or more in 7, high in 5 of 10 jobs because \"so\"");
  CHECK(graded.count.parts.at(0).or_more);
  CHECK(graded.count.parts.at(1).grade->text == "high");
  CHECK(graded.count.parts.at(1).hits.value == 5);
  CHECK(graded.because->text == "so");
}

TEST_CASE("a grade may stand behind each scope") {
  const auto shows =
      read_line<Shows>("shows flare of each shift sometimes or more in 4, always in 2 of 10 jobs");
  CHECK(!std::get<Selection>(*shows.what.target).relation);
  CHECK(shows.count.parts.at(0).grade->text == "sometimes");
}

TEST_CASE("counts reach up to 10^18") {
  CHECK(read_line<Found>("found in 0 of 1000000000000000000 jobs").count.total.value ==
        1'000'000'000'000'000'000U);
  CHECK(read_lines("found in 0 of 1000000000000000001 jobs").message() == "2:15 count-shape");
}

TEST_CASE("flags has a count for bad and one for good cars") {
  const auto flags =
      read_line<Flags>("flags seal_leak of element in 14 of 20 bad, in 2 of 20 good");
  CHECK(flags.bad.hits.value == 14);
  CHECK(flags.good.hits.value == 2);
}

TEST_CASE("lists are separated by commas and may run over lines") {
  CHECK(names(read_line<SetsAside>("sets aside a,\n      b of K1, c").what) == "a, b of K1, c");
  CHECK(names(read_line<FollowWith>("follow with a, b").what) == "a, b");
}

TEST_CASE("judge only and not judged take causes and groups") {
  const auto judged = read_line<JudgeOnly>("judge only a of K1, group electronics").what;
  CHECK(!judged.at(0).group);
  CHECK(judged.at(1).group);
  CHECK(judged.at(1).what.name.text == "electronics");
}

TEST_CASE("cures may say how often") {
  const auto cures = read_line<Cures>("cures a of each element in 9 of 10 jobs, b").what;
  CHECK(cures.at(0).count->hits.value == 9);
  CHECK(!cures.at(1).count);
}

TEST_CASE("several lines may stand on one") {
  CHECK(only("check c takes 30 minutes   needs a costs 15.50").clauses.size() == 3);
}

TEST_CASE("an optional word without a keyword stands on the line of the word before it") {
  const Reading reading = read("check c\n  takes 30\n  mnutes a\n");
  CHECK(reading.message() == "3:3 unknown-word");
  CHECK(read("trial \"t\"\n  expect flare\n  exepct flare").message() == "3:3 unknown-word");
}

TEST_CASE("caution is a line of the declaration above it where it is indented") {
  const Reading reading =
      read("check c\n    caution hot\n    says \"C\"\ncaution hot\n    says \"H\"\n");
  REQUIRE(reading.file.declarations.size() == 2);
  CHECK(reading.file.declarations.at(0).clauses.size() == 2);
  CHECK(reading.file.declarations.at(1).kind == DeclarationKind::caution);
}

TEST_CASE("without indentation a caution with its own text is a declaration") {
  CHECK(read("check c\ncaution hot\ntakes 5 minutes").file.declarations.size() == 1);
  CHECK(read("check c\ncaution hot\nsays \"H\"").file.declarations.size() == 2);
}

TEST_CASE("places cover a line from its first word to its last") {
  const Reading reading =
      read("cause x of element  # why\n    shows a\n        in 8 of 10 jobs  # so\n");
  const Declaration& declaration = reading.file.declarations.at(0);
  CHECK(reading.sources.text_at(declaration.place) == "cause x of element");
  CHECK(reading.sources.text_at(declaration.clauses.at(0).place) ==
        "shows a\n        in 8 of 10 jobs");
}

// --- trials ------------------------------------------------------------------------------------

TEST_CASE("what is known of a job has a member, a grade, a value, a date, an odometer and a hand") {
  const auto facts =
      read_line<TrialWith>(
          "with flare of 2-3 sometimes, no flare of 3-4, use is towing, fill_time of K2 is 48 ms, "
          "drained is 2031-01-02, values_cleared on 2031-03-02 at 147100 km by others, "
          "no stored P0733, pending P0700, leak is yes")
          .facts;
  REQUIRE(facts.size() == 9);
  CHECK(facts.at(0).grade->text == "sometimes");
  CHECK(facts.at(1).no);
  CHECK(std::get<Word>(*facts.at(2).is).text == "towing");
  CHECK(std::get<QuantityLiteral>(*facts.at(3).is).number.value == 48.0);
  CHECK(std::get<DateLiteral>(*facts.at(4).is).text == "2031-01-02");
  CHECK(facts.at(5).on->text == "2031-03-02");
  CHECK(facts.at(5).at->number.value == 147100.0);
  CHECK(facts.at(5).by == Hand::others);
  CHECK(facts.at(6).no);
  CHECK(facts.at(6).code->text == "P0733");
  CHECK(facts.at(7).pending);
  CHECK(std::get<Word>(*facts.at(8).is).text == "yes");
}

template <class T>
T expected(std::string_view text) {
  return std::get<T>(read_line<Expect>(fmt::format("expect {}", text)).node);
}

TEST_CASE("every form of expect is told from the others") {
  CHECK(expected<ExpectFirst>("a of K1 first").cause.name.text == "a");
  CHECK(expected<ExpectAmong>("a among first 3").first.value == 3);
  CHECK(expected<ExpectChance>("a above 6 of 10").above);
  CHECK(!expected<ExpectChance>("a below 1 of 20 jobs").above);
  CHECK(expected<ExpectBefore>("a before b of K2").other.name.text == "b");
  CHECK(expected<ExpectNotJudged>("a of K3 not judged").cause.name.text == "a");
  CHECK(expected<ExpectNext>("next c").check.name.text == "c");
}

TEST_CASE("expect names every state of a finding") {
  using enum ExpectedState;
  CHECK(expected<ExpectState>("f of 2-3").state == present);
  CHECK(expected<ExpectState>("no f").state == absent);
  CHECK(expected<ExpectState>("f unknown").state == unknown);
  CHECK(expected<ExpectState>("f left out").state == left_out);
  CHECK(expected<ExpectState>("f set aside").state == set_aside);
  CHECK(expected<ExpectState>("f high").grade->text == "high");
}

TEST_CASE("odometer, opened and job are names outside their own place") {
  CHECK(
      read_line<When>("when odometer > 1 km and opened > 2031-01-01 and job").condition.place.end >
      0);
}

}  // namespace
}  // namespace slipcase::language::testing

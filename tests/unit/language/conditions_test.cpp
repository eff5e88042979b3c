// Conditions and values: what each form becomes in the tree.
#include <doctest/doctest.h>

#include "unit/language/reading.h"
#include "unit/language/tree_text.h"

namespace slipcase::language::testing {
namespace {

template <class T>
T condition_as(std::string_view text) {
  return std::get<T>(read_condition_text(text).node);
}

template <class T>
T left_as(std::string_view text) {
  return std::get<T>(condition_as<Comparison>(text).left.node);
}

std::vector<std::string> texts(const std::vector<Word>& words) {
  std::vector<std::string> list;
  for (const Word& word : words) list.push_back(word.text);
  return list;
}

using Texts = std::vector<std::string>;

TEST_CASE("a name alone, with its member and with a grade, holds") {
  CHECK(texts(condition_as<Holds>("level_low").path.words) == Texts{"level_low"});
  const auto holds = condition_as<Holds>("both_up of 2-3 at least high");
  CHECK(texts(holds.path.words) == Texts{"both_up", "2-3"});
  CHECK(holds.at_least->text == "high");
}

TEST_CASE("and and or make one list each") {
  CHECK(condition_as<And>("a and b and c").parts.size() == 3);
  CHECK(condition_as<Or>("a or b or c or d").parts.size() == 4);
}

TEST_CASE("parentheses group, and alone they change nothing") {
  const auto both = condition_as<And>("( a or b ) and c");
  CHECK(std::holds_alternative<Or>(both.parts.at(0).node));
  CHECK(tree_text(read_condition_text("( ( a ) )")) == tree_text(read_condition_text("a")));
}

TEST_CASE("not belongs to what stands right behind it") {
  const auto both = condition_as<And>("not a and b");
  CHECK(std::holds_alternative<Not>(both.parts.at(0).node));
  CHECK(std::holds_alternative<Holds>(both.parts.at(1).node));
  CHECK(std::holds_alternative<And>(condition_as<Not>("not ( a and b )").inner->node));
}

TEST_CASE("every comparison sign is read") {
  using enum Comparator;
  CHECK(condition_as<Comparison>("a < 1 bar").comparator == less);
  CHECK(condition_as<Comparison>("a <= 1 bar").comparator == less_equal);
  CHECK(condition_as<Comparison>("a > 1 bar").comparator == greater);
  CHECK(condition_as<Comparison>("a >= 1 bar").comparator == greater_equal);
  CHECK(condition_as<Comparison>("a = 1 bar").comparator == equal);
}

TEST_CASE("between keeps its own and") {
  const auto both = condition_as<And>("a between 1 bar and 2 bar and b");
  CHECK(both.parts.size() == 2);
  CHECK(std::holds_alternative<Between>(both.parts.at(0).node));
}

TEST_CASE("within ends its path before of zero") {
  const auto within = condition_as<Within>("fill_time of K1 within scatter of fill_time of zero");
  CHECK(texts(std::get<Path>(within.distance.node).words) == Texts{"scatter", "fill_time"});
  CHECK(std::holds_alternative<ZeroLiteral>(within.centre.node));
  CHECK(std::holds_alternative<Path>(condition_as<Within>("a within 15 ms of b").centre.node));
}

TEST_CASE("per binds tighter than minus") {
  const auto difference = left_as<Difference>("a minus 30 mbar per 14000 miles > 0 bar");
  CHECK(std::holds_alternative<Path>(difference.from->node));
  CHECK(std::holds_alternative<Quotient>(difference.subtract->node));
}

TEST_CASE("minus groups from the left") {
  const auto difference = left_as<Difference>("a minus b minus c > 0 bar");
  CHECK(std::holds_alternative<Difference>(difference.from->node));
  CHECK(std::holds_alternative<Path>(difference.subtract->node));
}

TEST_CASE("an amount keeps its number and unit, with or without a blank between") {
  for (const char* const text : {"15 ms > a", "15ms > a"}) {
    const auto amount = left_as<QuantityLiteral>(text);
    CHECK(amount.number.value == 15.0);
    CHECK(amount.unit->text == "ms");
  }
  CHECK(left_as<QuantityLiteral>("-10 °C > a").number.value == -10.0);
  CHECK(left_as<QuantityLiteral>("40 % > a").unit->text == "%");
  CHECK(left_as<QuantityLiteral>("94°C > a").unit->text == "°C");
  CHECK(!left_as<QuantityLiteral>("2 > a").unit);
}

TEST_CASE("numbers are correctly rounded") {
  // The nearest double of each; 2^53 + 1 lies half-way and rounds to even (IEEE 754).
  CHECK(left_as<QuantityLiteral>("0.1 > a").number.value == 0x1.999999999999ap-4);
  CHECK(left_as<QuantityLiteral>("9007199254740993 > a").number.value == 9007199254740992.0);
}

TEST_CASE("dates, time since and distance since are values") {
  CHECK(left_as<DateLiteral>("2031-04-22 > opened").text == "2031-04-22");
  const auto since = left_as<SinceValue>("distance since drum_rebuilt of K1 by us < 5000 km");
  CHECK(since.distance);
  CHECK(since.event.event.name.text == "drum_rebuilt");
  CHECK(since.event.by == Hand::us);
  CHECK(!left_as<SinceValue>("time since fluid_service < 2 weeks").distance);
}

TEST_CASE("time and distance are names where no since follows") {
  CHECK(texts(left_as<Path>("distance > 5 km").words) == Texts{"distance"});
}

TEST_CASE("is compares with a word, is known asks whether there is a value") {
  CHECK(condition_as<IsWord>("use is towing").word.text == "towing");
  CHECK(condition_as<IsWord>("use is not towing").negated);
  CHECK(!condition_as<IsKnown>("use is known").negated);
  CHECK(condition_as<IsKnown>("fill_time of K1 is not known").negated);
}

TEST_CASE("codes are read alone, as a range and by name") {
  CHECK(std::get<Word>(condition_as<CodeTest>("stored P0733").code).text == "P0733");
  CHECK(condition_as<CodeTest>("stored P0731 to P0736").last->text == "P0736");
  CHECK(std::get<Word>(condition_as<CodeTest>("stored p0733").code).text == "p0733");
  const auto named = condition_as<CodeTest>("pending ratio_code of gear");
  CHECK(named.pending);
  CHECK(texts(std::get<Path>(named.code).words) == Texts{"ratio_code", "gear"});
}

TEST_CASE("events happened or stand on the card, by somebody, since another") {
  const auto happened =
      condition_as<Happened>("happened fluid_service by others since own_work by us");
  CHECK(!happened.on_card);
  CHECK(happened.event.by == Hand::others);
  CHECK(happened.since->event.name.text == "own_work");
  CHECK(condition_as<Happened>("on card learning_drive").on_card);
}

TEST_CASE("one event soon after another") {
  const auto soon =
      condition_as<SoonAfter>("flare_began at most 30 days after fluid_service by others");
  CHECK(soon.later.event.name.text == "flare_began");
  CHECK(soon.at_most.number.value == 30.0);
  CHECK(soon.earlier.by == Hand::others);
}

TEST_CASE("selections have a quantifier, other, a mark and a relation") {
  const auto picked =
      condition_as<Quantified>("no other element that is not rotating not using gear ( a )");
  CHECK(picked.selection.quantifier == Quantifier::no);
  CHECK(picked.selection.other);
  CHECK(picked.selection.mark->negated);
  CHECK(picked.selection.relation->negated);
  CHECK(picked.selection.relation->term.text == "gear");
}

TEST_CASE("at least takes a count or a share") {
  const auto two = condition_as<Quantified>("at least 2 elements ( a )").selection;
  CHECK(two.quantifier == Quantifier::at_least_count);
  CHECK(two.amount->value == 2.0);
  const auto most =
      condition_as<Quantified>("at least 80 % of elements that are rotating ( a )").selection;
  CHECK(most.quantifier == Quantifier::at_least_share);
  CHECK(most.scope.text == "elements");
}

TEST_CASE("a selection can end a path") {
  const auto holds = condition_as<Holds>("flare of any shift applying K1 at least always");
  CHECK(texts(holds.path.words) == Texts{"flare"});
  CHECK(holds.path.selection->relation->relation.text == "applying");
  CHECK(holds.at_least->text == "always");
}

TEST_CASE("a condition may run over lines") {
  CHECK(condition_as<And>("a\n      and\n b").parts.size() == 2);
}

TEST_CASE("at most one behind a condition starts a declaration") {
  const Reading reading = read("finding f\n  when a\nat most one of b, c\n");
  CHECK(reading.message().empty());
  CHECK(reading.file.declarations.size() == 2);
}

TEST_CASE("what conditions get wrong has a message at its place") {
  CHECK(read_lines("when a and b or c").message() == "2:14 mixed-and-or");
  CHECK(read_lines("when 1 bar < a < 2 bar").message() == "2:16 chained-comparison");
  CHECK(read_lines("when not not a").message() == "2:10 double-not");
  CHECK(read_lines("when ( a or b").message() == "2:6 parenthesis-missing");
  CHECK(read_lines("when a )").message() == "2:8 expected-other");
  CHECK(read_lines("when a and").message() == "2:8 expected-other");
  CHECK(read_lines("when 5 bar").message() == "2:6 expected-other");
  CHECK(read_lines("when any element").message() == "2:10 expected-other");
  CHECK(read_lines("when flare sometimes").message() == "2:12 expected-other");
  CHECK(read_lines("when happened x by thers").message() == "2:20 expected-other");
}

TEST_CASE("mixed and and or are shown in both readings") {
  const std::string text = read_lines("when a and b or c").diagnostics.list().at(0).text;
  CHECK(text.find("`( a and b ) or c`") != std::string::npos);
  CHECK(text.find("`a and ( b or c )`") != std::string::npos);
}

}  // namespace
}  // namespace slipcase::language::testing

// Random syntax trees, of every kind of node, such as reading a correct text can give.
#pragma once

#include <random>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/core.h>

#include "language/clauses.h"
#include "language/print.h"

namespace slipcase::language::testing {

class RandomTree {
 public:
  explicit RandomTree(std::uint64_t seed) : random_(seed) {}

  File file() {
    File file;
    if (coin()) file.language = Whole{1, {}};
    if (coin()) file.unit = name();
    for (std::size_t i = 0; i < 3 + below(5); ++i) file.declarations.push_back(declaration());
    return file;
  }

  Condition condition(int depth = 3) {
    const std::size_t kinds = depth > 0 ? 13 : 9;
    switch (below(kinds)) {
      case 0:
        return {{}, Holds{path(), maybe([this] { return name(); })}};
      case 1:
        return {{}, Comparison{value(), Comparator{static_cast<std::uint8_t>(below(5))}, value()}};
      case 2:
        return {{}, Between{value(), value(), value()}};
      case 3:
        return {{}, within()};
      case 4:
        return {{}, IsWord{path(), coin(), member()}};
      case 5:
        return {{}, IsKnown{path(), coin()}};
      case 6:
        return {{}, code_test()};
      case 7:
        return {{}, Happened{{}, coin(), event(), maybe([this] { return event(); })}};
      case 8:
        return {{}, SoonAfter{event(), quantity(), event()}};
      case 9:
        return {{}, Not{Box<Condition>(condition(depth - 1))}};
      case 10:
        return {{}, And{conditions(depth)}};
      case 11:
        return {{}, Or{conditions(depth)}};
      default:
        return {{}, Quantified{selection(), Box<Condition>(condition(depth - 1))}};
    }
  }

 private:
  // --- dice ------------------------------------------------------------------------------------

  std::size_t below(std::size_t limit) { return random_() % limit; }
  bool coin() { return below(2) == 0; }

  template <class Make>
  auto maybe(const Make& make) -> std::optional<decltype(make())> {
    if (coin()) return std::nullopt;
    return make();
  }

  template <class Make>
  auto some(std::size_t most, const Make& make) {
    std::vector<decltype(make())> list;
    for (std::size_t i = 0; i < 1 + below(most); ++i) list.push_back(make());
    return list;
  }

  std::string pick(std::initializer_list<std::string_view> list) {
    return std::string(*(list.begin() + below(list.size())));
  }

  // --- words -----------------------------------------------------------------------------------

  Word name() {
    return {pick({"slips", "flare", "both_up", "a", "x9", "lining_worn", "odometer", "high",
                  "opened", "element"}),
            {}};
  }
  Word member() { return {pick({"K3", "2-3", "R", "1", "B2", "element", "shift"}), {}}; }

  Text text() {
    return {pick({"", "plain", "with # and , and (", "“curly”", "straight \" one", "größer ≥ 5 °C",
                  "{element} x", "a  b", "it's"}),
            {}};
  }

  Number number() {
    constexpr double numbers[] = {0.0,      1.0,  -15.0, 0.1,        2.5,
                                  200000.0, 1e21, 1e-7,  123456.789, 5e-324};
    return {numbers[below(std::size(numbers))], {}};
  }
  Whole whole() {
    constexpr std::uint64_t numbers[] = {0, 1, 8, 10, 12345, 1'000'000'000'000'000'000U};
    return {numbers[below(std::size(numbers))], {}};
  }
  DateLiteral date() { return {pick({"2031-04-22", "2032-02-29", "1999-12-31"}), {}}; }

  QuantityLiteral quantity() {
    return {{}, number(), maybe([this] {
              return Word{pick({"mbar", "km", "%", "°C", "h", "km/h", "days"}), {}};
            })};
  }

  // --- references ------------------------------------------------------------------------------

  Selection selection() {
    Selection made;
    made.quantifier = Quantifier{static_cast<std::uint8_t>(below(6))};
    const bool counted = made.quantifier == Quantifier::at_least_count ||
                         made.quantifier == Quantifier::at_least_share;
    if (counted) made.amount = Number{static_cast<double>(below(100)), {}};
    made.other = coin();
    made.scope = name();
    made.mark = maybe([this] { return MarkTest{coin(), name()}; });
    made.relation = maybe([this] { return RelationTest{coin(), name(), member()}; });
    return made;
  }

  Reference reference(bool may_select = true) {
    Reference made{{}, name(), {}};
    if (coin()) return made;
    if (may_select && coin()) {
      made.target = selection();
    } else {
      made.target = member();
    }
    return made;
  }
  Reference named() { return reference(false); }
  std::vector<Reference> references() {
    return some(3, [this] { return reference(); });
  }

  Path path() {
    Path made{{}, {name()}, {}};
    for (std::size_t i = below(3); i > 0; --i) made.words.push_back(member());
    if (below(4) == 0) made.selection = selection();
    return made;
  }

  EventUse event() { return {reference(), Hand{static_cast<std::uint8_t>(below(3))}}; }

  // --- values and conditions -------------------------------------------------------------------

  Value atom() {
    switch (below(5)) {
      case 0:
        return {{}, quantity()};
      case 1:
        return {{}, date()};
      case 2:
        return {{}, ZeroLiteral{}};
      case 3:
        return {{}, SinceValue{{}, coin(), event()}};
      default:
        return {{}, path()};
    }
  }
  Value quotient() {
    if (below(4) != 0) return atom();
    return {{}, Quotient{Box<Value>(atom()), Box<Value>(atom())}};
  }
  Value value() {
    Value made = quotient();
    while (below(4) == 0) {
      made = {{}, Difference{Box<Value>(std::move(made)), Box<Value>(quotient())}};
    }
    return made;
  }

  // A distance that is a path ends only before `of zero`.
  Within within() {
    if (coin()) return {value(), {{}, quantity()}, value()};
    return {value(), {{}, path()}, {{}, ZeroLiteral{}}};
  }

  CodeTest code_test() {
    if (coin()) return {{}, coin(), path(), {}};
    return {{}, coin(), Word{"P0731", {}}, maybe([] { return Word{"P0736", {}}; })};
  }

  std::vector<Condition> conditions(int depth) {
    std::vector<Condition> parts{condition(depth - 1)};
    for (std::size_t i = 0; i < 1 + below(2); ++i) parts.push_back(condition(depth - 1));
    return parts;
  }

  // --- counts ----------------------------------------------------------------------------------

  CountPhrase bare_count() { return {{}, whole(), Whole{1 + below(100), {}}, false}; }
  CountPhrase count() {
    CountPhrase made = bare_count();
    made.together = coin();
    return made;
  }
  GradedCount graded() {
    GradedCount made{{}, {}, Whole{1 + below(100), {}}, coin()};
    if (coin()) {
      made.parts.push_back({std::nullopt, false, whole()});
      return made;
    }
    for (std::size_t i = below(3); i > 0; --i) made.parts.push_back({name(), true, whole()});
    made.parts.push_back({name(), coin(), whole()});
    return made;
  }

  // --- clauses ---------------------------------------------------------------------------------

  std::vector<Judged> judged() {
    return some(2, [this] { return Judged{coin(), reference()}; });
  }

  TrialFact fact() {
    TrialFact made;
    made.no = coin();
    if (below(4) == 0) {
      made.code = Word{"P0733", {}};
      made.pending = coin();
      return made;
    }
    made.what = named();
    switch (below(4)) {
      case 0:
        made.is = quantity();
        break;
      case 1:
        made.is = date();
        break;
      case 2:
        made.is = name();
        break;
      default:
        made.grade = maybe([this] { return name(); });
    }
    made.on = maybe([this] { return date(); });
    made.at = maybe([this] { return quantity(); });
    made.by = Hand{static_cast<std::uint8_t>(below(3))};
    return made;
  }

  Expect expect() {
    switch (below(7)) {
      case 0:
        return {{}, ExpectFirst{named()}};
      case 1:
        return {{}, ExpectAmong{named(), whole()}};
      case 2:
        return {{}, ExpectChance{named(), coin(), bare_count()}};
      case 3:
        return {{}, ExpectBefore{named(), named()}};
      case 4:
        return {{}, ExpectNotJudged{named()}};
      case 5:
        return {{}, ExpectNext{named()}};
      default:
        return {{}, expected_state()};
    }
  }
  ExpectState expected_state() {
    ExpectState made{named(), ExpectedState{static_cast<std::uint8_t>(below(6))}, {}};
    if (made.state == ExpectedState::grade) made.grade = name();
    return made;
  }

  ClauseBody text_body() {
    switch (below(8)) {
      case 0:
        return Says{text()};
      case 1:
        return Asks{coin(), text()};
      case 2:
        return How{text()};
      case 3:
        return Because{text()};
      case 4:
        return SourceLine{text()};
      case 5:
        return By{text()};
      case 6:
        return NoteLine{text()};
      default:
        return TrialJob{text()};
    }
  }
  ClauseBody list_body() {
    switch (below(10)) {
      case 0:
        return SetsAside{references()};
      case 1:
        return ExceptThese{references()};
      case 2:
        return JudgeOnly{judged()};
      case 3:
        return NotJudged{judged()};
      case 4:
        return Until{references()};
      case 5:
        return Needs{references()};
      case 6:
        return Answers{references()};
      case 7:
        return Cautions{references()};
      case 8:
        return OnlyAfter{references()};
      default:
        return FollowWith{references()};
    }
  }
  ClauseBody condition_body() {
    switch (below(5)) {
      case 0:
        return Becomes{number(), condition()};
      case 1:
        return NeverWhen{condition()};
      case 2:
        return PossibleOnly{condition()};
      case 3:
        return Grade{name(), maybe([this] { return condition(); })};
      default:
        return When{condition()};
    }
  }
  ClauseBody count_body() {
    switch (below(7)) {
      case 0:
        return Found{count(), some(2, [this] {
                       return MemberRate{some(3, [this] { return member(); }), count()};
                     })};
      case 1:
        return Found{count(), {}};
      case 2:
        return Shows{reference(), graded(), maybe([this] { return text(); })};
      case 3:
        return ThenCauses{reference(), count(), maybe([this] { return text(); })};
      case 4:
        return Otherwise{graded()};
      case 5:
        return Overall{graded()};
      default:
        return Flags{reference(), bare_count(), bare_count()};
    }
  }
  ClauseBody other_body() {
    switch (below(9)) {
      case 0:
        return Group{name()};
      case 1:
        return CountsAs{name()};
      case 2:
        return Takes{quantity()};
      case 3:
        return Costs{number()};
      case 4:
        return Dated{date()};
      case 5:
        return TrialOpened{date()};
      case 6:
        return TrialOdometer{quantity()};
      case 7:
        return TrialWith{some(3, [this] { return fact(); })};
      default:
        return Cures{some(2, [this] {
          return Cure{reference(), maybe([this] { return count(); })};
        })};
    }
  }

  Clause clause() {
    Clause made;
    switch (below(6)) {
      case 0:
        made.body = text_body();
        break;
      case 1:
        made.body = list_body();
        break;
      case 2:
        made.body = condition_body();
        break;
      case 3:
        made.body = count_body();
        break;
      case 4:
        made.body = expect();
        break;
      default:
        made.body = other_body();
    }
    name_first_word(made);
    return made;
  }

  Clause first_line(ClauseBody body) {
    Clause made;
    made.body = std::move(body);
    name_first_word(made);
    return made;
  }

  static void name_first_word(Clause& made) {
    const std::string line = print(made);
    for (const grammar::ClauseRule& rule : grammar::clause_rules()) {
      if (line.starts_with(std::string(rule.words) + " ")) made.first_word.text = rule.words;
    }
  }

  // Where the end of a line may be left out, the next line must not start with it.
  static bool may_follow(const Clause& before, const Clause& next) {
    const auto& last = before.body;
    const auto& body = next.body;
    if (std::holds_alternative<When>(body)) return !std::holds_alternative<Grade>(last);
    if (std::holds_alternative<Because>(body)) {
      return !std::holds_alternative<Shows>(last) && !std::holds_alternative<ThenCauses>(last);
    }
    if (std::holds_alternative<ExceptThese>(body)) return !std::holds_alternative<Found>(last);
    if (std::holds_alternative<NotJudged>(body)) return !std::holds_alternative<Expect>(last);
    return true;
  }

  // --- declarations ----------------------------------------------------------------------------

  DetailType type(bool dimension_only) {
    switch (dimension_only ? 3 : below(4)) {
      case 0:
        return YesNoType{};
      case 1:
        return DateType{};
      case 2:
        return ChoiceType{some(3, [this] { return name(); })};
      default:
        return DimensionType{
            {pick({"pressure", "temperature difference", "pressure per distance"}), {}}};
    }
  }

  Declaration declaration() {
    Declaration made{};
    made.kind = DeclarationKind{static_cast<std::uint8_t>(below(16))};
    const bool layer = made.kind >= DeclarationKind::extend;
    if (made.kind == DeclarationKind::trial) {
      made.name.text = text().text;
    } else if (made.kind == DeclarationKind::at_most_one) {
      made.alternatives = some(3, [this] { return name(); });
      if (coin()) made.of = name();
    } else {
      made.name = name();
      if (coin()) made.of = layer ? member() : name();
    }
    // Where the lines above are not indented, only the text makes `caution` a declaration.
    if (made.kind == DeclarationKind::caution) {
      made.of.reset();
      made.clauses.push_back(first_line(Says{text()}));
    }
    if (made.kind == DeclarationKind::detail) made.type = type(false);
    if (made.kind == DeclarationKind::reading) made.type = type(true);
    for (std::size_t i = below(6); i > 0; --i) {
      Clause next = clause();
      if (made.clauses.empty() || may_follow(made.clauses.back(), next))
        made.clauses.push_back(std::move(next));
    }
    return made;
  }

  std::mt19937_64 random_;
};

}  // namespace slipcase::language::testing

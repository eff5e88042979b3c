// Values and conditions.
#include <algorithm>

#include <fmt/core.h>

#include "language/grammar.h"
#include "language/messages.h"
#include "units/trouble_code.h"

namespace slipcase::language::grammar {

namespace {

constexpr Phrase<Value> any_value{"a value such as `30 mbar` or `odometer`", read_value};

Place join(Place first, Place last) { return {first.source, first.begin, last.end}; }

// --- values ------------------------------------------------------------------------------------

bool read_zero(Cursor& at, Session& session, ZeroLiteral& zero) {
  return run(kw("zero"), at, session, zero);
}
constexpr Phrase<ZeroLiteral> zero{"`zero`", read_zero};

bool read_since(Cursor& at, Session& session, SinceValue& since) {
  // `time` and `distance` are words of the language only in front of `since`.
  static const auto rules = (kw("time") | kw("distance")[is<&SinceValue::distance>]) >>
                            kw("since") > event_use[set<&SinceValue::event>];
  return run(rules, at, session, since);
}
constexpr Phrase<SinceValue> since_value{"`time since` or `distance since`", read_since};

bool read_atom(Cursor& at, Session& session, Value& atom) {
  static const auto rules =
      date[node] | quantity[node] | zero[node] | since_value[node] | path[node];
  return run(rules, at, session, atom);
}
constexpr Phrase<Value> atom{any_value.readable, read_atom};

template <class T>
Value combine(Value left, Value right) {
  const Place whole_place = join(left.place, right.place);
  return {whole_place, T{Box<Value>(std::move(left)), Box<Value>(std::move(right))}};
}

struct DivideBy {
  template <class ActionContext>
  void operator()(ActionContext& context) const {
    x3::_val(context) =
        combine<Quotient>(std::move(x3::_val(context)), std::move(x3::_attr(context)));
  }
};
struct Subtract {
  template <class ActionContext>
  void operator()(ActionContext& context) const {
    x3::_val(context) =
        combine<Difference>(std::move(x3::_val(context)), std::move(x3::_attr(context)));
  }
};

bool read_quotient(Cursor& at, Session& session, Value& quotient) {
  static const auto rules = atom[whole_value] >> -(kw("per") > atom[DivideBy{}]);
  return run(rules, at, session, quotient);
}
constexpr Phrase<Value> quotient{any_value.readable, read_quotient};

// --- conditions --------------------------------------------------------------------------------

struct ComparatorParser : TokenParser<ComparatorParser, Comparator> {
  bool read(const Token& token, Comparator& comparator) const {
    using enum Comparator;
    if (token.is_symbol("<")) return (comparator = less, true);
    if (token.is_symbol("<=")) return (comparator = less_equal, true);
    if (token.is_symbol(">")) return (comparator = greater, true);
    if (token.is_symbol(">=")) return (comparator = greater_equal, true);
    if (token.is_symbol("=")) return (comparator = equal, true);
    return false;
  }
  [[nodiscard]] std::string expected() const { return "`<`, `<=`, `>`, `>=` or `=`"; }
};
constexpr ComparatorParser comparator{};

bool read_comparison(Cursor& at, Session& session, Comparison& comparison) {
  static const auto rules = any_value[set<&Comparison::left>] >>
                            comparator[set<&Comparison::comparator>] >
                            any_value[set<&Comparison::right>];
  if (!run(rules, at, session, comparison)) return false;
  Comparator more{};
  while (at != session.end && comparator.read(*at, more)) {
    session.reporter->error(
        chained_comparison, at->place,
        "one comparison at a time: write `A > B and B > C`, or `B between A and C`");
    ++at;
    Value skipped;
    read_value(at, session, skipped);
  }
  return true;
}
constexpr Phrase<Comparison> comparison{"a comparison", read_comparison};

bool read_between(Cursor& at, Session& session, Between& between) {
  static const auto rules = any_value[set<&Between::value>] >> kw("between") >
                            any_value[set<&Between::low>] > kw("and") >
                            any_value[set<&Between::high>];
  return run(rules, at, session, between);
}
constexpr Phrase<Between> between{"`between`", read_between};

bool read_within(Cursor& at, Session& session, Within& within) {
  static const auto rules = any_value[set<&Within::value>] >> kw("within") >
                            any_value[set<&Within::distance>] > kw("of") >
                            any_value[set<&Within::centre>];
  return run(rules, at, session, within);
}
constexpr Phrase<Within> within{"`within`", read_within};

bool read_is_known(Cursor& at, Session& session, IsKnown& known) {
  static const auto rules =
      path[set<&IsKnown::path>] >> kw("is") >> -kw("not")[is<&IsKnown::negated>] >> kw("known");
  return run(rules, at, session, known);
}
constexpr Phrase<IsKnown> is_known{"`is known`", read_is_known};

bool read_is_word(Cursor& at, Session& session, IsWord& test) {
  static const auto rules = path[set<&IsWord::path>] >> kw("is") >
                            -kw("not")[is<&IsWord::negated>] > member[set<&IsWord::word>];
  return run(rules, at, session, test);
}
constexpr Phrase<IsWord> is_word{"`is` and a word", read_is_word};

bool read_soon_after(Cursor& at, Session& session, SoonAfter& soon) {
  // `at most one` starts a declaration.
  static const auto rules = event_use[set<&SoonAfter::later>] >> kw("at") >> kw("most") >>
                            !kw("one") > quantity[set<&SoonAfter::at_most>] > kw("after") >
                            event_use[set<&SoonAfter::earlier>];
  return run(rules, at, session, soon);
}
constexpr Phrase<SoonAfter> soon_after{"`at most ... after`", read_soon_after};

bool read_happened(Cursor& at, Session& session, Happened& happened) {
  static const auto start = kw("happened") | (kw("on") > kw("card")[is<&Happened::on_card>]);
  static const auto rules =
      start > event_use[set<&Happened::event>] >> -(kw("since") > event_use[set<&Happened::since>]);
  return run(rules, at, session, happened);
}
constexpr Phrase<Happened> happened{"`happened` or `on card`", read_happened};

/// `P0733` as written; not the name of a reading.
struct CodeParser : TokenParser<CodeParser, Word> {
  bool read(const Token& token, Word& word) const {
    if (token.kind != TokenKind::word || token.reserved) return false;
    const char first = token.spelling.front();
    const bool small = first >= 'a' && first <= 'z';
    if (small && !units::TroubleCode::parse(token.spelling)) return false;
    word = {std::string(token.spelling), token.place};
    return true;
  }
  [[nodiscard]] std::string expected() const { return "a code such as `P0733`"; }
};
constexpr CodeParser code{};

bool read_code_test(Cursor& at, Session& session, CodeTest& test) {
  static const auto start = kw("stored") | kw("pending")[is<&CodeTest::pending>];
  static const auto written =
      code[set<&CodeTest::code>] >> -(kw("to") > code[set<&CodeTest::last>]);
  static const auto rules = start > (written | path[set<&CodeTest::code>]);
  return run(rules, at, session, test);
}
constexpr Phrase<CodeTest> code_test{"`stored` or `pending`", read_code_test};

bool read_holds(Cursor& at, Session& session, Holds& holds) {
  static const auto rules =
      path[set<&Holds::path>] >> -(kw("at") >> kw("least") > name[set<&Holds::at_least>]);
  return run(rules, at, session, holds);
}
constexpr Phrase<Holds> holds{"a name", read_holds};

bool read_statement(Cursor& at, Session& session, Condition& statement) {
  static const auto rules = happened[node] | code_test[node] | soon_after[node] | comparison[node] |
                            between[node] | within[node] | is_known[node] | is_word[node] |
                            holds[node];
  return run(rules, at, session, statement);
}
constexpr Phrase<Condition> statement{condition.readable, read_statement};

bool read_parenthesised(Cursor& at, Session& session, Condition& inner) {
  static const auto rules = sym("(") > condition[whole_value] > sym(")");
  const Cursor begin = at;
  ++session.open_parentheses;
  const bool found = run(rules, at, session, inner);
  --session.open_parentheses;
  if (found) inner.place = session.span(begin, at);
  return found;
}
constexpr Phrase<Condition> parenthesised{"a condition in parentheses", read_parenthesised};

/// Behind a selection the parentheses are required; they belong to it.
bool read_quantified(Cursor& at, Session& session, Condition& quantified) {
  const Cursor begin = at;
  Selection which;
  if (!read_selection(at, session, which)) return false;
  Condition inner;
  static const auto rules = x3::expect[parenthesised[whole_value]];
  run(rules, at, session, inner);
  quantified.node = Quantified{std::move(which), Box<Condition>(std::move(inner))};
  quantified.place = session.span(begin, at);
  return true;
}
constexpr Phrase<Condition> quantified{"a selection and a condition in parentheses",
                                       read_quantified};

bool read_operand(Cursor& at, Session& session, Condition& operand);
constexpr Phrase<Condition> operand{condition.readable, read_operand};

struct Negate {
  template <class ActionContext>
  void operator()(ActionContext& context) const {
    x3::_val(context).node = Not{Box<Condition>(std::move(x3::_attr(context)))};
  }
};

bool read_negation(Cursor& at, Session& session, Condition& negation) {
  const Cursor begin = at;
  if (!at->is_word("not")) return false;
  ++at;
  for (; at->is_word("not"); ++at) {
    session.reporter->error(double_not, at->place, "two `not` cancel each other: leave both out");
  }
  static const auto rules = x3::expect[operand[Negate{}]];
  run(rules, at, session, negation);
  negation.place = session.span(begin, at);
  return true;
}
constexpr Phrase<Condition> negation{"`not` and a condition", read_negation};

bool read_operand(Cursor& at, Session& session, Condition& operand_read) {
  static const auto rules = negation[whole_value] | parenthesised[whole_value] |
                            quantified[whole_value] | statement[whole_value];
  return run(rules, at, session, operand_read);
}

// --- and, or -----------------------------------------------------------------------------------

struct Joint {
  bool conjunction = true;
  Place place;
};
struct JointParser : TokenParser<JointParser, Joint> {
  bool read(const Token& token, Joint& joint) const {
    joint = {token.is_word("and"), token.place};
    return joint.conjunction || token.is_word("or");
  }
  [[nodiscard]] std::string expected() const { return "`and` or `or`"; }
};
constexpr JointParser joint{};

/// `A and B or C` before anything is decided about its grouping.
struct Chain {
  std::vector<Condition> parts;
  std::vector<Joint> joints;  // joints[i] stands behind parts[i]
};

Condition join_parts(std::vector<Condition> parts, bool conjunction) {
  if (parts.size() == 1) return std::move(parts.front());
  const Place place = join(parts.front().place, parts.back().place);
  if (conjunction) return {place, And{std::move(parts)}};
  return {place, Or{std::move(parts)}};
}

std::string short_text(const Place& place, const Session& session) {
  constexpr std::size_t longest = 40;
  const auto written = session.text.substr(place.begin, place.end - place.begin);
  if (written.size() <= longest && written.find_first_of("\r\n") == std::string_view::npos) {
    return std::string(written);
  }
  return std::string(written.substr(0, written.find_first_of(" \t\r\n(,"))) + " ...";
}

/// The chain with its runs of `and` (or of `or`) in parentheses.
std::string reading(const Chain& chain, bool grouped, const Session& session) {
  std::string text;
  for (std::size_t i = 0; i < chain.parts.size(); ++i) {
    const bool in_before = i > 0 && chain.joints[i - 1].conjunction == grouped;
    const bool in_after = i < chain.joints.size() && chain.joints[i].conjunction == grouped;
    if (in_after && !in_before) text += "( ";
    text += short_text(chain.parts[i].place, session);
    if (in_before && !in_after) text += " )";
    if (i < chain.joints.size()) text += chain.joints[i].conjunction ? " and " : " or ";
  }
  return text;
}

void report_mixed(const Chain& chain, Session& session) {
  const auto other = std::find_if(chain.joints.begin(), chain.joints.end(), [&](const Joint& each) {
    return each.conjunction != chain.joints.front().conjunction;
  });
  constexpr std::size_t most_parts = 5;
  std::string text = "`and` and `or` together need parentheses";
  if (chain.parts.size() <= most_parts) {
    text += fmt::format(": `{}` or `{}`", reading(chain, true, session),
                        reading(chain, false, session));
  }
  session.reporter->error(mixed_and_or, other->place, std::move(text));
}

}  // namespace

bool read_value(Cursor& at, Session& session, Value& value_read) {
  // More than a person writes, and few enough that nothing recurses deep over the tree.
  constexpr int most_terms = 20;
  static const auto first = quotient[whole_value];
  static const auto next = kw("minus") > quotient[Subtract{}];
  if (!run(first, at, session, value_read)) return false;
  for (int terms = 1; at->is_word("minus"); ++terms) {
    if (terms == most_terms) {
      session.reporter->error(condition_too_long, at->place,
                              fmt::format("more than {} values in one `minus`", most_terms));
    }
    Value dropped;
    if (!run(next, at, session, terms < most_terms ? value_read : dropped)) break;
  }
  return true;
}

bool read_condition(Cursor& at, Session& session, Condition& condition_read) {
  static const auto rules =
      operand[add<&Chain::parts>] >> *(joint[add<&Chain::joints>] > operand[add<&Chain::parts>]);
  Chain chain;
  if (!run(rules, at, session, chain)) return false;
  const bool first = chain.joints.empty() || chain.joints.front().conjunction;
  const bool mixed = std::any_of(chain.joints.begin(), chain.joints.end(),
                                 [first](const Joint& each) { return each.conjunction != first; });
  // Where a `)` is missing, it may be what kept the two apart.
  const bool closed = session.open_parentheses == 0 || at->is_symbol(")");
  if (mixed && closed) report_mixed(chain, session);
  condition_read = join_parts(std::move(chain.parts), first);
  return true;
}

}  // namespace slipcase::language::grammar

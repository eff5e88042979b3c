// The parts from which the grammar files are built. Only they include this, and so Boost.Spirit X3.
//
// The grammar runs over tokens, not characters. A phrase is one function that reads one kind of
// thing; `Phrase` makes it a parser that the grammar of another phrase can use. So each phrase is
// compiled once, and recursion goes through ordinary functions. There are no x3::rule: the value
// being read is the rule value (`x3::_val`) of the phrase.
#pragma once

#include <concepts>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include <boost/spirit/home/x3.hpp>

#include "language/ast.h"
#include "language/phrases.h"
#include "language/session.h"
#include "language/words.h"
#include "units/date.h"
#include "units/quantity.h"

// `a >> b > c >> d` reads from left to right: from `>` on, what follows has to be there.
#if defined(__clang__)
#pragma clang diagnostic ignored "-Woverloaded-shift-op-parentheses"
#endif

namespace slipcase::language::grammar {

namespace x3 = boost::spirit::x3;

struct SessionTag;
using Context = x3::context<SessionTag, Session>;

// --- parsers of one token ----------------------------------------------------------------------

/// Parsers derive from this; Derived::read takes one token or leaves the cursor where it is.
template <class Derived, class Attribute>
struct TokenParser : x3::parser<Derived> {
  using attribute_type = Attribute;
  static constexpr bool has_attribute = !std::is_same_v<Attribute, x3::unused_type>;
  static constexpr bool handles_container = false;

  template <class AnyContext, class RuleValue, class Result>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& /*context*/, RuleValue& /*value*/,
             Result& result) const {
    if (first == last) return false;
    if constexpr (has_attribute && !std::is_same_v<Result, x3::unused_type> &&
                  !std::is_same_v<Result, const x3::unused_type>) {
      Attribute read{};
      if (!this->derived().read(*first, read)) return false;
      result = std::move(read);
    } else {
      Attribute read{};
      if (!this->derived().read(*first, read)) return false;
    }
    ++first;
    return true;
  }
};

/// One word of the language.
struct Keyword : TokenParser<Keyword, x3::unused_type> {
  std::string_view word;
  constexpr explicit Keyword(std::string_view spelling) : word(spelling) {}
  bool read(const Token& token, x3::unused_type&) const { return token.is_word(word); }
  [[nodiscard]] std::string expected() const { return "`" + std::string(word) + "`"; }
};
constexpr Keyword kw(std::string_view word) { return Keyword(word); }

struct Symbol : TokenParser<Symbol, x3::unused_type> {
  std::string_view sign;
  constexpr explicit Symbol(std::string_view spelling) : sign(spelling) {}
  bool read(const Token& token, x3::unused_type&) const { return token.is_symbol(sign); }
  [[nodiscard]] std::string expected() const { return "`" + std::string(sign) + "`"; }
};
constexpr Symbol sym(std::string_view sign) { return Symbol(sign); }

/// A name, scope, member or grade: any word that is no word of the language and no number.
struct NameParser : TokenParser<NameParser, Word> {
  bool same_line = false;
  bool member = false;  // `1` and `2-3` can be members
  constexpr NameParser(bool on_same_line, bool may_be_member)
      : same_line(on_same_line), member(may_be_member) {}
  bool read(const Token& token, Word& word) const {
    if (token.kind != TokenKind::word || token.reserved) return false;
    if (same_line && token.first_on_line) return false;
    const char first = token.spelling.front();
    const bool digit = first == '-' || (first >= '0' && first <= '9');
    if (digit && (!member || first == '-')) return false;
    word = {std::string(token.spelling), token.place};
    return true;
  }
  [[nodiscard]] std::string expected() const { return member ? "a scope or a member" : "a name"; }
};
inline constexpr NameParser name{false, false};
inline constexpr NameParser member{false, true};
/// An optional word without a keyword of its own stands on the line of the word before it;
/// otherwise a misspelt first word of the next line would be taken for it.
inline constexpr NameParser name_on_line{true, false};
inline constexpr NameParser member_on_line{true, true};

struct TextParser : TokenParser<TextParser, Text> {
  bool read(const Token& token, Text& text) const {
    if (token.kind != TokenKind::text) return false;
    text = {std::string(token.spelling), token.place};
    return true;
  }
  [[nodiscard]] std::string expected() const { return "a text in double quotes"; }
};
inline constexpr TextParser text{};

struct NumberParser : TokenParser<NumberParser, Number> {
  bool read(const Token& token, Number& number) const {
    if (token.kind != TokenKind::word || !is_number_shaped(token.spelling)) return false;
    const auto value = units::parse_number(token.spelling);
    if (!value) return false;
    number = {*value, token.place};
    return true;
  }
  [[nodiscard]] std::string expected() const { return "a number"; }
};
inline constexpr NumberParser number{};

struct WholeParser : TokenParser<WholeParser, Whole> {
  bool read(const Token& token, Whole& whole) const {
    if (token.kind != TokenKind::word) return false;
    const auto value = whole_number(token.spelling);
    if (!value) return false;
    whole = {*value, token.place};
    return true;
  }
  [[nodiscard]] std::string expected() const { return "a whole number"; }
};
inline constexpr WholeParser whole{};

struct DateParser : TokenParser<DateParser, DateLiteral> {
  bool read(const Token& token, DateLiteral& date) const {
    if (token.kind != TokenKind::word || !units::Date::parse(token.spelling)) return false;
    date = {std::string(token.spelling), token.place};
    return true;
  }
  [[nodiscard]] std::string expected() const { return "a date such as `2031-04-22`"; }
};
inline constexpr DateParser date{};

// --- phrases as parsers ------------------------------------------------------------------------

template <class T>
struct Phrase : x3::parser<Phrase<T>> {
  using attribute_type = T;
  static constexpr bool has_attribute = true;
  static constexpr bool handles_container = false;
  using Function = bool (*)(Cursor&, Session&, T&);

  std::string_view readable;
  Function function;
  constexpr Phrase(std::string_view readable_name, Function reader)
      : readable(readable_name), function(reader) {}

  template <class AnyContext, class RuleValue, class Result>
  bool parse(Cursor& first, const Cursor& /*last*/, const AnyContext& context, RuleValue& /*value*/,
             Result& result) const {
    T read{};
    if (!function(first, x3::get<SessionTag>(context), read)) return false;
    if constexpr (!std::is_same_v<std::remove_const_t<Result>, x3::unused_type>) {
      result = std::move(read);
    }
    return true;
  }
  [[nodiscard]] std::string expected() const { return std::string(readable); }
};

inline constexpr Phrase<QuantityLiteral> quantity{"an amount such as `30 mbar`", read_quantity};
inline constexpr Phrase<Selection> selection{"a selection such as `each shift`", read_selection};
inline constexpr Phrase<Reference> reference{"a name", read_reference};
inline constexpr Phrase<Path> path{"a name", read_path};
inline constexpr Phrase<EventUse> event_use{"the name of an event, check or repair",
                                            read_event_use};
inline constexpr Phrase<CountPhrase> count{"a count such as `8 of 10 jobs`", read_count};
inline constexpr Phrase<CountPhrase> bare_count{"a count such as `8 of 10`", read_bare_count};
inline constexpr Phrase<GradedCount> graded_count{"`in` and a count such as `8 of 10 jobs`",
                                                  read_graded_count};
inline constexpr Phrase<Condition> condition{"a condition", read_condition};

// --- what to do with what was read -------------------------------------------------------------

template <auto Member>
struct Set {
  template <class ActionContext>
  void operator()(ActionContext& context) const {
    x3::_val(context).*Member = std::move(x3::_attr(context));
  }
};
/// `name[set<&Group::name>]`: what was read becomes that member.
template <auto Member>
inline constexpr Set<Member> set{};

template <auto Member>
struct Add {
  template <class ActionContext>
  void operator()(ActionContext& context) const {
    (x3::_val(context).*Member).push_back(std::move(x3::_attr(context)));
  }
};
template <auto Member>
inline constexpr Add<Member> add{};

template <auto Member, auto Constant>
struct Is {
  template <class ActionContext>
  void operator()(ActionContext& context) const {
    x3::_val(context).*Member = Constant;
  }
};
/// `kw("other")[is<&Selection::other, true>]`
template <auto Member, auto Constant = true>
inline constexpr Is<Member, Constant> is{};

/// What was read becomes the node of the value or condition.
struct AsNode {
  template <class ActionContext>
  void operator()(ActionContext& context) const {
    x3::_val(context).node = std::move(x3::_attr(context));
  }
};
inline constexpr AsNode node{};

/// What was read is all there is to it.
struct AsValue {
  template <class ActionContext>
  void operator()(ActionContext& context) const {
    x3::_val(context) = std::move(x3::_attr(context));
  }
};
inline constexpr AsValue whole_value{};

// --- running it --------------------------------------------------------------------------------

/// Runs the grammar of one phrase. Where it does not fit, the cursor stays and nothing is read;
/// where it fits up to an expectation, x3::expectation_failure goes up to the clause.
template <class Grammar, class T>
bool run(const Grammar& rules, Cursor& at, Session& session, T& value) {
  const Cursor begin = at;
  const Context context = x3::make_context<SessionTag>(session);
  if (!rules.parse(at, session.end, context, value, x3::unused)) {
    at = begin;
    return false;
  }
  if constexpr (requires { value.place; }) value.place = session.span(begin, at);
  return true;
}

/// Runs a reader and brings home the expectation that was not met.
template <class Reader>
std::optional<Failure> guarded(const Reader& reader, const Cursor& at, std::string_view expected) {
  try {
    if (reader()) return std::nullopt;
    return Failure{at, std::string(expected)};
  } catch (const x3::expectation_failure<Cursor>& failure) {
    return Failure{failure.where(), failure.which()};
  }
}

}  // namespace slipcase::language::grammar

namespace boost::spirit::x3 {

/// How X3 asks for the words of a message.
template <class Parser>
requires requires(const Parser& parser) {
  { parser.expected() } -> std::same_as<std::string>;
}
struct get_info<Parser> {
  using result_type = std::string;
  std::string operator()(const Parser& parser) const { return parser.expected(); }
};

template <class Subject, class Action>
struct get_info<action<Subject, Action>> {
  using result_type = std::string;
  std::string operator()(const action<Subject, Action>& parser) const {
    return what(parser.subject);
  }
};
template <class Subject>
struct get_info<expect_directive<Subject>> {
  using result_type = std::string;
  std::string operator()(const expect_directive<Subject>& parser) const {
    return what(parser.subject);
  }
};
template <class Left, class Right>
struct get_info<sequence<Left, Right>> {
  using result_type = std::string;
  std::string operator()(const sequence<Left, Right>& parser) const { return what(parser.left); }
};
template <class Left, class Right>
struct get_info<alternative<Left, Right>> {
  using result_type = std::string;
  std::string operator()(const alternative<Left, Right>& parser) const {
    return what(parser.left) + " or " + what(parser.right);
  }
};

}  // namespace boost::spirit::x3

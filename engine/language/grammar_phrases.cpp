// References, selections, paths, counts: what conditions and clauses are made of.
#include <algorithm>
#include <array>
#include <charconv>

#include <fmt/core.h>

#include "language/grammar.h"
#include "language/messages.h"
#include "language/parse.h"
#include "units/count.h"

namespace slipcase::language::grammar {

namespace {

// --- amounts -----------------------------------------------------------------------------------

/// A unit that people write and that has no one meaning, and what to write instead.
struct LooseUnit {
  std::string_view written;
  std::string_view unit;
  double factor;
  std::string_view reason;
};
constexpr std::array loose_units{
    LooseUnit{"min", "minutes", 1.0, "`min` can be minutes or a minimum"},
    LooseUnit{"month", "days", 30.0, "a month has no fixed length"},
    LooseUnit{"months", "days", 30.0, "a month has no fixed length"},
    LooseUnit{"year", "days", 365.0, "a year has no fixed length"},
    LooseUnit{"years", "days", 365.0, "a year has no fixed length"},
};

void repair_loose_unit(QuantityLiteral& amount, Session& session) {
  const auto* const loose =
      std::find_if(loose_units.begin(), loose_units.end(),
                   [&](const LooseUnit& entry) { return entry.written == amount.unit->text; });
  if (loose == loose_units.end()) return;
  amount.number.value *= loose->factor;
  amount.unit->text = loose->unit;
  session.reporter->error(
      unit_shape, amount.unit->place,
      fmt::format("{}: write `{} {}`", loose->reason, amount.number.value, loose->unit));
}

bool can_be_unit(const Token& token) {
  if (token.first_on_line) return false;
  if (token.is_symbol("%")) return true;
  const bool word = token.kind == TokenKind::word && !token.reserved;
  return word && !is_number_shaped(token.spelling) && !is_date_shaped(token.spelling);
}

/// `15ms`: the number at the start of a word that goes on in letters; 0 if it is none.
std::size_t number_length(std::string_view word) {
  const std::size_t end = word.find_first_not_of("0123456789.", word.starts_with('-') ? 1 : 0);
  if (end == std::string_view::npos || !is_number_shaped(word.substr(0, end))) return 0;
  const auto unit = word.substr(end);
  const bool sign = unit.find_first_of("-/.,_0123456789") != std::string_view::npos;
  return sign ? 0 : end;
}

bool split_quantity(const Token& token, QuantityLiteral& amount) {
  const std::size_t length = token.kind == TokenKind::word ? number_length(token.spelling) : 0;
  // Places would not fit a word whose spelling differs from what was written.
  if (length == 0 || token.place.end - token.place.begin != token.spelling.size()) return false;
  const auto value = units::parse_number(token.spelling.substr(0, length));
  if (!value) return false;
  const auto border = token.place.begin + static_cast<std::uint32_t>(length);
  amount.number = {*value, {token.place.source, token.place.begin, border}};
  amount.unit = Word{std::string(token.spelling.substr(length)),
                     {token.place.source, border, token.place.end}};
  return true;
}

// --- selections --------------------------------------------------------------------------------

bool read_relation(Cursor& at, Session& session, RelationTest& out) {
  static const auto rules = -kw("not")[is<&RelationTest::negated>] >>
                            name_on_line[set<&RelationTest::relation>] >>
                            member_on_line[set<&RelationTest::term>];
  return run(rules, at, session, out);
}
constexpr Phrase<RelationTest> relation{"a relation such as `applying element`", read_relation};

bool read_mark(Cursor& at, Session& session, MarkTest& out) {
  static const auto rules = kw("that") > (kw("is") | kw("are")) >
                            -kw("not")[is<&MarkTest::negated>] > name[set<&MarkTest::mark>];
  return run(rules, at, session, out);
}
constexpr Phrase<MarkTest> mark{"`that is` and a mark", read_mark};

bool read_scope_name(Cursor& at, Session& session, Word& out) {
  return run(name[whole_value], at, session, out);
}
constexpr Phrase<Word> scope_name{"a scope such as `element`", read_scope_name};

// --- counts ------------------------------------------------------------------------------------

/// A word within a count; its message shows the whole count.
struct CountWord : TokenParser<CountWord, x3::unused_type> {
  std::string_view word;
  constexpr explicit CountWord(std::string_view spelling) : word(spelling) {}
  bool read(const Token& token, x3::unused_type&) const { return token.is_word(word); }
  [[nodiscard]] std::string expected() const {
    return fmt::format("`{}` (as in `8 of 10 jobs`)", word);
  }
};

struct JobsWord : TokenParser<JobsWord, x3::unused_type> {
  bool read(const Token& token, x3::unused_type&) const {
    return token.is_word("jobs") || token.is_word("job");
  }
  [[nodiscard]] std::string expected() const { return "`jobs` (as in `8 of 10 jobs`)"; }
};
constexpr JobsWord jobs_word{};

/// Grades are named as everything else; a member such as `K3` is none.
struct GradeParser : TokenParser<GradeParser, Word> {
  bool read(const Token& token, Word& word) const {
    return is_name(token.spelling) && name.read(token, word);
  }
  [[nodiscard]] std::string expected() const { return "a grade"; }
};
constexpr GradeParser grade{};

bool read_grade_hits(Cursor& at, Session& session, GradeHits& out) {
  static const auto or_more = kw("or") > kw("more")[is<&GradeHits::or_more>];
  static const auto rules =
      -(grade[set<&GradeHits::grade>] >> -or_more) >> kw("in") > whole[set<&GradeHits::hits>];
  return run(rules, at, session, out);
}
constexpr Phrase<GradeHits> grade_hits{"`in` and a count such as `8 of 10 jobs`", read_grade_hits};

// `raised in 5, high in 3 of 10 jobs`: does the 5 include the 3?
void check_or_more(const GradedCount& graded, Session& session) {
  if (graded.parts.empty()) return;
  const auto& strongest = graded.parts.back();
  for (const GradeHits& part : graded.parts) {
    if (&part == &strongest || part.or_more || !part.grade) continue;
    session.reporter->error(
        grade_or_more, part.grade->place,
        fmt::format(
            "write `{0} or more in ...` and count the stronger grades too; if the two counts "
            "are of separate jobs, that is `{0} or more in {1}`",
            part.grade->text, part.hits.value + strongest.hits.value));
  }
}

}  // namespace

std::optional<std::uint64_t> whole_number(std::string_view digits) {
  std::uint64_t value = 0;
  const char* const end = digits.data() + digits.size();
  const auto result = std::from_chars(digits.data(), end, value);
  if (result.ec != std::errc() || result.ptr != end || value > units::largest_count) return {};
  return value;
}

bool read_quantity(Cursor& at, Session& session, QuantityLiteral& out) {
  const Cursor begin = at;
  if (at == session.end) return false;
  if (number.read(*at, out.number)) {
    ++at;
    if (can_be_unit(*at)) {
      out.unit = Word{std::string(at->spelling), at->place};
      ++at;
    }
  } else if (split_quantity(*at, out)) {
    ++at;
  } else {
    return false;
  }
  if (out.unit) repair_loose_unit(out, session);
  out.place = session.span(begin, at);
  return true;
}

bool read_selection(Cursor& at, Session& session, Selection& out) {
  using enum Quantifier;
  static const auto share = kw("of")[is<&Selection::quantifier, at_least_share>];
  static const auto quantifier =
      kw("each")[is<&Selection::quantifier, each>] |
      kw("every")[is<&Selection::quantifier, every>] | kw("any")[is<&Selection::quantifier, any>] |
      kw("no")[is<&Selection::quantifier, no>] |
      (kw("at") >> kw("least") >> number[set<&Selection::amount>] >>
       x3::eps[is<&Selection::quantifier, at_least_count>] >> -(sym("%") > share));
  static const auto rules = quantifier >> -kw("other")[is<&Selection::other>] >
                            scope_name[set<&Selection::scope>] >> -mark[set<&Selection::mark>] >>
                            -relation[set<&Selection::relation>];
  return run(rules, at, session, out);
}

bool read_reference(Cursor& at, Session& session, Reference& out) {
  static const auto target = selection[set<&Reference::target>] | member[set<&Reference::target>];
  static const auto rules = name[set<&Reference::name>] >> -(kw("of") > target);
  return run(rules, at, session, out);
}

bool read_path(Cursor& at, Session& session, Path& out) {
  // `within A of zero`: that `of` is not part of the path.
  static const auto rules = name[add<&Path::words>] >> *(kw("of") >> member[add<&Path::words>]) >>
                            -(kw("of") >> !kw("zero") > selection[set<&Path::selection>]);
  return run(rules, at, session, out);
}

bool read_event_use(Cursor& at, Session& session, EventUse& out) {
  // `by "AB"` is a line of its own.
  static const auto hand =
      kw("us")[is<&EventUse::by, Hand::us>] | kw("others")[is<&EventUse::by, Hand::others>];
  static const auto rules = reference[set<&EventUse::event>] >> -(kw("by") >> !text > hand);
  return run(rules, at, session, out);
}

bool read_bare_count(Cursor& at, Session& session, CountPhrase& out) {
  static const auto rules =
      whole[set<&CountPhrase::hits>] > CountWord("of") > whole[set<&CountPhrase::total>];
  return run(rules, at, session, out);
}

bool read_count(Cursor& at, Session& session, CountPhrase& out) {
  static const auto rules = whole[set<&CountPhrase::hits>] > CountWord("of") >
                            whole[set<&CountPhrase::total>] > jobs_word >>
                            -kw("together")[is<&CountPhrase::together>];
  return run(rules, at, session, out);
}

bool read_graded_count(Cursor& at, Session& session, GradedCount& out) {
  static const auto rules = grade_hits[add<&GradedCount::parts>] % sym(",") > CountWord("of") >
                            whole[set<&GradedCount::total>] > jobs_word >>
                            -kw("together")[is<&GradedCount::together>];
  if (!run(rules, at, session, out)) return false;
  check_or_more(out, session);
  return true;
}

}  // namespace slipcase::language::grammar

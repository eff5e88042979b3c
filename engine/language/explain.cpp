#include "language/explain.h"

#include <algorithm>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "language/line_starts.h"
#include "language/messages.h"
#include "language/parse.h"
#include "language/words.h"
#include "support/suggest.h"
#include "units/date.h"
#include "units/quantity.h"

namespace slipcase::language {

namespace {

bool has_previous(Cursor where, const Session& session) { return where != session.begin; }

/// What should stand here would have stood behind the token before.
bool ends_line(Cursor where, const Session& session) {
  return where == session.end || where->first_on_line;
}

/// On the same line as the token before it.
bool continues_line(Cursor where, const Session& session) {
  return has_previous(where, session) && !where->first_on_line && where != session.end;
}

// --- numbers -----------------------------------------------------------------------------------

std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> parts;
  for (std::size_t at = 0;;) {
    const std::size_t end = text.find(separator, at);
    parts.push_back(text.substr(at, end - at));
    if (end == std::string_view::npos) return parts;
    at = end + 1;
  }
}

std::string without(std::string_view text, char unwanted) {
  std::string kept;
  std::copy_if(text.begin(), text.end(), std::back_inserter(kept),
               [unwanted](char c) { return c != unwanted; });
  return kept;
}

/// `2,5`; `2,500` is grouped digits.
bool is_decimal_comma(std::string_view text) {
  const auto parts = split(text, ',');
  return parts.size() == 2 && is_digits(parts[0]) && is_digits(parts[1]) && parts[1].size() != 3;
}

bool report_comma(const Token& token, const Session& session) {
  const auto parts = split(token.spelling, ',');
  if (parts.size() < 2 ||
      token.spelling.find_first_not_of("0123456789.,") != std::string_view::npos) {
    return false;
  }
  const bool groups = std::all_of(parts.begin() + 1, parts.end(), [](std::string_view part) {
    return part.substr(0, part.find('.')).size() == 3;
  });
  std::string better =
      groups ? without(token.spelling, ',') : fmt::format("{}.{}", parts[0], parts[1]);
  std::string advice = fmt::format("write `{}`", better);
  if (parts.size() == 2 && groups && parts[0].size() == 1) {
    advice += fmt::format(", or `{}.{}` if that is meant", parts[0], parts[1]);
  }
  if (parts.size() > 2 && !groups) advice = "put a blank behind each `,` of a list";
  session.reporter->error(unit_shape, token.place,
                          fmt::format("numbers are written without `,`: {}", advice));
  return true;
}

/// `200 000`: met at the second half.
bool report_groups(Cursor where, const Session& session) {
  if (!continues_line(where, session) || where->spelling.size() != 3 ||
      !is_digits(where->spelling)) {
    return false;
  }
  const Token& before = *(where - 1);
  if (before.kind != TokenKind::word || !is_digits(before.spelling)) return false;
  std::string all(before.spelling);
  Cursor last = where;
  for (; last->spelling.size() == 3 && is_digits(last->spelling) && !last->first_on_line; ++last) {
    all += last->spelling;
  }
  session.reporter->error(unit_shape, session.span(where - 1, last),
                          fmt::format("numbers are written in one piece: write `{}`", all));
  return true;
}

bool report_date(const Token& token, const Session& session) {
  if (is_date_shaped(token.spelling) && !units::Date::parse(token.spelling)) {
    session.reporter->error(date_shape, token.place,
                            fmt::format("there is no day `{}` in the calendar", token.spelling));
    return true;
  }
  const auto parts =
      split(token.spelling, token.spelling.find('/') != std::string_view::npos ? '/' : '.');
  const bool numbers = parts.size() == 3 && std::all_of(parts.begin(), parts.end(), is_digits);
  const auto dashed = split(token.spelling, '-');
  const bool short_parts = dashed.size() == 3 &&
                           std::all_of(dashed.begin(), dashed.end(), is_digits) &&
                           !units::Date::parse(token.spelling);
  if (!numbers && !short_parts) return false;
  const bool slashes = token.spelling.find('/') != std::string_view::npos;
  session.reporter->error(
      date_shape, token.place,
      fmt::format("dates are written year-month-day, as in `2031-04-22`{}",
                  slashes ? fmt::format(": `{}` can be read two ways", token.spelling) : ""));
  return true;
}

bool report_fraction(const Token& token, const Session& session) {
  const auto parts = split(token.spelling, '/');
  if (parts.size() != 2 || !is_digits(parts[0]) || !is_digits(parts[1])) return false;
  session.reporter->error(count_shape, token.place,
                          fmt::format("write what you saw: `{} of {} jobs`", parts[0], parts[1]));
  return true;
}

bool report_not_finite(const Token& token, const Session& session) {
  if (!is_number_shaped(token.spelling) || units::parse_number(token.spelling)) return false;
  session.reporter->error(number_shape, token.place,
                          fmt::format("`{}` is too large or too small a number", token.spelling));
  return true;
}

// --- counts ------------------------------------------------------------------------------------

bool wants_whole(std::string_view expected) {
  return expected == "a whole number" || expected.find("8 of 10") != std::string_view::npos;
}

bool report_count(Cursor where, std::string_view expected, const Session& session) {
  if (!wants_whole(expected)) return false;
  const auto say = [&](std::string text) {
    session.reporter->error(count_shape, where->place, std::move(text));
    return true;
  };
  if (where->kind == TokenKind::word && is_digits(where->spelling) && where->spelling.size() > 18) {
    return say("counts go up to 1000000000000000000 (10^18)");
  }
  const bool fraction = where->kind == TokenKind::word && !is_digits(where->spelling) &&
                        (is_number_shaped(where->spelling) || is_decimal_comma(where->spelling));
  if (fraction) {
    return say(fmt::format("a count is a whole number of jobs, such as `8 of 10 jobs`, not `{}`",
                           where->spelling));
  }
  if (where->is_symbol("%")) return say("write what you saw, not a percentage: `8 of 10 jobs`");
  if (where->is_word("out")) return say("write the count as `8 of 10 jobs`, without `out`");
  return false;
}

// --- words -------------------------------------------------------------------------------------

/// What stands in back quotes in `expected`, if that is one word of the language.
std::vector<std::string> expected_words(std::string_view expected) {
  std::vector<std::string> words;
  const auto parts = split(expected, '`');
  for (std::size_t i = 1; i < parts.size(); i += 2) {
    if (parts[i].find(' ') == std::string_view::npos) words.emplace_back(parts[i]);
  }
  return words;
}

bool wants_name(std::string_view expected) {
  return expected.starts_with("a name") || expected.starts_with("the name") ||
         expected.starts_with("a scope") || expected.starts_with("a cause") ||
         expected.starts_with("a finding");
}

bool report_name_problem(Cursor where, std::string_view expected, const Session& session) {
  if (!wants_name(expected)) return false;
  if (where->kind == TokenKind::text) {
    session.reporter->error(name_shape, where->place,
                            fmt::format("expected {} without quotes", expected));
    return true;
  }
  // `shows in 8 of 10 jobs`: the name is missing; `shows source in ...`: it cannot be one.
  if (where->first_on_line || !starts_line_only(where->spelling)) return false;
  session.reporter->error(
      reserved_name, where->place,
      fmt::format("`{}` is a word of the language and cannot be a name", where->spelling));
  return true;
}

bool report_flags(Cursor where, std::string_view expected, std::string_view line,
                  const Session& session) {
  if (line != "flags" || expected.find("bad") == std::string_view::npos) return false;
  session.reporter->error(
      flags_needs_bad_good, ends_line(where, session) ? (where - 1)->place : where->place,
      "two counts are needed, of different cars: `in 17 of 20 bad` (cars that have it: how often "
      "does the check show it?), `in 1 of 12 good` (cars that do not: how often does it fool "
      "you?)");
  return true;
}

bool report_no_date(Cursor where, std::string_view expected, const Session& session) {
  if (!expected.starts_with("a date") || where->first_on_line || where == session.end) return false;
  session.reporter->error(date_shape, where->place,
                          fmt::format("expected {}, found {}", expected, describe(*where)));
  return true;
}

/// `becomes 2 times more likely`
bool report_more_likely(Cursor where, std::string_view line, const Session& session) {
  const bool more = line == "becomes" && where->is_word("more") && (where - 1)->is_word("times");
  if (!more) return false;
  session.reporter->error(
      expected_other, session.span(where - 2, where + 1),
      fmt::format("write `{} times as likely when ...`, without `more`", (where - 2)->spelling));
  return true;
}

/// `revise cause lining_worn`: a layer names what it is about, and that is enough.
bool report_layer_word(Cursor where, std::string_view line, const Session& session) {
  const bool layer = line == "extend" || line == "revise" || line == "remove";
  if (!layer || where == session.end || where->first_on_line || where->kind != TokenKind::word)
    return false;
  const auto words = declaration_words();
  const bool kind = std::any_of(words.begin(), words.end(), [&](const DeclarationWord& entry) {
    return where->is_word(entry.word);
  });
  const Token& next = *(where + 1);
  if (!kind || next.kind != TokenKind::word || next.first_on_line) return false;
  session.reporter->error(
      expected_other, where->place,
      fmt::format("leave out `{0}`: write `{1} {2}`", where->spelling, line, next.spelling));
  return true;
}

void report_expected(Cursor where, std::string_view expected, const Session& session) {
  // Where a line simply ends too soon, the reader looks at its end, not at the next line.
  if (ends_line(where, session) && has_previous(where, session)) {
    const Token& before = *(where - 1);
    session.reporter->error(expected_other, before.place,
                            fmt::format("expected {} behind {}", expected, describe(before)));
    return;
  }
  std::string text = fmt::format("expected {}, found {}", expected, describe(*where));
  if (where->is_symbol(":")) text += ": leave it out";
  if (where->kind == TokenKind::word)
    text += did_you_mean(where->spelling, expected_words(expected));
  session.reporter->error(expected_other, where->place, std::move(text));
}

/// The `(` that the condition in front of `where` leaves open.
std::optional<Place> open_parenthesis(Cursor where, const Session& session) {
  int closed = 0;
  for (Cursor at = where; at != session.begin;) {
    --at;
    if (at->is_symbol(")")) ++closed;
    if (at->is_symbol("(") && closed-- == 0) return at->place;
  }
  return std::nullopt;
}

bool report_parenthesis(Cursor where, std::string_view expected, const Session& session) {
  if (expected != "`)`" || !ends_line(where, session)) return false;
  const auto open = open_parenthesis(where, session);
  if (!open) return false;
  session.reporter->error(parenthesis_missing, *open, "this `(` is never closed: a `)` is missing");
  return true;
}

}  // namespace

std::string describe(const Token& token) {
  constexpr std::size_t longest = 40;
  std::string spelling(token.spelling);
  if (spelling.size() > longest) {
    std::size_t cut = longest;
    while (cut > 0 && (static_cast<unsigned char>(spelling[cut]) & 0xC0U) == 0x80U) --cut;
    spelling = spelling.substr(0, cut) + "...";
  }
  switch (token.kind) {
    case TokenKind::word:
    case TokenKind::symbol:
      return "`" + spelling + "`";
    case TokenKind::text:
      return "the text `\"" + spelling + "\"`";
    case TokenKind::end:
      return "the end of the file";
  }
  return spelling;
}

bool report_shape(Cursor where, const Session& session) {
  if (where->kind != TokenKind::word) return false;
  return report_comma(*where, session) || report_groups(where, session) ||
         report_date(*where, session) || report_fraction(*where, session) ||
         report_not_finite(*where, session);
}

bool report_missing_of(Cursor where, const Session& session) {
  const auto is_member = [](const Token& token) {
    const std::string_view word = token.spelling;
    return is_free_word(token) && !token.first_on_line && !is_name(word) &&
           !is_number_shaped(word) && !is_date_shaped(word);
  };
  if (where == session.begin || where->first_on_line) return false;
  const Cursor member = is_member(*where) ? where : where - 1;
  if (member == session.begin || !is_member(*member)) return false;
  const Token& name = *(member - 1);
  if (!is_free_word(name) || !is_name(name.spelling)) return false;
  session.reporter->error(
      expected_other, session.span(member - 1, member + 1),
      fmt::format("`of` is missing, did you mean `{} of {}`?", name.spelling, member->spelling));
  return true;
}

void explain(const Failure& failure, std::string_view line, const Session& session) {
  const Cursor where = failure.where;
  if (report_count(where, failure.expected, session)) return;
  if (report_shape(where, session)) return;
  if (report_flags(where, failure.expected, line, session)) return;
  if (report_missing_of(where, session)) return;
  if (report_more_likely(where, line, session)) return;
  if (report_layer_word(where, line, session)) return;
  if (report_name_problem(where, failure.expected, session)) return;
  if (report_parenthesis(where, failure.expected, session)) return;
  if (report_no_date(where, failure.expected, session)) return;
  report_expected(where, failure.expected, session);
}

}  // namespace slipcase::language

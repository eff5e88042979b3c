// One slip, one message: every line of a correct file is damaged in one way after the other.
#include <functional>
#include <map>

#include <doctest/doctest.h>

#include "language/tokens.h"
#include "unit/language/reading.h"

namespace slipcase::language::testing {
namespace {

std::vector<Token> tokens_of(const std::string& text, Tokens& kept) {
  Reporter reporter;
  kept = read_tokens(text, SourceId{}, reporter);
  kept.list.resize(kept.list.size() - end_tokens);
  return kept.list;
}

/// `text` with the bytes of one token replaced.
std::string replaced(const std::string& text, const Token& token, std::string_view by) {
  return text.substr(0, token.place.begin) + std::string(by) + text.substr(token.place.end);
}

std::string written(const std::string& text, const Token& token) {
  return text.substr(token.place.begin, token.place.end - token.place.begin);
}

/// Gives the damaged spelling of a token; the same spelling where this damage does not apply.
using Damage = std::function<std::string(const Token&, const std::string&)>;

struct Outcome {
  int none = 0;  // still correct text; whether it makes sense is not the grammar's business
  int one = 0;
  int more = 0;
  std::string first_bad;
};

Outcome damage_all(const Damage& damage) {
  const std::string text = read_test_file(SLIPCASE_TEST_DATA "/language/every_clause.rules");
  Tokens kept;
  Outcome outcome;
  for (const Token& token : tokens_of(text, kept)) {
    const std::string before = written(text, token);
    const std::string after = damage(token, before);
    if (after == before) continue;
    const Reading reading = read(replaced(text, token, after));
    const std::size_t count = reading.messages().size();
    (count == 0 ? outcome.none : count == 1 ? outcome.one : outcome.more) += 1;
    if (count > 1 && outcome.first_bad.empty()) outcome.first_bad = reading.rendered();
  }
  return outcome;
}

bool is_longer_word(const Token& token) {
  return token.kind == TokenKind::word && token.spelling.size() > 3;
}

TEST_CASE("a misspelt first word of a line gives exactly one message") {
  const Outcome dropped = damage_all([](const Token& token, const std::string& word) {
    if (!token.first_on_line || !is_longer_word(token)) return word;
    return word.substr(0, 1) + word.substr(2);
  });
  CHECK_MESSAGE(dropped.more == 0, dropped.first_bad);
  CHECK(dropped.none == 0);
  CHECK(dropped.one > 120);

  const Outcome swapped = damage_all([](const Token& token, const std::string& word) {
    if (!token.first_on_line || !is_longer_word(token)) return word;
    return word.substr(0, 1) + word[2] + word[1] + word.substr(3);
  });
  CHECK_MESSAGE(swapped.more == 0, swapped.first_bad);
  CHECK(swapped.one > 120);
}

TEST_CASE("a misspelt word of the language within a line gives at most one message") {
  const Outcome outcome = damage_all([](const Token& token, const std::string& word) {
    if (token.first_on_line || !token.reserved || !is_longer_word(token)) return word;
    return word.substr(0, 1) + word[2] + word[1] + word.substr(3);
  });
  CHECK_MESSAGE(outcome.more == 0, outcome.first_bad);
  CHECK(outcome.one > 30);
}

TEST_CASE("a word of the language that is missing gives at most one message") {
  const Outcome outcome = damage_all([](const Token& token, const std::string& word) {
    return token.reserved && !token.first_on_line ? std::string() : word;
  });
  CHECK_MESSAGE(outcome.more == 0, outcome.first_bad);
  CHECK(outcome.one > 180);
  CHECK(outcome.none < 30);
}

TEST_CASE("a sign that is missing gives at most one message") {
  const Outcome outcome = damage_all([](const Token& token, const std::string& sign) {
    return token.kind == TokenKind::symbol ? std::string() : sign;
  });
  CHECK_MESSAGE(outcome.more == 0, outcome.first_bad);
  CHECK(outcome.one > 40);
}

TEST_CASE("a quote that is missing gives exactly one message") {
  const Outcome closing = damage_all([](const Token& token, const std::string& text) {
    return token.kind == TokenKind::text ? text.substr(0, text.size() - 1) : text;
  });
  CHECK_MESSAGE(closing.more == 0, closing.first_bad);
  CHECK(closing.none == 0);
  const Outcome opening = damage_all([](const Token& token, const std::string& text) {
    return token.kind == TokenKind::text ? text.substr(1) : text;
  });
  CHECK_MESSAGE(opening.more == 0, opening.first_bad);
  CHECK(opening.none == 0);
}

TEST_CASE("a number that is missing or badly written gives at most one message") {
  const auto with_numbers = [](std::string_view tail) {
    return damage_all([tail](const Token& token, const std::string& word) {
      const bool digits = word.find_first_not_of("0123456789") == std::string::npos;
      if (token.kind != TokenKind::word || !digits) return word;
      return tail.empty() ? std::string() : word + std::string(tail);
    });
  };
  for (const char* const tail : {"", ",5", " 000", "/10", " out", ".5.5"}) {
    CAPTURE(tail);
    const Outcome outcome = with_numbers(tail);
    CHECK_MESSAGE(outcome.more == 0, outcome.first_bad);
    CHECK(outcome.one > 60);
  }
}

TEST_CASE("something behind the end of a line gives at most one message") {
  for (const char* const tail : {" ;", " ,", " )", " 17", " and", " \"text\""}) {
    CAPTURE(tail);
    const std::string text = read_test_file(SLIPCASE_TEST_DATA "/language/every_clause.rules");
    for (std::size_t end = text.find('\n'); end != std::string::npos;
         end = text.find('\n', end + 1)) {
      const Reading reading = read(text.substr(0, end) + tail + text.substr(end));
      CHECK_MESSAGE(reading.messages().size() <= 1, reading.rendered());
    }
  }
}

}  // namespace
}  // namespace slipcase::language::testing

#include "language/tokens.h"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "language/characters.h"
#include "language/messages.h"
#include "language/parse.h"
#include "language/quotes.h"
#include "language/words.h"
#include "support/utf8.h"

namespace slipcase::language {

namespace {

bool is_plain_word_byte(char byte) {
  return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
         (byte >= '0' && byte <= '9') || byte == '_';
}

bool is_broken(const Character& character) {
  return character.code == 0xFFFD && character.length == 1;
}

class Reader {
 public:
  Reader(std::string_view text, SourceId source, Reporter& reporter)
      : text_(text), source_(source), reporter_(reporter) {
    tokens_.list.reserve(text.size() / 5 + 1);
  }

  Tokens read() {
    if (starts_as_utf16()) return finish();
    if (text_.starts_with("\xEF\xBB\xBF")) at_ = counted_ = line_begin_ = 3;
    while (at_ < text_.size()) read_one();
    return finish();
  }

 private:
  // --- characters ------------------------------------------------------------------------------

  [[nodiscard]] Character peek(std::size_t at) const {
    if (at >= text_.size()) return {U'\n', 1};
    const auto byte = static_cast<unsigned char>(text_[at]);
    return byte < 0x80 ? Character{byte, 1} : decode(text_.substr(at));
  }

  [[nodiscard]] std::uint32_t offset(std::size_t at) const {
    return static_cast<std::uint32_t>(at);
  }
  [[nodiscard]] Place place(std::size_t begin, std::size_t end) const {
    return {source_, offset(begin), offset(end)};
  }

  /// Where printable ASCII ends: nearly all of a file is nothing else.
  [[nodiscard]] std::size_t end_of_plain_text(std::size_t at, std::size_t end) const {
    while (at < end && text_[at] >= ' ' && text_[at] < 0x7F) ++at;
    return at;
  }

  bool starts_as_utf16() {
    if (!text_.starts_with("\xFF\xFE") && !text_.starts_with("\xFE\xFF")) return false;
    reporter_.error(not_utf8, place(0, 2), "this file is UTF-16: save it as UTF-8");
    return true;
  }

  // One message a line: a line that is damaged is often damaged in many places.
  void report_bad_character(const Character& character) {
    if (std::exchange(bad_reported_, true)) return;
    const Place here = place(at_, at_ + character.length);
    if (is_broken(character)) {
      reporter_.error(not_utf8, here, "this is not UTF-8: save the file as UTF-8");
    } else {
      reporter_.error(control_character, here,
                      fmt::format("a character that cannot be seen (U+{:04X}): delete it",
                                  static_cast<std::uint32_t>(character.code)));
    }
  }

  // --- one thing at a time ---------------------------------------------------------------------

  void read_one() {
    const Character character = peek(at_);
    if (character.code == U'\n' || character.code == U'\r') return end_line(character.code);
    if (is_blank(character.code)) {
      at_ += character.length;
    } else if (is_broken(character) || is_unseen(character.code)) {
      report_bad_character(character);
      at_ += character.length;
    } else if (character.code == U'#') {
      read_comment();
    } else if (is_double_quote(character.code)) {
      read_text(character);
    } else if (is_single_quote(character.code)) {
      read_single_quoted(character);
    } else if (is_word_character(character.code) || starts_negative(character)) {
      read_word();
    } else {
      read_symbol(character);
    }
  }

  void end_line(char32_t code) {
    at_ += code == U'\r' && text_.substr(at_).starts_with("\r\n") ? 2 : 1;
    counted_ = line_begin_ = at_;
    column_ = 1;
    first_on_line_ = true;
    bad_reported_ = false;
  }

  // Found once a line, so that a file of one long line does not cost its square.
  [[nodiscard]] std::size_t line_end() {
    if (at_ > line_end_ || line_end_ == 0) {
      line_end_ = std::min(text_.find_first_of("\r\n", at_), text_.size());
    }
    return line_end_;
  }

  void read_comment() {
    const std::size_t begin = at_;
    const std::size_t end = line_end();
    at_ = end_of_plain_text(begin, end);
    for (; at_ < end; at_ += peek(at_).length) {
      const Character character = peek(at_);
      if (is_broken(character) || is_unseen(character.code)) report_bad_character(character);
    }
    Comment comment;
    comment.place = place(begin, end);
    comment.text = text_.substr(begin, end - begin);
    comment.text.resize(comment.text.find_last_not_of(" \t") + 1);
    comment.first_on_line = first_on_line_;
    comment.indented = begin > line_begin_;
    comment.blank_behind = blank_line_behind(end);
    tokens_.comments.push_back(std::move(comment));
  }

  [[nodiscard]] bool blank_line_behind(std::size_t end) const {
    const std::size_t next = end + (text_.substr(end).starts_with("\r\n") ? 2 : 1);
    if (next >= text_.size()) return false;
    const std::size_t first = text_.find_first_not_of(" \t", next);
    return first != std::string_view::npos && (text_[first] == '\n' || text_[first] == '\r');
  }

  Token& push(TokenKind kind, std::size_t begin, std::size_t end, std::string_view spelling) {
    const auto skipped = text_.substr(counted_, begin - counted_);
    column_ +=
        static_cast<std::uint32_t>(std::count_if(skipped.begin(), skipped.end(), [](char byte) {
          return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U;
        }));
    counted_ = begin;
    Token token;
    token.kind = kind;
    token.first_on_line = std::exchange(first_on_line_, false);
    token.column = column_;
    token.place = place(begin, end);
    token.spelling = spelling;
    return tokens_.list.emplace_back(token);
  }

  std::string_view keep(std::string text) { return tokens_.respelt.emplace_back(std::move(text)); }

  // --- words -----------------------------------------------------------------------------------

  [[nodiscard]] bool is_digit_at(std::size_t at) const {
    return at < text_.size() && text_[at] >= '0' && text_[at] <= '9';
  }

  [[nodiscard]] bool starts_negative(const Character& character) const {
    return is_dash(character.code) && is_digit_at(at_ + character.length);
  }

  // `-`, `.` and `/` belong to a word between letters or digits; a `,` between two plain numbers
  // does too, so that `2,5` is met as one thing that has a message of its own.
  [[nodiscard]] bool joins(const Character& character, std::size_t word_begin) const {
    const std::size_t next = at_ + character.length;
    if (character.code == U',') {
      constexpr std::size_t longest_number = 40;
      const auto before = text_.substr(word_begin, at_ - word_begin);
      return before.size() < longest_number && is_digit_at(next) &&
             before.find_first_not_of("0123456789.,") == std::string_view::npos;
    }
    const bool joint = character.code == U'.' || character.code == U'/' || is_dash(character.code);
    return joint && is_letter_or_digit(peek(next).code);
  }

  [[nodiscard]] bool goes_on(const Character& character, std::size_t begin) const {
    if (is_word_character(character.code)) return true;
    if (is_dash(character.code) && at_ == begin) return true;
    return joins(character, begin);
  }

  void read_word() {
    const std::size_t begin = at_;
    bool plain = true;
    while (at_ < text_.size() && is_plain_word_byte(text_[at_])) ++at_;
    for (; at_ < text_.size(); at_ += peek(at_).length) {
      const Character character = peek(at_);
      if (is_broken(character) || is_unseen(character.code)) {
        report_bad_character(character);
        plain = false;
      } else if (!goes_on(character, begin)) {
        break;
      }
      plain = plain && !(is_dash(character.code) && character.length > 1);
    }
    const auto written = text_.substr(begin, at_ - begin);
    Token& token = push(TokenKind::word, begin, at_, plain ? written : keep(respell(written)));
    token.reserved = is_reserved(token.spelling);
    // A word that starts a line cannot stand in parentheses: what is open there was never closed.
    if (token.first_on_line && starts_line_only(token.spelling)) depth_ = braces_ = 0;
  }

  /// Dashes of all kinds as `-`, without what cannot be seen.
  static std::string respell(std::string_view written) {
    std::string spelling;
    for (std::size_t at = 0; at < written.size();) {
      const Character character = decode(written.substr(at));
      if (is_dash(character.code)) {
        spelling += '-';
      } else if (!is_broken(character) && !is_unseen(character.code)) {
        spelling.append(written.substr(at, character.length));
      }
      at += character.length;
    }
    return spelling;
  }

  // --- texts -----------------------------------------------------------------------------------

  void read_text(const Character& opening) {
    const std::size_t begin = at_;
    const std::size_t inner = begin + opening.length;
    const std::size_t end = line_end();
    const auto line = text_.substr(inner, end - inner);
    const auto closing = find_closing(line, opening.code == U'"');
    if (!closing) {
      if (is_blank_text(line) && take_unopened(inner)) return;
      return read_unclosed(begin, inner, end);
    }
    const std::size_t behind = inner + closing->end;
    push(TokenKind::text, begin, behind, clean(inner, inner + closing->begin));
    at_ = behind;
  }

  /// The text between, without what cannot be seen; a tab is a blank.
  std::string_view clean(std::size_t begin, std::size_t end) {
    const auto written = text_.substr(begin, end - begin);
    if (end_of_plain_text(begin, end) == end) return written;
    std::string cleaned;
    for (at_ = begin; at_ < end; at_ += peek(at_).length) {
      const Character character = peek(at_);
      if (character.code == U'\t') {
        cleaned += ' ';
      } else if (is_broken(character) || is_unseen(character.code)) {
        report_bad_character(character);
      } else {
        cleaned.append(text_.substr(at_, character.length));
      }
    }
    return keep(std::move(cleaned));
  }

  // `says Worn lining"`: the words in front of the quote were meant to be the text.
  bool take_unopened(std::size_t end) {
    auto& list = tokens_.list;
    auto first = list.end();
    while (first != list.begin() && (first - 1)->place.begin >= line_begin_) {
      --first;
      if (first->kind != TokenKind::word || !takes_text(first->spelling)) continue;
      const std::size_t begin = text_.find_first_not_of(" \t", first->place.end);
      list.erase(first + 1, list.end());
      reporter_.withdraw(offset(begin), offset(end));
      reporter_.error(quote_missing, place(begin, end), "this text has no opening quote");
      counted_ = line_begin_;
      column_ = 1;
      push(TokenKind::text, begin, end, text_.substr(begin, end - begin - 1));
      at_ = end;
      return true;
    }
    return false;
  }

  void read_unclosed(std::size_t begin, std::size_t inner, std::size_t end) {
    const std::size_t closed = end_of_text_over_lines(text_, end);
    if (closed != end) {
      reporter_.error(quote_missing, place(begin, end),
                      "this text has no closing quote on its line: a text stays on one line");
    } else {
      reporter_.error(quote_missing, place(begin, end), "this text has no closing quote");
    }
    while (end > inner && (text_[end - 1] == ' ' || text_[end - 1] == '\t')) --end;
    push(TokenKind::text, begin, end, clean(inner, end));
    at_ = std::max(closed, end);
  }

  void read_single_quoted(const Character& opening) {
    const std::size_t begin = at_;
    const std::size_t inner = begin + opening.length;
    const std::size_t end = line_end();
    std::size_t closing = inner;
    while (closing < end && !is_single_quote(peek(closing).code)) closing += peek(closing).length;
    if (closing >= end) {
      reporter_.error(single_quotes, place(begin, inner),
                      "a text stands in double quotes: `\"...\"`");
      at_ = inner;
      return;
    }
    const std::size_t behind = closing + peek(closing).length;
    reporter_.error(single_quotes, place(begin, behind),
                    "a text stands in double quotes: `\"...\"`");
    push(TokenKind::text, begin, behind, clean(inner, closing));
    at_ = behind;
  }

  // --- signs -----------------------------------------------------------------------------------

  void read_symbol(const Character& character) {
    const SymbolEntry* entry = find_symbol(text_.substr(at_));
    const std::size_t length = entry != nullptr ? entry->written.size() : character.length;
    const Place here = place(at_, at_ + length);
    at_ += length;
    if (entry == nullptr) {
      reporter_.error(
          wrong_symbol, here,
          fmt::format("`{}` is no sign of the language", text_.substr(here.begin, length)));
      return;
    }
    if (!entry->advice.empty()) report_symbol(*entry, here);
    // In front of more it separates the parts of a list.
    const bool separates =
        entry->written == ";" && !is_blank_text(text_.substr(at_, line_end() - at_));
    const std::string_view meant = separates ? "," : entry->meant;
    if (meant.empty()) return;
    if (meant == "(" && !open(here)) return;
    if (meant == ")" && !close()) return;
    const bool word = is_word_character(peek_code(meant));
    Token& token = push(word ? TokenKind::word : TokenKind::symbol, here.begin, here.end, meant);
    token.reserved = word;
    token.guessed = !entry->advice.empty();
  }

  static char32_t peek_code(std::string_view text) {
    return static_cast<unsigned char>(text.front());
  }

  void report_symbol(const SymbolEntry& entry, Place here) {
    // The closing sign of a pair says nothing new.
    const bool closes = entry.written == "}" || entry.written == "]";
    if (closes && braces_ > 0) {
      --braces_;
      return;
    }
    if (entry.meant == "(") ++braces_;
    reporter_.error(wrong_symbol, here, fmt::format("`{}`: {}", entry.written, entry.advice));
  }

  // Parentheses that are too deep are dropped in pairs, so that what is behind them is still read.
  bool open(Place here) {
    if (++depth_ <= most_nesting) return true;
    if (depth_ == most_nesting + 1) {
      reporter_.error(too_deep, here,
                      fmt::format("more than {} parentheses within each other", most_nesting));
    }
    return false;
  }
  bool close() {
    if (depth_ == 0) return true;
    return depth_-- <= most_nesting;
  }

  Tokens finish() {
    for (std::size_t i = 0; i < end_tokens; ++i)
      push(TokenKind::end, text_.size(), text_.size(), "");
    return std::move(tokens_);
  }

  std::string_view text_;
  SourceId source_;
  Reporter& reporter_;
  Tokens tokens_;
  std::size_t at_ = 0;
  std::size_t line_begin_ = 0;
  std::size_t line_end_ = 0;  // may be that of an earlier line
  // Column of the byte at counted_; counting goes on from there.
  std::size_t counted_ = 0;
  std::uint32_t column_ = 1;
  std::size_t depth_ = 0;
  std::size_t braces_ = 0;
  bool first_on_line_ = true;
  bool bad_reported_ = false;
};

}  // namespace

Tokens read_tokens(std::string_view text, SourceId source, Reporter& reporter) {
  return Reader(text, source, reporter).read();
}

}  // namespace slipcase::language

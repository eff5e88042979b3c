// The only file here that includes the JSON library. It tells no places, but its events come in the
// order of the text: a cursor over the text keeps step with them.
#include <algorithm>
#include <string>
#include <utility>

#include <nlohmann/json.hpp>

#include "facts/document_messages.h"
#include "facts/read_syntax.h"
#include "facts/tree_builder.h"
#include "facts/yaml_place.h"

namespace slipcase::facts {

namespace {

using Json = nlohmann::json;

struct Token {
  std::uint32_t begin;
  std::uint32_t end;
};

class JsonHandler final : public nlohmann::json_sax<Json> {
 public:
  JsonHandler(const SyntaxInput& input, TreeBuilder& builder)
      : input_(input), builder_(builder), cursor_(input.start) {}

  [[nodiscard]] bool found_syntax_error() const { return syntax_error_; }

  bool null() override { return builder_.null(next().begin); }
  bool boolean(bool /*value*/) override { return as_written(); }
  bool number_integer(number_integer_t /*value*/) override { return as_written(); }
  bool number_unsigned(number_unsigned_t /*value*/) override { return as_written(); }
  bool number_float(number_float_t /*value*/, const string_t& /*text*/) override {
    return as_written();
  }
  bool string(string_t& value) override { return quoted(value); }
  bool key(string_t& value) override { return quoted(value); }
  // Comes from binary formats only.
  bool binary(binary_t& /*value*/) override { return false; }

  bool start_object(std::size_t /*size*/) override {
    return builder_.open(NodeKind::map, next().begin);
  }
  bool start_array(std::size_t /*size*/) override {
    return builder_.open(NodeKind::list, next().begin);
  }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }

  // The library stands behind what it could not use.
  bool parse_error(std::size_t position, const std::string& token,
                   const Json::exception& exception) override {
    syntax_error_ = true;
    const std::string why = reason(exception.what());
    const auto next = static_cast<std::uint32_t>(begin_of_next());
    const std::string_view sign = input_.text.substr(next, 2);
    if (sign == "//" || sign == "/*") {
      builder_.report(json_comment, next, next + 2,
                      "JSON has no comments: take it out, or write the file as YAML, where they "
                      "begin with `#`");
      return false;
    }
    if (builder_.is_complete()) {
      builder_.report(second_document, next, next + 1,
                      "a second document begins here: one file holds one");
      return false;
    }
    if (is_open_text(why)) {
      builder_.report(quote_missing, next, next + 1,
                      "this text has no closing quote: it begins here");
      return false;
    }
    const std::size_t read = std::max(position, token.size()) - token.size();
    const auto at = static_cast<std::uint32_t>(std::min(input_.start + read, input_.text.size()));
    builder_.report(json_syntax, at, at + 1, "this cannot be read as JSON: " + why);
    return false;
  }

 private:
  // "[json.exception.parse_error.101] parse error at line 1, column 2: syntax error while ..."
  static std::string reason(std::string_view what) {
    const std::size_t bracket = what.find("] ");
    if (bracket != std::string_view::npos) what.remove_prefix(bracket + 2);
    const std::size_t colon = what.find(": ");
    if (what.starts_with("parse error at") && colon != std::string_view::npos) {
      what.remove_prefix(colon + 2);
    }
    return std::string(what);
  }

  // A text ends where its line does, at the latest.
  static bool is_open_text(std::string_view why) {
    for (const std::string_view sign : {"missing closing quote", "U+000A", "U+000D"}) {
      if (why.find(sign) != std::string_view::npos) return true;
    }
    return false;
  }

  [[nodiscard]] std::size_t begin_of_next() const {
    return std::min(input_.text.find_first_not_of(" \t\r\n,:", cursor_), input_.text.size());
  }

  Token next() {
    const std::size_t begin = begin_of_next();
    cursor_ = end_of_token(begin);
    return {static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(cursor_)};
  }

  [[nodiscard]] std::size_t end_of_token(std::size_t begin) const {
    if (begin == input_.text.size()) return begin;
    const char first = input_.text[begin];
    if (first == '"') return end_of_quoted(input_.text, begin).value_or(input_.text.size());
    if (std::string_view("{}[]").find(first) != std::string_view::npos) return begin + 1;
    return std::min(input_.text.find_first_of(" \t\r\n,:{}[]\"", begin), input_.text.size());
  }

  bool as_written() {
    const Token token = next();
    const std::string_view text = input_.text.substr(token.begin, token.end - token.begin);
    return builder_.scalar(std::string(text), false, token.begin, token.end);
  }

  bool quoted(string_t& value) {
    const Token token = next();
    return builder_.scalar(std::move(value), true, token.begin, token.end);
  }

  bool close() {
    builder_.close(next().end);
    return true;
  }

  const SyntaxInput& input_;
  TreeBuilder& builder_;
  std::size_t cursor_;
  bool syntax_error_ = false;
};

}  // namespace

SyntaxResult read_json(const SyntaxInput& input, Diagnostics& diagnostics) {
  TreeBuilder builder(input.source, input.limits, diagnostics);
  JsonHandler handler(input, builder);
  const std::string_view text = input.text.substr(input.start);
  if (!Json::sax_parse(text.begin(), text.end(), &handler)) {
    return {std::nullopt, handler.found_syntax_error()};
  }
  return {builder.take(), false};
}

}  // namespace slipcase::facts

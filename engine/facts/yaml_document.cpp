// The only file that includes yaml-cpp. Its events carry the place of every value; its node tree is
// not used, because that one resolves aliases, keeps duplicate keys and loses the text of scalars.
#include <algorithm>
#include <array>
#include <sstream>
#include <string>
#include <utility>

#include <fmt/core.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include "facts/document_messages.h"
#include "facts/read_syntax.h"
#include "facts/tree_builder.h"
#include "facts/yaml_place.h"

namespace slipcase::facts {

namespace {

constexpr std::string_view alias_text =
    "`&` and `*` names are not used here: write the value out (or put a text that begins with `&` "
    "or "
    "`*` in quotes)";
constexpr std::string_view tab_text = "there is a tab in the indentation: use blanks";
constexpr std::string_view no_closing_quote = "this text has no closing quote: it begins here";

// Thrown through the library to leave it, and caught in this file.
struct StopReading {};

class YamlHandler final : public YAML::EventHandler {
 public:
  YamlHandler(const SyntaxInput& input, TreeBuilder& builder) : input_(input), builder_(builder) {}

  [[nodiscard]] bool found_syntax_error() const { return syntax_error_; }
  /// Where the first quote behind all that was read stands.
  [[nodiscard]] std::size_t next_quote() const {
    return std::min(input_.text.find_first_of("\"'", read_to_), input_.text.size());
  }

  [[nodiscard]] std::uint32_t offset(const YAML::Mark& mark) const {
    const auto from_start = static_cast<std::size_t>(std::max(mark.pos, 0));
    return static_cast<std::uint32_t>(std::min(input_.start + from_start, input_.text.size()));
  }

  void OnDocumentStart(const YAML::Mark& /*mark*/) override {}
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    refuse_anchor(mark, anchor);
    go_on(builder_.null(offset(mark)));
  }

  void OnAlias(const YAML::Mark& mark, YAML::anchor_t /*anchor*/) override {
    const std::uint32_t at = offset(mark);
    builder_.report(yaml_anchor, at, end_of_word(at), std::string(alias_text));
    go_on(builder_.refused(at, end_of_word(at)));
  }

  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    const std::uint32_t at = offset(mark);
    refuse_anchor(mark, anchor);
    if (refuse_tag(mark, tag)) return go_on(builder_.refused(at, end_of_word(at)));
    refuse_tab(at);
    const char first = at < input_.text.size() ? input_.text[at] : '\0';
    const bool quoted = tag == "!";
    if (!quoted && value == "<<" && builder_.expects_key()) {
      builder_.report(yaml_merge_key, at, at + 2, "`<<` is not used here: write the entries out");
      return go_on(builder_.refused(at, at + 2));
    }
    read_to_ = end_of_scalar(at, first, quoted, value);
    go_on(builder_.scalar(value, quoted, at, read_to_));
  }

  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value /*style*/) override {
    start(NodeKind::list, mark, tag, anchor);
  }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value /*style*/) override {
    start(NodeKind::map, mark, tag, anchor);
  }
  void OnSequenceEnd() override { builder_.close(0); }
  void OnMapEnd() override { builder_.close(0); }

 private:
  static void go_on(bool may) {
    if (!may) throw StopReading{};
  }

  [[nodiscard]] std::uint32_t end_of_word(std::uint32_t at) const {
    const std::size_t end = input_.text.find_first_of(" \t\r\n,]}", at);
    const std::size_t limit = std::min(end, input_.text.size());
    return std::max(at + 1, static_cast<std::uint32_t>(limit));
  }

  void start(NodeKind kind, const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor) {
    refuse_anchor(mark, anchor);
    static_cast<void>(refuse_tag(mark, tag));
    refuse_tab(offset(mark));
    go_on(builder_.open(kind, offset(mark)));
  }

  void refuse_anchor(const YAML::Mark& mark, YAML::anchor_t anchor) {
    const std::uint32_t at = offset(mark);
    if (anchor != YAML::NullAnchor)
      builder_.report(yaml_anchor, at, end_of_word(at), std::string(alias_text));
  }

  // The library gives "?" to plain and "!" to quoted values; `!` before a value looks like the
  // latter.
  bool refuse_tag(const YAML::Mark& mark, const std::string& tag) {
    const std::uint32_t at = offset(mark);
    const bool written = at < input_.text.size() && input_.text[at] == '!';
    if (!written && (tag.empty() || tag == "?" || tag == "!")) return false;
    builder_.report(
        yaml_tag, at, end_of_word(at),
        "`!` words are not used here: leave it out (or put a text that begins with `!` in "
        "quotes)");
    return true;
  }

  // YAML forbids tabs as indentation; the library reads some of them as blanks.
  void refuse_tab(std::uint32_t at) {
    const auto tab = tab_before(input_.text, at);
    if (!tab) return;
    const auto begin = static_cast<std::uint32_t>(*tab);
    builder_.report(yaml_tab, begin, begin + 1, std::string(tab_text));
    syntax_error_ = true;
    throw StopReading{};
  }

  std::uint32_t end_of_scalar(std::uint32_t at, char first, bool quoted, const std::string& value) {
    if (!quoted) return static_cast<std::uint32_t>(end_of_plain(input_.text, at, value));
    if (first != '"' && first != '\'') return end_of_word(at);  // a block text: its `|` or `>`
    if (const auto end = end_of_quoted(input_.text, at)) return static_cast<std::uint32_t>(*end);
    // The library takes the end of the file for the closing quote.
    builder_.report(quote_missing, at, at + 1, std::string(no_closing_quote));
    syntax_error_ = true;
    throw StopReading{};
  }

  const SyntaxInput& input_;
  TreeBuilder& builder_;
  std::uint32_t read_to_ = 0;
  bool syntax_error_ = false;
};

// What the library says, and what helps the writer of the file. First match counts.
struct Wording {
  std::string_view says;
  std::string_view text;
};
constexpr std::array wordings{
    Wording{"illegal map value",
            "this `:` does not fit here: check the indentation, or put a text that holds `: ` in "
            "quotes"},
    Wording{"end of map not found", "this does not fit the lines above: check the indentation"},
    Wording{"end of sequence not found", "this does not fit the list above: check the indentation"},
    Wording{"illegal block entry", "a list does not fit here: begin it on a line of its own"},
    Wording{"illegal map key", "this `?` does not fit here: put the text in quotes"},
    Wording{"unknown token", "a text cannot begin with this character: put it in quotes"},
    Wording{"illegal flow end", "there is nothing open that this closes"},
};

struct Failure {
  const Message* message;
  std::uint32_t begin;
  std::string text;
};

// The library notices an open bracket late: at a `:` that cannot be in it, or at the end of the
// file.
Failure explain_bracket(std::uint32_t at, std::uint32_t opened, std::string_view text) {
  const bool same_line = text.substr(opened, at - opened).find('\n') == std::string_view::npos;
  if (same_line && text.substr(at).starts_with(':')) {
    return {&yaml_syntax, at, std::string(wordings.front().text)};
  }
  return {&yaml_syntax, opened, "what is opened here is not closed as it should be"};
}

std::optional<std::size_t> tab_at_line_of(std::uint32_t at, std::string_view text) {
  const std::size_t line_end = std::min(text.find_first_of("\r\n", at), text.size());
  const std::size_t first = std::min(text.find_first_not_of(" \t", at), line_end);
  return tab_before(text, std::max<std::size_t>(at, first));
}

Failure explain(const YAML::Exception& exception, const SyntaxInput& input,
                const YamlHandler& handler, const TreeBuilder& builder) {
  const std::string_view says = exception.msg;
  const std::uint32_t at = handler.offset(exception.mark);
  if (const auto tab = tab_at_line_of(at, input.text)) {
    return {&yaml_tab, static_cast<std::uint32_t>(*tab), std::string(tab_text)};
  }
  if (says == "the referenced anchor is not defined") {
    return {&yaml_anchor, at, std::string(alias_text)};
  }
  const bool in_text =
      says == "illegal EOF in scalar" || says == "illegal document indicator in scalar";
  if (in_text && handler.next_quote() < input.text.size()) {
    return {&quote_missing, static_cast<std::uint32_t>(handler.next_quote()),
            std::string(no_closing_quote)};
  }
  const auto opened = builder.innermost_begin();
  if (opened && says.ends_with("flow not found")) return explain_bracket(at, *opened, input.text);
  const auto* known = std::find_if(wordings.begin(), wordings.end(),
                                   [says](const Wording& wording) { return wording.says == says; });
  if (known != wordings.end()) return {&yaml_syntax, at, std::string(known->text)};
  return {&yaml_syntax, at, fmt::format("this cannot be read as YAML: {}", says)};
}

void report_second(const SyntaxInput& input, std::uint32_t at, TreeBuilder& builder) {
  const bool marked = input.text.substr(at).starts_with("---");
  builder.report(second_document, at, at + 1,
                 marked ? "a second document begins here: one file holds one"
                        : "this does not belong to what is above: check the indentation");
}

// Tells where a second document begins, and reads no further.
class SecondDocument final : public YAML::EventHandler {
 public:
  explicit SecondDocument(YAML::Mark& begin) : begin_(begin) {}
  void OnDocumentStart(const YAML::Mark& mark) override {
    begin_ = mark;
    throw StopReading{};
  }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark&, YAML::anchor_t) override {}
  void OnAlias(const YAML::Mark&, YAML::anchor_t) override {}
  void OnScalar(const YAML::Mark&, const std::string&, YAML::anchor_t,
                const std::string&) override {}
  void OnSequenceStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                       YAML::EmitterStyle::value) override {}
  void OnSequenceEnd() override {}
  void OnMapStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                  YAML::EmitterStyle::value) override {}
  void OnMapEnd() override {}

 private:
  YAML::Mark& begin_;
};

// True if a second document follows; it has been reported.
bool found_second(YAML::Parser& parser, const SyntaxInput& input, const YamlHandler& handler,
                  TreeBuilder& builder) {
  YAML::Mark begin = YAML::Mark::null_mark();
  SecondDocument second(begin);
  try {
    static_cast<void>(parser.HandleNextDocument(second));
  } catch (const StopReading&) {
    report_second(input, handler.offset(begin), builder);
    return true;
  }
  return false;
}

// A lone carriage return ends a line for us and for editors, but not for the library.
std::string with_line_feeds(std::string_view text) {
  std::string copy(text);
  for (std::size_t i = 0; i < copy.size(); ++i) {
    const bool lone = copy[i] == '\r' && (i + 1 == copy.size() || copy[i + 1] != '\n');
    if (lone) copy[i] = '\n';
  }
  return copy;
}

}  // namespace

SyntaxResult read_yaml(const SyntaxInput& input, Diagnostics& diagnostics) {
  TreeBuilder builder(input.source, input.limits, diagnostics);
  YamlHandler handler(input, builder);
  std::istringstream stream(with_line_feeds(input.text.substr(input.start)));
  try {
    YAML::Parser parser(stream);
    if (!parser.HandleNextDocument(handler)) {
      builder.report(document_empty, 0, 1, "there is nothing in this file");
      return {std::nullopt, true};
    }
    if (found_second(parser, input, handler, builder)) return {std::nullopt, true};
  } catch (const StopReading&) {
    return {std::nullopt, handler.found_syntax_error()};
  } catch (const YAML::Exception& exception) {
    const Failure failure = explain(exception, input, handler, builder);
    builder.report(*failure.message, failure.begin, failure.begin + 1, failure.text);
    return {std::nullopt, true};
  }
  auto root = builder.take();
  if (root && root->kind == NodeKind::null) {
    builder.report(document_empty, root->place.begin, root->place.end,
                   "there is nothing in this file");
    return {std::nullopt, true};
  }
  return {std::move(root), false};
}

}  // namespace slipcase::facts

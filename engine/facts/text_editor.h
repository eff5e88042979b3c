// Where a new entry goes in the text of a document, and how it is written there: as its neighbours
// are.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "facts/document.h"
#include "facts/written.h"

namespace slipcase::facts {

class TextEditor {
 public:
  /// `root` is the tree of `text`; both must outlive the editor.
  TextEditor(std::string_view text, const Node& root);

  // Each gives the whole new text, or nothing where the place cannot be told.
  [[nodiscard]] std::optional<std::string> replaced(const Node& scalar,
                                                    const CardValue& value) const;
  /// A list or single value as the entry of a map in its place.
  [[nodiscard]] std::optional<std::string> named(const Node& node, const std::string& name) const;
  [[nodiscard]] std::optional<std::string> with_entry(const Node& map, std::string_view key,
                                                      const CardValue& value) const;
  [[nodiscard]] std::optional<std::string> with_item(const Node& list, const CardValue& item) const;

 private:
  [[nodiscard]] bool is_flow(const Node& node) const;
  [[nodiscard]] std::size_t line_start(std::size_t at) const;
  [[nodiscard]] std::size_t line_stop(std::size_t at) const;
  [[nodiscard]] std::size_t column(std::size_t at) const { return at - line_start(at); }
  [[nodiscard]] std::size_t dash_of(const Node& list) const;
  /// One past the last byte of the node. `owner`: the column that lines of a block text must pass.
  [[nodiscard]] std::optional<std::size_t> end_of(const Node& node, std::size_t owner) const;
  [[nodiscard]] std::optional<std::size_t> end_of_flow(const Node& node) const;
  [[nodiscard]] std::size_t end_of_block_text(std::size_t begin, std::size_t owner) const;
  /// The end of the last part of a map or list; its own begin behind the bracket if it is empty.
  [[nodiscard]] std::optional<std::size_t> end_of_parts(const Node& node) const;
  [[nodiscard]] std::optional<std::string> into_flow(const Node& node,
                                                     const std::string& part) const;
  [[nodiscard]] std::string inserted(std::size_t at, std::string_view added) const;
  /// "key: value" for a line that begins at `column`.
  [[nodiscard]] std::string entry_text(std::string_view key, const CardValue& value,
                                       std::size_t column, bool top) const;
  [[nodiscard]] std::string item_text(const CardValue& item, std::size_t column) const;

  std::string_view text_;
  const Node& root_;
  std::string_view line_end_;
  Quotes quotes_;
};

}  // namespace slipcase::facts

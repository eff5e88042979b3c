// Puts a tree together from the events of the YAML and the JSON reader, and holds them to the same
// limits.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "facts/document.h"

namespace slipcase::facts {

class TreeBuilder {
 public:
  TreeBuilder(SourceId source, const DocumentLimits& limits, Diagnostics& diagnostics)
      : source_(source), limits_(limits), diagnostics_(diagnostics) {}

  // Each is false when a limit is passed: it has been reported, and reading must stop.
  [[nodiscard]] bool open(NodeKind kind, std::uint32_t begin);
  [[nodiscard]] bool scalar(std::string text, bool quoted, std::uint32_t begin, std::uint32_t end);
  [[nodiscard]] bool null(std::uint32_t at);
  /// Stands for a value that was reported.
  [[nodiscard]] bool refused(std::uint32_t begin, std::uint32_t end);
  /// Ends the innermost map or list; `end` 0 means "where its last part ended".
  void close(std::uint32_t end);

  void report(const Message& message, std::uint32_t begin, std::uint32_t end,
              std::string_view text);
  [[nodiscard]] Place place(std::uint32_t begin, std::uint32_t end) const {
    return {source_, begin, end};
  }
  /// Where the innermost map or list that is still open began.
  [[nodiscard]] std::optional<std::uint32_t> innermost_begin() const;
  /// The next value is a key of a map.
  [[nodiscard]] bool expects_key() const;
  /// The whole document was read.
  [[nodiscard]] bool is_complete() const { return open_.empty() && root_.has_value(); }
  [[nodiscard]] std::optional<Node> take() { return std::move(root_); }

 private:
  struct Frame {
    Node node;
    std::optional<Node> key;
  };

  bool count(std::uint32_t at);
  void add(Node value);
  void add_key(Frame& frame, Node key);

  SourceId source_;
  DocumentLimits limits_;
  Diagnostics& diagnostics_;
  std::vector<Frame> open_;
  std::optional<Node> root_;
  std::size_t nodes_ = 0;
};

}  // namespace slipcase::facts

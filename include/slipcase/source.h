// Texts that were read, and places in them.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "slipcase/ids.h"

namespace slipcase {

using SourceId = Id<struct SourceTag>;

/// A range of bytes in one text; `end` is one past the last byte.
struct Place {
  SourceId source;
  std::uint32_t begin = 0;
  std::uint32_t end = 0;

  friend constexpr auto operator<=>(const Place&, const Place&) = default;
};

/// Line and column as people count them: from 1, the column in characters, not bytes.
struct LineColumn {
  std::uint32_t line = 1;
  std::uint32_t column = 1;
};

/// Where a text came from.
enum class Origin : std::uint8_t { shipped, own };

/// Owns every text a result may point into. Texts are never removed or changed, so a Place stays
/// good for as long as its SourceSet lives. Texts are at most 4 GiB (file readers refuse larger).
class SourceSet {
 public:
  SourceId add(std::string name, std::string text, Origin origin = Origin::own);

  [[nodiscard]] std::string_view name(SourceId id) const;
  [[nodiscard]] std::string_view text(SourceId id) const;
  [[nodiscard]] Origin origin(SourceId id) const;
  [[nodiscard]] std::size_t size() const { return sources_.size(); }

  [[nodiscard]] LineColumn position(SourceId id, std::uint32_t offset) const;
  /// The whole line that holds `offset`, without its line end.
  [[nodiscard]] std::string_view line_at(SourceId id, std::uint32_t offset) const;
  [[nodiscard]] std::string_view text_at(const Place& place) const;
  /// "drums.rules:12:9"
  [[nodiscard]] std::string describe(const Place& place) const;

 private:
  struct Source {
    std::string name;
    std::string text;
    Origin origin;
    std::vector<std::uint32_t> line_starts;
  };
  std::vector<Source> sources_;
};

}  // namespace slipcase

// What is to be written on a card: a text, a list of such values, or named ones.
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace slipcase {

struct CardValue {
  enum class Kind : std::uint8_t { text, list, map } kind = Kind::text;
  std::string text;
  std::vector<CardValue> items;                            // of a list
  std::vector<std::pair<std::string, CardValue>> entries;  // of a map, in the order written

  static CardValue of(std::string text) { return {Kind::text, std::move(text), {}, {}}; }
  static CardValue list(std::vector<CardValue> items) {
    return {Kind::list, {}, std::move(items), {}};
  }
  static CardValue map(std::vector<std::pair<std::string, CardValue>> entries) {
    return {Kind::map, {}, {}, std::move(entries)};
  }
};

/// One change of a card. `put` sets what stands behind the keys of `path`, `add` makes it the last
/// of the list there.
struct CardChange {
  enum class Kind : std::uint8_t { put, add } kind = Kind::put;
  std::vector<std::string> path;  // "answers", "flare", "2-3"
  CardValue value;
};

}  // namespace slipcase

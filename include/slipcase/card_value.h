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

  // Only declared here: clang 14 asks of the pairs, which are not complete yet, whether this can be
  // done without arguments.
  CardValue();

  static CardValue of(std::string text);
  static CardValue list(std::vector<CardValue> items);
  static CardValue map(std::vector<std::pair<std::string, CardValue>> entries);
};

inline CardValue::CardValue() = default;

inline CardValue CardValue::of(std::string text) {
  CardValue value;
  value.text = std::move(text);
  return value;
}

inline CardValue CardValue::list(std::vector<CardValue> items) {
  CardValue value;
  value.kind = Kind::list;
  value.items = std::move(items);
  return value;
}

inline CardValue CardValue::map(std::vector<std::pair<std::string, CardValue>> entries) {
  CardValue value;
  value.kind = Kind::map;
  value.entries = std::move(entries);
  return value;
}

/// One change of a card. `put` sets what stands behind the keys of `path`, `add` makes it the last
/// of the list there, `name` makes of a list or single value there the entry `value` of a map.
struct CardChange {
  enum class Kind : std::uint8_t { put, add, name } kind = Kind::put;
  /// "answers", "flare", "2-3"; of a list `[2]` is the third item.
  std::vector<std::string> path;
  CardValue value;
};

}  // namespace slipcase

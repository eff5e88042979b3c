// Strict reading of a document tree: every mistake is reported at its place, and reading goes on.
//
// Each function gives nothing where it has reported something (or the tree's reader had).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "facts/document.h"
#include "facts/scalar.h"
#include "slipcase/diagnostic.h"
#include "units/date.h"
#include "units/quantity.h"

namespace slipcase::facts {

/// A map whose keys are known beforehand.
class MapReader {
 public:
  /// Nothing if the node is no map. `what` names it in messages: "`vehicle`", "a repair".
  [[nodiscard]] static std::optional<MapReader> of(const Node& node, std::string what,
                                                   Diagnostics& diagnostics);

  /// The value behind `key`; null if it is not there, or was reported (nothing behind the key).
  [[nodiscard]] const Node* optional(std::string_view key);
  /// Where `key` is missing, one that is nearly so is reported in its place.
  [[nodiscard]] const Node* required(std::string_view key);
  /// As `optional`, but an empty value is for the caller to judge.
  [[nodiscard]] const Node* even_empty(std::string_view key);
  /// Reports every key that was never asked for, with a suggestion, or with all that are known and
  /// `otherwise`. False if there was one.
  bool finish(std::string_view otherwise = {});

  /// A key that was not asked for so far and is nearly `key`; null if there is none.
  [[nodiscard]] const Node* misspelt(std::string_view key) const;
  /// Something stands here, well or badly, that was or may have been meant for `key`.
  [[nodiscard]] bool is_meant(std::string_view key) const;

  [[nodiscard]] const Node& node() const { return *node_; }

 private:
  MapReader(const Node& node, std::string what, Diagnostics& diagnostics)
      : node_(&node), what_(std::move(what)), diagnostics_(&diagnostics) {}

  void report_unknown(const Node& key, std::string_view hint);

  const Node* node_;
  std::string what_;
  Diagnostics* diagnostics_;
  std::vector<std::string> known_;
  std::vector<std::string_view> reported_;  // keys that stand where a required one is missing
};

/// Where a message about the whole of a map or list belongs: its first line, not all of it.
[[nodiscard]] Place head_of(const Node& node);

[[nodiscard]] std::optional<Scalar> read_scalar(const Node& node, std::string_view what,
                                                Diagnostics& diagnostics);
/// The nodes of a list. With `one_will_do` a single text or number stands for a list of one.
[[nodiscard]] std::vector<const Node*> read_list(const Node& node, std::string_view what,
                                                 bool one_will_do, Diagnostics& diagnostics);
[[nodiscard]] std::vector<Scalar> read_scalars(const Node& node, std::string_view what,
                                               Diagnostics& diagnostics);

[[nodiscard]] std::optional<units::Quantity> read_quantity(const Node& node,
                                                           const units::Dimension& expected,
                                                           Diagnostics& diagnostics);
/// The same for a text that came from elsewhere.
[[nodiscard]] std::optional<units::Quantity> read_quantity(const Scalar& scalar,
                                                           const units::Dimension& expected,
                                                           Diagnostics& diagnostics);
/// A distance or a time, not below zero: how far or how long a vehicle was driven.
[[nodiscard]] std::optional<units::Quantity> read_distance_or_time(const Scalar& scalar,
                                                                   Diagnostics& diagnostics);
/// "2031-04-07" for `2031-4-7` and `2031/4/7`, which can be read in one way only.
[[nodiscard]] std::optional<std::string> year_first(std::string_view text);
[[nodiscard]] std::optional<units::Date> read_date(const Node& node, Diagnostics& diagnostics);
[[nodiscard]] std::optional<units::Moment> read_moment(const Node& node, Diagnostics& diagnostics);
/// Digits only, up to 10^18.
[[nodiscard]] std::optional<std::uint64_t> read_whole_number(const Node& node,
                                                             Diagnostics& diagnostics);
/// A finite number without a unit.
[[nodiscard]] std::optional<double> read_number(const Node& node, Diagnostics& diagnostics);
[[nodiscard]] std::optional<bool> read_yes_no(const Node& node, std::string_view what,
                                              Diagnostics& diagnostics);

}  // namespace slipcase::facts

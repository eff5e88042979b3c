// What the functions of the rule language make of a reading's snapshots. docs/functions.md has the
// exact definitions; each member function says only what it adds.
#pragma once

#include <optional>
#include <vector>

#include "evaluation/history.h"
#include "evaluation/trend.h"
#include "grounding/ground.h"

namespace slipcase::evaluation {

/// Which snapshots a distrust sets aside: [distrust * snapshots + snapshot].
using SetAside = std::vector<Truth>;

/// No more snapshots than this, the newest ones, go into a slope or a step: their cost grows with
/// the square of the number.
inline constexpr std::size_t longest_series = 200;

class Readings {
 public:
  Readings(const grounding::GroundRules& rules, const JobFacts& facts, const SetAside& set_aside)
      : rules_(rules), facts_(facts), set_aside_(set_aside), history_(facts) {}

  /// A `reading` or `ratio_error` value.
  [[nodiscard]] Interval value(const grounding::ValueNode& node, AsOf as_of) const;

  /// The distrust that withholds a snapshot's value from this node, if any.
  [[nodiscard]] std::optional<std::uint32_t> withheld_by(const grounding::ValueNode& node) const;

 private:
  using Snapshot = std::optional<std::uint32_t>;

  [[nodiscard]] Interval taken(const grounding::ValueNode& node, AsOf as_of) const;
  [[nodiscard]] Interval newest(const grounding::ValueNode& node, AsOf as_of) const;
  [[nodiscard]] Interval before_clearing(const grounding::ValueNode& node, AsOf as_of) const;
  [[nodiscard]] Interval change(const grounding::ValueNode& node, AsOf as_of) const;
  [[nodiscard]] Interval slope(const grounding::ValueNode& node, AsOf as_of) const;
  [[nodiscard]] Interval step(const grounding::ValueNode& node, AsOf as_of) const;
  [[nodiscard]] Interval ratio_error(const grounding::ValueNode& node, AsOf as_of) const;

  [[nodiscard]] Interval possible(GroundReading reading) const;
  [[nodiscard]] double least_difference(GroundReading reading) const;
  [[nodiscard]] Interval share(const grounding::ValueNode& node, const Interval& value) const;

  /// Newest of `count` snapshots that `has` what is wanted; none where the order leaves it open.
  template <class Has>
  [[nodiscard]] Snapshot newest_with(std::uint32_t count, AsOf as_of, const Has& has) const;
  [[nodiscard]] Snapshot newest_said(GroundReading reading, AsOf as_of) const;
  [[nodiscard]] std::uint32_t count(AsOf as_of) const;
  [[nodiscard]] Truth is_fresh(std::uint32_t snapshot, AsOf as_of) const;
  enum class Resets : std::uint8_t { all, not_clearings };
  [[nodiscard]] Truth reset_since(std::uint32_t snapshot, GroundReading reading, Resets which,
                                  AsOf as_of) const;
  [[nodiscard]] bool is_aside(GroundReading reading, std::uint32_t snapshot,
                              std::uint32_t exempt) const;

  /// Snapshots that may be compared with the newest one, newest first.
  [[nodiscard]] std::vector<std::uint32_t> series(const grounding::ValueNode& node,
                                                  AsOf as_of) const;
  [[nodiscard]] std::vector<TrendPoint> points(const grounding::ValueNode& node, AsOf as_of) const;

  const grounding::GroundRules& rules_;
  const JobFacts& facts_;
  const SetAside& set_aside_;
  History history_;
};

}  // namespace slipcase::evaluation

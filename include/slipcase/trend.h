// What the readings of one vehicle do over all its visits.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slipcase/compare.h"
#include "slipcase/job.h"
#include "slipcase/knowledge.h"

namespace slipcase {

/// All cards of one vehicle, read, merged and bound to rules.
class Vehicle {
 public:
  struct Parts;  // the engine's own; see engine/api

  explicit Vehicle(std::shared_ptr<const Parts> parts) : parts_(std::move(parts)) {}
  [[nodiscard]] const Parts& parts() const { return *parts_; }

 private:
  std::shared_ptr<const Parts> parts_;
};

struct TrendLoad {
  Loaded outcome = Loaded::input_errors;  // good only if every card could be used
  std::optional<Vehicle> vehicle;         // of the cards that could
};

/// The `ref` of the vehicle in a text that may be a card, whatever else is wrong with it.
[[nodiscard]] std::optional<std::string> vehicle_named_in(std::string_view text);

/// Blanks around it and capital or small letters do not matter.
[[nodiscard]] bool is_same_vehicle(std::string_view a, std::string_view b);

/// The refs that a wrong one may stand for, best first; all of a few where none is near.
[[nodiscard]] std::vector<std::string> nearest_vehicles(std::string_view ref,
                                                        std::span<const std::string> refs);

/// Reads the cards of one vehicle and merges them. A card with errors is reported and left out.
/// What stands on two cards counts once; where they disagree that is reported, and neither value is
/// used. The texts are added to the knowledge's sources.
[[nodiscard]] TrendLoad load_vehicle(std::vector<CardText> cards, const Knowledge& knowledge,
                                     Diagnostics& diagnostics);

/// What the newest stretch of a reading looks like. "More than scatter": two readings of the same
/// thing differ by less than twice the square root of two times the profile's `scatter`.
enum class TrendShape : std::uint8_t {
  too_few,   // fewer than three values at different odometers
  too_near,  // over less distance than a trend takes
  flat,      // all within what readings scatter
  rising,    // more than scatter, and the interval of the slope leaves out 0
  falling,   // the same downwards
  bending,   // away from zero, and the newer half steeper by more than scatter
  step,      // a jump explains it better than a line
  disorder,  // up and down by more than scatter
  unclear,   // none of these
};

/// How soon to look again.
enum class Look : std::uint8_t { quiet, watch, act };

struct TrendValue {
  std::string at;                  // "2031-03-02, 176850 km"
  std::optional<double> odometer;  // in VehicleTrend::distance_unit
  double value = 0.0;              // in ReadingTrend::unit
  std::string says;                // "210 mbar"
  std::string aside;               // why it is not used; empty if it is
};

struct TrendStep {
  std::string from;  // between these two visits
  std::string to;
  double height = 0.0;
  bool confirmed = false;  // at least two values on both sides
};

/// Per VehicleTrend::slope_distance.
struct TrendSlope {
  double value = 0.0;
  double low = 0.0;  // what the pairs of readings give, or the scatter of a reading, if wider
  double high = 0.0;
  double pairs_low = 0.0;  // what the pairs of readings give by themselves
  double pairs_high = 0.0;
  double confidence = 0.0;     // of the pairs; below 0.95 where no pairs reach it
  double from = 0.0;           // odometer of the first value that it is drawn through
  double at_odometer_0 = 0.0;  // where the line starts
  bool moved = false;          // more than scatter, and 0 is not between low and high
};

/// Values between which nothing reset the reading.
struct TrendSegment {
  std::vector<std::string> split_by;  // what separates it from the one before; empty for the first
  std::string since;                  // the same in short: "2031-03-02", "software A3 -> A5"
  bool split_surely = true;           // false: the cards leave open whether it was in between
  std::optional<double> split_at;     // odometer, as near as it is known
  std::vector<TrendValue> values;
  std::size_t used = 0;
  TrendShape shape = TrendShape::too_few;
  std::vector<TrendStep> steps;
  /// Two visits in a row, or the shape, differ by more than scatter.
  bool changed = false;
  /// Through the values behind the last step, of a bending one through the newer half.
  std::optional<TrendSlope> slope;
};

/// From the newest look, in distance units; 0: it may be there already.
struct LimitDistance {
  double limit = 0.0;
  double earliest = 0.0;
  std::optional<double> latest;  // none: beyond `most_ahead`
};

struct ReadingTrend {
  std::string id;      // "fill_pressure of K2"
  std::string kind;    // "fill_pressure"
  std::string member;  // "K2"; "" where it has none
  std::string unit;    // "mbar"
  double low_limit = 0.0, high_limit = 0.0;
  double low_watch = 0.0, high_watch = 0.0;
  double scatter = 0.0;
  std::vector<TrendSegment> segments;  // oldest first; the last may hold no value yet
  std::optional<TrendValue> newest;    // of the last segment, if it may be used
  ReadingRange range = ReadingRange::inside;
  std::optional<LimitDistance> to_limit;
  std::string no_distance_because;  // where there is none
  std::vector<std::string> notes;
  Look look = Look::quiet;
  std::string look_because;
  /// Distance to the limit if the newest change went on, where that is fast. Two values give it, so
  /// it is no forecast: it only brings the next look forward.
  std::optional<double> ahead_at_pace;
};

/// Over the members of one kind of reading of which at least three can be told.
struct TrendPattern {
  std::string reading;
  ChangePattern moved = ChangePattern::none;
  std::size_t told = 0;
  std::string until;  // not of the newest values, of which there are too few: of those before this
  std::vector<std::string> up;        // members that rise, or stepped up
  std::vector<std::string> down;      // that fall, or stepped down
  std::vector<std::string> unsteady;  // that changed by more than scatter, but in no direction told
};

/// Something that was done to the vehicle.
struct TrendMark {
  std::string at;
  std::optional<double> odometer;  // as near as it is known
  std::string says;
  bool splits = false;  // some reading begins anew there
};

struct NextLook {
  Look look = Look::quiet;
  double from = 0.0;  // distance from the newest odometer
  double to = 0.0;
  double odometer = 0.0;  // the newest
  std::string because;
};

struct VehicleTrend {
  std::string vehicle;
  std::string unit;
  std::string distance_unit;          // "km" or "miles", as the newest card has it
  double slope_distance = 10000;      // of that unit
  std::size_t cards = 0;              // that were used
  std::vector<std::string> left_out;  // names of cards with errors
  std::size_t snapshots = 0;
  std::string first_at, last_at;
  std::size_t disagreements = 0;  // values that two cards give differently
  bool ordered = true;            // false: the cards leave open what came first; nothing is told
  std::vector<TrendMark> marks;   // in order
  std::vector<ReadingTrend> readings;  // that have limits and values, in the order of the rules
  std::vector<TrendPattern> patterns;
  std::optional<NextLook> next;
};

/// A line is not followed farther ahead than this many times the distance it was seen over.
inline constexpr double most_ahead = 2.0;

[[nodiscard]] VehicleTrend trend(const Knowledge& knowledge, const Vehicle& vehicle);

}  // namespace slipcase

#include "drive/gear_track.h"

#include <algorithm>
#include <cmath>

namespace slipcase::drive {

namespace {

// Numbers of this file are invented in the right order of size; docs/learning-drive.md tells them.
constexpr double shortest_gear = 200.0;     // ms
constexpr double longest_unknown = 1000.0;  // ms; more ends a stretch
constexpr double enter_tolerance = 0.04;    // of the turbine's speed
constexpr double keep_tolerance = 0.08;     // of it, for the gear that holds already
constexpr double least_noise = 30.0;        // rpm, where the profile gives no `slip_noise`
constexpr double slow_output = 60.0;        // rpm; below it the ratio says nothing
constexpr double turning_turbine = 300.0;   // rpm; at standstill: nothing holds it

/// The gear of each row from the two speeds.
class RatioGears {
 public:
  RatioGears(const DriveLog& log, const profile::Profile& unit, double standstill)
      : log_(log),
        unit_(unit),
        standstill_(standstill),
        noise_(unit.slip_noise ? unit.slip_noise->value : least_noise) {}

  std::vector<GearCode> run() {
    std::vector<GearCode> gears(log_.rows(), unknown_gear);
    for (std::size_t row = 0; row < gears.size(); ++row) gears[row] = gear_at(row);
    name_engaged(gears);
    return gears;
  }
  [[nodiscard]] std::size_t open_engagements() const { return open_; }

 private:
  /// Engaged at standstill, in a gear that the next movement tells.
  static constexpr GearCode engaged = -2;

  GearCode gear_at(std::size_t row) {
    const double turbine = std::abs(log_.turbine[row]);
    const double output = std::abs(log_.output[row]);
    if (output < slow_output) {
      if (log_.speed[row] > standstill_) return unknown_gear;
      held_ = unknown_gear;
      return turbine >= turning_turbine ? neutral_of(unit_) : engaged;
    }
    if (held_ != unknown_gear && fits(held_, turbine, output, keep_tolerance)) return held_;
    for (std::size_t i = 0; i < unit_.gears.size(); ++i) {
      if (!fits(static_cast<GearCode>(i), turbine, output, enter_tolerance)) continue;
      held_ = static_cast<GearCode>(i);
      return held_;
    }
    return unknown_gear;
  }

  [[nodiscard]] bool fits(GearCode gear, double turbine, double output, double tolerance) const {
    const double expected = std::abs(unit_.gears[static_cast<std::size_t>(gear)].ratio) * output;
    return std::abs(turbine - expected) <= std::max(noise_, tolerance * expected);
  }

  /// A stop that a gear led into is in that gear; one behind neutral in the gear that drives off.
  /// Where neutral is on both sides nobody can say which it was.
  void name_engaged(std::vector<GearCode>& gears) {
    GearCode before = unknown_gear;
    for (std::size_t row = 0; row < gears.size();) {
      if (gears[row] != engaged) {
        if (gears[row] != unknown_gear) before = gears[row];
        ++row;
        continue;
      }
      const auto end = std::find_if(gears.begin() + static_cast<std::ptrdiff_t>(row), gears.end(),
                                    [](GearCode gear) { return gear != engaged; });
      const auto next = std::find_if(end, gears.end(), [](GearCode gear) { return gear >= 0; });
      const GearCode after = next == gears.end() ? unknown_gear : *next;
      const GearCode name = stopped_in(before, after);
      if (name == unknown_gear && before == neutral_of(unit_) &&
          is_long(row, end - gears.begin())) {
        ++open_;
      }
      std::fill(gears.begin() + static_cast<std::ptrdiff_t>(row), end, name);
      row = static_cast<std::size_t>(end - gears.begin());
      if (name != unknown_gear) before = name;
    }
  }

  [[nodiscard]] bool is_long(std::size_t begin, std::ptrdiff_t end) const {
    return log_.time[static_cast<std::size_t>(end) - 1] - log_.time[begin] >= shortest_gear;
  }

  [[nodiscard]] GearCode stopped_in(GearCode before, GearCode after) const {
    const GearCode neutral = neutral_of(unit_);
    if (before != unknown_gear && before != neutral) return lowest_like(before);
    if (after == unknown_gear || after == neutral) return unknown_gear;
    return lowest_like(after);
  }

  /// At a standstill in D the lowest gear is in by the time the speeds say nothing.
  [[nodiscard]] GearCode lowest_like(GearCode gear) const {
    const auto ratio = [&](std::size_t i) { return unit_.gears[i].ratio; };
    auto lowest = static_cast<std::size_t>(gear);
    if (ratio(lowest) < 0.0) return gear;
    for (std::size_t i = 0; i < unit_.gears.size(); ++i) {
      if (ratio(i) > ratio(lowest)) lowest = i;
    }
    return static_cast<GearCode>(lowest);
  }

  const DriveLog& log_;
  const profile::Profile& unit_;
  double standstill_;
  double noise_;
  GearCode held_ = unknown_gear;
  std::size_t open_ = 0;
};

/// Cuts rows into stretches; what is too short to be a gear, or unknown, belongs to no stretch.
class Stretches {
 public:
  Stretches(const DriveLog& log, const std::vector<GearCode>& gears) : log_(log), gears_(gears) {}

  std::vector<Stretch> run() {
    for (std::size_t row = 0; row < gears_.size(); ++row) step(row);
    return std::move(stretches_);
  }

 private:
  void step(std::size_t row) {
    const GearCode gear = gears_[row];
    if (gear == unknown_gear) return;
    if (!stretches_.empty() && stretches_.back().gear == gear && !was_lost(row)) {
      stretches_.back().end = row + 1;
      candidate_.gear = unknown_gear;  // it was noise
      return;
    }
    if (candidate_.gear != gear) candidate_ = {gear, row, row + 1};
    candidate_.end = row + 1;
    if (log_.time[row] - log_.time[candidate_.begin] < shortest_gear) return;
    stretches_.push_back(candidate_);
    candidate_.gear = unknown_gear;
  }

  /// Nobody knows what was driven while the gear was unknown for long.
  [[nodiscard]] bool was_lost(std::size_t row) const {
    const std::size_t last = stretches_.back().end - 1;
    return row - last > 1 && log_.time[row] - log_.time[last] > longest_unknown;
  }

  const DriveLog& log_;
  const std::vector<GearCode>& gears_;
  std::vector<Stretch> stretches_;
  Stretch candidate_;
};

}  // namespace

GearTrack track_gears(const DriveLog& log, const profile::Profile& unit, double standstill) {
  GearTrack track;
  if (!log.gear.empty()) {
    track.stretches = Stretches(log, log.gear).run();
    return track;
  }
  track.from_speeds = true;
  RatioGears ratios(log, unit, standstill);
  track.stretches = Stretches(log, ratios.run()).run();
  track.open_engagements = ratios.open_engagements();
  return track;
}

}  // namespace slipcase::drive

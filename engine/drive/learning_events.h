// The shifts and engagements of a drive, and whether each one taught anything.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "drive/gear_track.h"
#include "profile/procedure.h"
#include "slipcase/drive.h"

namespace slipcase::drive {

/// Reasons as bits, so that several can be weighed: bit number N is NotCounted N.
using Faults = std::uint32_t;
[[nodiscard]] constexpr Faults fault(NotCounted why) { return 1U << static_cast<unsigned>(why); }
/// The first of them.
[[nodiscard]] NotCounted first_of(Faults faults);

/// From one stretch to the next.
struct ShiftEvent {
  GearCode from = unknown_gear;
  GearCode to = unknown_gear;
  std::size_t last_row = 0;                // in the old gear
  std::size_t first_row = 0;               // in the new one
  std::size_t stretch = 0;                 // the new one
  std::optional<profile::MemberId> shift;  // as the profile knows it
  std::vector<Faults> faults;              // per manoeuvre of the procedure; 0: it counts for it
};

/// What can be asked of rows of a log.
class LogRows {
 public:
  LogRows(const DriveLog& log, const profile::Procedure& procedure);

  [[nodiscard]] bool has_gap(std::size_t first, std::size_t last) const;
  /// Pauses of more than a second and five times the usual step.
  [[nodiscard]] const std::vector<std::size_t>& gaps() const { return gaps_; }  // row behind each
  [[nodiscard]] double usual_step() const { return step_; }

  /// What the rows about a shift have against a manoeuvre, holding aside.
  [[nodiscard]] Faults about_shift(const profile::Manoeuvre& manoeuvre,
                                   const ShiftEvent& event) const;
  /// The longest time in ms within the stretch that the manoeuvre would call held; `whole` counts
  /// how many holds of the asked length follow each other.
  struct Held {
    double longest = 0.0;
    std::size_t whole = 0;
    bool fluid_missing = false;  // somewhere in the stretch it is not known, and it is asked for
  };
  [[nodiscard]] Held held(const profile::Manoeuvre& manoeuvre, const Stretch& stretch) const;

 private:
  [[nodiscard]] bool holds(const profile::Manoeuvre& manoeuvre, std::size_t row) const;

  const DriveLog& log_;
  const profile::Procedure& procedure_;
  double step_ = 0.0;
  std::vector<std::size_t> gaps_;
};

[[nodiscard]] std::vector<ShiftEvent> learning_events(const DriveLog& log, const GearTrack& track,
                                                      const LogRows& rows,
                                                      const profile::Profile& unit,
                                                      const profile::Procedure& procedure);

}  // namespace slipcase::drive

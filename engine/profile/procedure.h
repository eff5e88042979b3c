// A learning procedure: what has to be driven so that a controller learns its values again.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "facts/scalar.h"
#include "rulebase/unit_vocabulary.h"

namespace slipcase::profile {

/// A window of a quantity in base units, both ends included.
struct Window {
  double low = 0.0;
  double high = 0.0;

  [[nodiscard]] bool holds(double value) const { return low <= value && value <= high; }
};

/// One kind of thing to drive, a number of times. With a path, one time is going through its gears
/// in their order; with shifts alone, one time is any of them; with neither it is only told to the
/// driver, and no log is asked for it.
struct Manoeuvre {
  std::string name;
  std::string says;               // to the driver
  std::vector<std::string> path;  // gears, "N" among them; one gear: to be held
  std::vector<rulebase::MemberId>
      shifts;                   // of the path in its order, or any of which one is enough
  std::optional<Window> speed;  // m/s
  std::optional<Window> pedal;  // 0 to 1
  std::optional<Window> fluid;  // °C; the procedure's if it has none of its own
  std::optional<double> hold;   // ms, in the last gear
  bool standing = false;        // the vehicle stands still while it holds
  std::uint32_t repeats = 1;
  std::optional<double> takes;              // ms, one time of it
  std::vector<rulebase::MemberId> teaches;  // elements

  [[nodiscard]] bool is_checked() const { return !path.empty() || !shifts.empty(); }
};

/// What the card has to prove before the drive, by the names of the rules.
struct ProcedureNames {
  std::optional<facts::Scalar> codes_cleared;  // an event
  std::optional<facts::Scalar> level_checked;  // a check
  std::vector<facts::Scalar> level_wrong;      // findings
};

struct Procedure {
  std::string name;  // of the rules' repair that it is
  std::string title;
  std::string note;
  std::optional<Window> fluid;  // °C; none: nobody said
  std::uint32_t events = 1;     // that an element needs
  double steady_pedal = 0.05;   // how much the pedal may move about a shift; 0 to 1
  double standstill = 0.5;      // m/s: what is slower stands
  ProcedureNames before;
  std::vector<Manoeuvre> manoeuvres;
};

}  // namespace slipcase::profile

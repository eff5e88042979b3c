// A unit profile: everything about one kind of transmission that rules and jobs refer to.
#pragma once

#include <limits>
#include <map>
#include <numbers>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "profile/procedure.h"
#include "rulebase/unit_vocabulary.h"
#include "units/quantity.h"
#include "units/trouble_code.h"

namespace slipcase::profile {

using rulebase::MemberId;
using rulebase::ScopeId;

/// What one member of one reading can and should be. Values are in base units of the dimension.
struct ReadingBounds {
  double lowest_possible = 0.0;  // outside: the card is refused
  double highest_possible = 0.0;
  /// Signed, low <= 0 <= high; a share of the limit divides by the one on the value's side.
  /// Infinite where the profile gives none: then no value is any share of it.
  double low_limit = -no_bound;
  double high_limit = no_bound;
  double low_watch = -no_bound;
  double high_watch = no_bound;
  double scatter = 0.0;  // of one reading, about zero

  /// Two readings of the same thing differ by less: twice the scatter of a difference, and two
  /// independent ones scatter by the root of two more than one.
  [[nodiscard]] double least_difference() const { return 2.0 * std::numbers::sqrt2 * scatter; }

  static constexpr double no_bound = std::numeric_limits<double>::infinity();
};

struct ReadingProfile {
  std::string reading;  // name as the rules declare it
  units::Dimension dimension;
  std::optional<ScopeId> scope;
  std::vector<ReadingBounds> bounds;  // per member (one entry without a scope)
};

struct Gear {
  std::string name;
  double ratio = 0.0;              // turbine over output; negative for reverse
  std::vector<MemberId> elements;  // applied; not one whose work a one-way clutch does
  /// Per element, per unit of turbine torque; 0 where it carries nothing.
  std::vector<double> torque_share;
  /// Per element: how fast its two sides turn against each other, per unit of turbine speed, while
  /// the gear holds. 0 where it is applied; nothing where the train leaves it open.
  std::vector<std::optional<double>> speed_across;
  /// Slip of the element, were it the one that slips: turbine factor * turbine + output factor *
  /// output.
  struct SlipFormula {
    MemberId element;
    double turbine = 0.0;
    double output = 0.0;
  };
  std::vector<SlipFormula> slip;  // of the elements that carry
};

struct Shift {
  std::string name;
  std::string from;
  std::string to;
  std::vector<MemberId> applies;
  std::vector<MemberId> releases;
  std::vector<MemberId> holds;
};

/// Readings of which nothing older than such an event may be compared with anything newer.
struct ResetEvent {
  std::string event;         // name as the rules declare it; of one member resets that member only
  bool clears_only = false;  // values were cleared: `before_clearing` looks behind it
};

struct CodeMap {
  std::string family;  // "ratio_code"
  std::optional<ScopeId> scope;
  std::vector<std::vector<units::TroubleCode>> codes;  // per member
};

/// Which controller holds which codes: a code that is not listed is absent only if that one was
/// read.
struct Controller {
  std::string name;
  std::vector<std::pair<units::TroubleCode, units::TroubleCode>> ranges;
};

/// What work costs a shop; left out where nobody said.
struct WorkCosts {
  std::optional<double> labour_rate;  // for one hour; 0: costs are shown in minutes
  std::optional<std::string> currency;
  std::optional<double> comeback_minutes;  // a car that comes back with its complaint
  std::optional<double> unsolved_minutes;  // a complaint that nothing planned has ended
};

/// How much fluid the unit holds when its level is right, and what a volume of it weighs at 15 °C.
struct Fluid {
  units::Quantity fill;
  units::Quantity density;
};

struct Profile {
  std::string name;   // "six_speed": what a card's `unit:` says
  std::string title;  // for people
  rulebase::UnitVocabulary vocabulary;
  ScopeId element_scope;
  ScopeId gear_scope;
  ScopeId shift_scope;
  std::vector<Gear> gears;    // in the order of the gear scope
  std::vector<Shift> shifts;  // in the order of the shift scope
  std::vector<ReadingProfile> readings;
  std::vector<ResetEvent> resets;
  std::optional<std::string> turbine_speed;  // names of the two speed readings, of gear
  std::optional<std::string> output_speed;
  units::Quantity fresh_time;  // how long a reading counts as fresh
  units::Quantity fresh_distance;
  std::vector<CodeMap> code_maps;
  std::vector<Controller> controllers;
  std::string own_controller;  // whose codes a plain list on a card means
  WorkCosts costs;
  std::string sign_note;                       // what a positive value means, for people
  std::optional<Window> learning_temperature;  // of the fluid, for the whole learning drive
  std::optional<Window> level_temperature;     // of the fluid, while the level is set

  std::optional<Fluid> fluid;
  std::optional<units::Quantity> slip_noise;  // a turbine that is off by less shows no slip
  std::map<units::TroubleCode, std::string> code_texts;
  std::vector<Procedure> procedures;  // in the order written

  [[nodiscard]] const ReadingProfile* find_reading(std::string_view wanted) const;
  [[nodiscard]] const Procedure* find_procedure(std::string_view wanted) const;
};

}  // namespace slipcase::profile

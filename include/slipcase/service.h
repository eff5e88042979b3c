// Calculators on a unit's profile: gear ratios and slip, the fluid's level, trouble codes. None of
// them needs rules or a job.
//
// What is asked comes as the user wrote it ("1790 rpm"). What is wrong with it is reported at its
// place in a text named after the command line's option, which is added to the unit's sources.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "slipcase/diagnostic.h"
#include "slipcase/knowledge.h"

namespace slipcase {

/// A unit's profile without any rules; cheap to copy.
class Unit {
 public:
  struct Parts;  // the engine's own; see engine/api

  explicit Unit(std::shared_ptr<const Parts> parts) : parts_(std::move(parts)) {}
  [[nodiscard]] const Parts& parts() const { return *parts_; }

 private:
  std::shared_ptr<const Parts> parts_;
};

struct UnitLoad {
  Loaded outcome = Loaded::input_errors;
  std::optional<Unit> unit;
};

/// Of `paths` only the profile is read. Its text is added to `sources`, which the Unit keeps.
[[nodiscard]] UnitLoad load_unit(const RulePaths& paths, std::shared_ptr<SourceSet> sources,
                                 Diagnostics& diagnostics);

// --- Ratios and slip ----------------------------------------------------------------------------

/// What an element carries in a gear. Losses are left out.
struct GearLoad {
  std::string element;
  double torque_share = 0.0;  // of the element, per unit of turbine torque
  /// Were it the one that slips: turbine_factor * turbine + output_factor * output.
  double turbine_factor = 0.0;
  double output_factor = 0.0;
};

struct GearLine {
  std::string gear;
  double ratio = 0.0;                   // turbine over output; negative in reverse
  std::optional<double> step;           // to the next higher forward gear
  std::vector<GearLoad> loads;          // of the elements that carry
  std::optional<double> turbine_error;  // rpm above what the output asks for, were it this gear
};

struct GearWithShare {
  std::string gear;
  double torque_share = 0.0;
};

/// An element that may be the one that slips.
struct SlipSuspect {
  std::string element;
  double slip = 0.0;                    // rpm, of its first side over its second
  double torque_share = 0.0;            // in the gear asked about
  std::vector<GearWithShare> tells_in;  // gears that need it and none of the others; by share
};

/// The gear that was asked about, at the speeds that were given.
struct GearAtSpeed {
  std::string gear;
  std::optional<double> expected_turbine;  // rpm, from the output
  std::optional<double> expected_output;   // from the turbine
  std::optional<double> turbine_error;     // rpm above the expected one; with both speeds
  bool within_noise = false;               // of the profile's `slip_noise`
  std::vector<std::string> fits_instead;   // other gears that are within noise where this is not
  std::vector<SlipSuspect> suspects;       // with both speeds; in the order of the chart
};

struct GearRatios {
  std::string unit;
  std::string title;
  std::vector<GearLine> gears;  // in the order of the chart
  double span = 0.0;            // largest forward ratio over the smallest
  std::optional<double> slip_noise;
  std::optional<double> turbine;  // as asked, rpm
  std::optional<double> output;
  std::optional<GearAtSpeed> asked;  // if a gear was named
};

struct RatioQuestion {
  std::optional<std::string> gear;
  std::optional<std::string> turbine;
  std::optional<std::string> output;  // negative where the output turns backwards
};

[[nodiscard]] std::optional<GearRatios> gear_ratios(const Unit& unit, const RatioQuestion& question,
                                                    Diagnostics& diagnostics);

// --- Level --------------------------------------------------------------------------------------

struct LevelAt {
  double temperature = 0.0;  // °C
  double too_much = 0.0;   // ml, if the level was set right at the other temperature; below 0 short
  double reads_off = 0.0;  // ml, what a right fill of this temperature shows at the other one
};

struct FluidLevel {
  std::string unit;
  std::string title;
  double set_at = 0.0;               // °C
  double fill = 0.0;                 // ml, when the level is right
  double density = 0.0;              // kg/m3 at 15 °C
  std::optional<double> window_low;  // °C, the profile's
  std::optional<double> window_high;
  std::vector<LevelAt> at;  // the window's ends and middle, or what was asked

  [[nodiscard]] bool set_in_window() const {
    return window_low && *window_low <= set_at && set_at <= *window_high;
  }
};

struct LevelQuestion {
  std::string set_at;
  std::optional<std::string> at;       // instead of the profile's window
  std::optional<std::string> fill;     // instead of the profile's
  std::optional<std::string> density;  // instead of the profile's
};

[[nodiscard]] std::optional<FluidLevel> fluid_level(const Unit& unit, const LevelQuestion& question,
                                                    Diagnostics& diagnostics);

// --- Trouble codes ------------------------------------------------------------------------------

enum class CodeAuthor : std::uint8_t { standard, manufacturer, reserved };

/// What the profile says that a code is about.
struct CodePart {
  std::string family;                 // the profile's name, "ratio_code"
  std::string scope;                  // "gear"; empty: the whole unit
  std::string member;                 // "3"
  std::vector<std::string> elements;  // of the gear; of a shift those that stay; of a regulator its
  std::vector<std::string> applies;   // of a shift
  std::vector<std::string> releases;
  std::vector<std::string> gears;  // that need one of these elements; not of a gear or shift
};

struct CodeMeaning {
  std::string code;    // "P0733"
  std::string bytes;   // "07 33"
  std::string system;  // "engine and transmission"
  std::string group;   // "transmission"; empty where the standard has no group for it
  CodeAuthor author = CodeAuthor::standard;
  std::string text;        // empty: not known
  std::string controller;  // empty: none of the profile holds it
  std::vector<CodePart> parts;
  bool letter_open = false;  // the text has a letter, and the profile does not say which part it is
};

struct CodeMeanings {
  std::string unit;
  std::string title;
  std::vector<CodeMeaning> codes;
  /// With several gears of one family: elements that all of them need.
  std::vector<std::string> common_gears;
  std::vector<std::string> common_elements;
  std::vector<std::string> save_first;  // before the codes are cleared
};

/// Words as on a command line: "P0733", "0x0733", "0733", or two bytes "07", "33".
[[nodiscard]] std::optional<CodeMeanings> explain_codes(const Unit& unit,
                                                        const std::vector<std::string>& words,
                                                        Diagnostics& diagnostics);

}  // namespace slipcase

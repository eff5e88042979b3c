// A profile as it was written: shapes and units checked, names not yet looked up, nothing computed.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "facts/scalar.h"
#include "profile/procedure_draft.h"
#include "profile/profile.h"
#include "slipcase/source.h"
#include "units/quantity.h"
#include "units/trouble_code.h"

namespace slipcase::profile {

using facts::Scalar;

struct Number {
  double value = 0.0;
  Place place;
};

enum class SetKind : std::uint8_t { simple, double_planet, double_sun };

/// A planetary set. A double-sun set has the small sun (two planets to the ring) in `sun` and the
/// large one (one planet) in `large_sun`.
struct SetDraft {
  Scalar name;
  SetKind kind = SetKind::simple;
  Scalar sun;
  std::optional<Scalar> large_sun;
  Scalar ring;
  Scalar carrier;
  double ring_to_sun = 1.0;
  double ring_to_large_sun = 1.0;
};

struct ElementDraft {
  Scalar name;
  Scalar first;
  std::optional<Scalar> second;  // of a clutch; a brake goes to the case
  bool one_way_clutch = false;
};

struct TrainDraft {
  Scalar input;
  Scalar output;
  std::vector<SetDraft> sets;
};

struct ChartEntry {
  Scalar element;
  bool carries = true;  // false: written in parentheses
};
struct ChartRow {
  Scalar gear;
  std::vector<ChartEntry> entries;
};

struct StatedRatio {
  Scalar gear;
  Number ratio;
};

struct ShiftDraft {
  Scalar name;
  std::optional<std::vector<Scalar>> applies;  // only to be checked
  std::optional<std::vector<Scalar>> releases;
  std::optional<std::vector<Scalar>> holds;
};
struct SingleSwaps {};
using ShiftsDraft = std::variant<SingleSwaps, std::vector<ShiftDraft>>;

struct ScopeDraft {
  Scalar name;
  std::optional<Scalar> plural;
  std::vector<Scalar> members;
};

struct MarkDraft {
  Scalar scope;
  Scalar name;
  std::vector<Scalar> members;
};

struct RelationDraft {
  Scalar subject;
  Scalar word;
  Scalar object;
  Scalar inverse;
  std::optional<std::pair<Scalar, Scalar>> negative;  // read from either end
  std::vector<std::pair<Scalar, std::vector<Scalar>>> pairs;
};

struct BoundsDraft {
  std::optional<RangeDraft> possible;
  std::optional<RangeDraft> limits;
  std::optional<RangeDraft> watch;
  std::optional<Number> scatter;
};
struct ReadingDraft {
  Scalar name;
  std::optional<Scalar> scope;
  units::Dimension dimension;
  BoundsDraft all;
  std::vector<std::pair<Scalar, BoundsDraft>> except;
};

/// One code or a range of codes of one letter.
struct CodeRange {
  units::TroubleCode first;
  units::TroubleCode last;
  Place place;
};
struct ControllerDraft {
  Scalar name;
  std::vector<CodeRange> ranges;
};
struct CodeFamilyDraft {
  Scalar name;
  std::optional<Scalar> scope;
  std::vector<CodeRange> codes;                                 // without a scope
  std::vector<std::pair<Scalar, std::vector<CodeRange>>> each;  // with one
};

/// A range with one text has it for all its codes, else one for each.
struct CodeTextsDraft {
  CodeRange range;
  std::vector<std::string> texts;
};

/// A part that could not be read to its end may lack members: what is not found there is no
/// mistake.
struct Complete {
  bool train = true;
  bool elements = true;
  bool chart = true;
  bool shifts = true;
  bool scopes = true;
  bool readings = true;
  bool controllers = true;
};

struct ProfileDraft {
  Complete complete;
  Scalar name;
  std::string title;
  TrainDraft train;
  std::vector<ElementDraft> elements;
  std::vector<ChartRow> chart;
  std::vector<StatedRatio> ratios;
  ShiftsDraft shifts = SingleSwaps{};
  std::vector<ScopeDraft> scopes;
  std::vector<MarkDraft> marks;
  std::vector<RelationDraft> relations;
  std::string sign_note;
  std::vector<ReadingDraft> readings;
  std::optional<Scalar> turbine_speed;
  std::optional<Scalar> output_speed;
  std::optional<units::Quantity> fresh_time;
  std::optional<units::Quantity> fresh_distance;
  std::vector<Scalar> cleared_by;
  std::vector<Scalar> changed_by;
  std::optional<Scalar> own_controller;
  std::vector<ControllerDraft> controllers;
  std::vector<CodeFamilyDraft> codes;
  std::vector<CodeTextsDraft> code_texts;
  std::optional<units::Quantity> slip_noise;
  std::optional<units::Quantity> fluid_fill;
  std::optional<units::Quantity> fluid_density;
  std::optional<RangeDraft> learning_temperature;
  std::optional<RangeDraft> level_temperature;
  WorkCosts costs;
  std::vector<ProcedureDraft> procedures;
};

}  // namespace slipcase::profile

// A learning procedure as it was written.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "profile/procedure.h"
#include "slipcase/source.h"

namespace slipcase::profile {

struct RangeDraft {
  double low = 0.0;
  double high = 0.0;
  Place place;
};

struct ManoeuvreDraft {
  facts::Scalar name;
  std::string says;
  std::optional<std::vector<facts::Scalar>> path;
  std::optional<std::vector<facts::Scalar>> shifts;
  std::optional<RangeDraft> speed;
  std::optional<RangeDraft> pedal;
  std::optional<RangeDraft> fluid;
  std::optional<double> hold;
  std::optional<Place> hold_place;
  std::optional<Place> standing;  // where it says yes
  std::uint32_t repeats = 1;
  std::optional<double> takes;
  std::optional<std::vector<facts::Scalar>> teaches;
};

struct ProcedureDraft {
  facts::Scalar name;
  std::string title;
  std::string note;
  std::optional<RangeDraft> fluid;
  std::uint32_t events = 1;
  std::optional<double> steady_pedal;
  std::optional<double> standstill;
  ProcedureNames before;
  std::vector<ManoeuvreDraft> manoeuvres;
  bool complete = true;  // nothing was wrong in it
};

}  // namespace slipcase::profile

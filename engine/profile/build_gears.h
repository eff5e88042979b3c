// Gear train and chart of a draft to gears with their ratios, torque shares and slip formulas.
#pragma once

#include <optional>
#include <vector>

#include "profile/draft.h"
#include "profile/gear_train.h"
#include "profile/profile.h"
#include "profile/vocabulary_builder.h"

namespace slipcase::profile {

inline constexpr std::string_view neutral_row = "N";
inline constexpr std::string_view housing_name = "case";

/// A gear train with what its elements join, in the order of the element scope.
struct Train {
  GearTrain gears;
  std::vector<Joint> joints;
  std::vector<bool> one_way_clutch;
};

/// Nothing, and reported, where a shaft is unknown.
[[nodiscard]] std::optional<Train> build_train(const TrainDraft& draft,
                                               const std::vector<ElementDraft>& elements,
                                               Diagnostics& diagnostics);

struct GearRow {
  Gear gear;
  std::vector<MemberId> held;  // by elements and one-way clutches, as the chart has it
};

struct Chart {
  std::vector<GearRow> gears;      // in the order of the gear scope
  std::optional<GearRow> neutral;  // ratio and formulas unused
};

/// Gears that hold no single ratio, or not the stated one, are reported.
[[nodiscard]] Chart build_chart(const ProfileDraft& draft, const Train& train,
                                ScopeId element_scope, VocabularyBuilder& vocabulary);

}  // namespace slipcase::profile

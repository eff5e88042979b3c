// The shifts of a unit: which elements each applies, releases and holds, from the chart.
#pragma once

#include <vector>

#include "profile/build_gears.h"

namespace slipcase::profile {

struct ShiftKind {
  bool up = false;
  bool down = false;
  bool engagement = false;  // out of neutral
  bool skips_a_gear = false;
};

struct Shifts {
  std::vector<Shift> shifts;
  std::vector<ShiftKind> kinds;  // of each
  std::vector<Scalar> names;     // with their place where they were listed
};

/// Listed shifts as listed; `single swaps` as every shift between forward gears in which one
/// element takes over from one other, upward, downward, then the engagements out of neutral.
[[nodiscard]] Shifts build_shifts(const ProfileDraft& draft, const Chart& chart,
                                  ScopeId element_scope, VocabularyBuilder& vocabulary);

}  // namespace slipcase::profile

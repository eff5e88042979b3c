// What the ranking says when the true cause is not in the rules at all.
//
// One cause is drawn by its rate in the history and held present, all others absent. The job is
// ranked twice: with the rules as they are, and with rules in which that cause cannot be.
#pragma once

#include <string>
#include <vector>

#include "self_check/run.h"

namespace self_check {

struct FirstPlaces {
  std::size_t jobs = 0;
  double chance = 0.0;            // sum, of the first cause
  std::size_t half = 0;           // the first cause has 0.5 or more
  std::size_t nine_of_ten = 0;    // 0.9 or more
  double nothing_listed = 0.0;    // sum, of the chance that nothing listed is present
  std::size_t nothing_above = 0;  // that chance is above 0.5

  void add(const Ranked& ranked);
};

/// An absent cause and what is named instead, by declaration.
struct Misleading {
  std::string absent;
  std::string named;           // "of the same element" or "of another" is part of it
  std::size_t jobs = 0;        // with that cause absent from the rules
  std::size_t named_half = 0;  // of these, with the named one first at 0.5 or more
  double chance = 0.0;         // sum over these
};

struct AbsentRun {
  std::size_t jobs = 0;
  std::size_t too_wide = 0;
  FirstPlaces with_it;
  FirstPlaces without_it;
  std::vector<Misleading> pairs;  // most jobs misled first
};

[[nodiscard]] AbsentRun run_absent(const Shipped& shipped, const RunOptions& options);

}  // namespace self_check

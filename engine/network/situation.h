// What of a job's evidence shapes the computation, its numbers left aside.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "network/wiring.h"

namespace slipcase::network {

/// An observation as the sweep sees it. The weight P(below H+1) - P(below L) is written as
/// P(below H+1) * (1 - P(below L) / P(below H+1)): the first factor is a product over the present
/// parents like that of an absent finding, the second is that of a positive one.
struct Sighting {
  std::uint32_t finding = 0;
  std::uint32_t at_least = 0;  // above 0: enters as a positive finding
  std::uint32_t at_most = 0;   // below the number of grades: enters as an absent finding
};

/// How a hidden node enters.
enum class Role : std::uint8_t {
  unobserved,     // nothing known below it (or it has no parents and needs no accumulator)
  observed,       // has parents and something known of it or below it
  branch_absent,  // assumed absent in this branch of a computation split into branches
  branch_present,
};

struct Situation {
  std::vector<Sighting> positives;  // at_least > 0, findings rising
  std::vector<Sighting> absences;   // at_most < grades, findings rising; may overlap with positives
  std::vector<Held> held;           // those that are no branches
  std::vector<Role> role;           // per hidden node

  bool contradiction = false;  // at_least above at_most, or one node held both ways

  /// Equal keys: the same plan serves.
  [[nodiscard]] std::string key() const;
};

/// Throws std::invalid_argument for a finding, grade or hidden node that is not there (a bug).
[[nodiscard]] Situation survey(const Wiring& wiring, const Evidence& evidence,
                               std::span<const Held> branches);

}  // namespace slipcase::network

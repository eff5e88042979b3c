// The network of a job as plain numbers: what the inference works on. Nothing here knows about
// rules.
//
// Hidden nodes (causes and insides) are binary noisy-ORs over hidden nodes; findings are leaves,
// noisy-MAX over hidden nodes. Hidden nodes are stored in topological order: parents first.
// For a node with own rate a and present parents i:   P(absent) = (1 - a) * product of pass_i
// unless a present parent blocks it:                   P(absent) = 1
// For a finding and each grade g (0 = weakest):       P(below g) = (1 - leak_g) * product of
// pass_ig A link's Probability holds value() = fire (this parent alone makes it) and complement() =
// pass. Source of the forms: J. Pearl, Probabilistic Reasoning in Intelligent Systems (1988), 4.3.2
// (noisy-OR); F. J. Diez, "Parameter adjustment in Bayes networks: the generalized noisy OR-gate",
// UAI 1993 (noisy-MAX).
#pragma once

#include <cstdint>
#include <vector>

#include "slipcase/ids.h"
#include "slipcase/probability.h"

namespace slipcase::network {

using HiddenId = Id<struct HiddenTag>;
using FindingId = Id<struct FindingTag>;

struct HiddenLink {
  HiddenId parent;
  Probability fire;
  bool blocks = false;  // present, it keeps the node absent whatever else; `fire` then says nothing
};

struct Hidden {
  Probability own;                  // present without any parent
  std::vector<HiddenLink> parents;  // at most one that blocks
  bool is_cause = true;             // false: an inside
};

struct FindingLink {
  HiddenId parent;
  std::vector<Probability> fire;  // per grade, weakest first; never rising from grade to grade
};

struct Finding {
  std::vector<Probability> leak;  // per grade, weakest first; at least one; never rising
  std::vector<FindingLink> parents;
};

struct Network {
  std::vector<Hidden> hidden;
  std::vector<Finding> findings;
};

/// Which nodes of another network those of this one stand for; `no_node`: none.
struct Likeness {
  static constexpr std::uint32_t no_node = 0xffffffff;
  std::vector<std::uint32_t> hidden;
  std::vector<std::uint32_t> findings;
};

/// What is known of one finding: it is there at least in grade `at_least` and at most in grade
/// `at_most`; 0 means "not there", 1 the weakest grade. Absent is {0, 0}; a plain positive of an
/// ungraded finding is {1, 1}. at_least = 0 with at_most = number of grades says nothing.
struct Observation {
  FindingId finding;
  std::uint32_t at_least = 0;
  std::uint32_t at_most = 0;
};

/// A hidden node held present or absent, whatever its parents do.
struct Held {
  HiddenId hidden;
  bool present = false;
};

struct Evidence {
  std::vector<Observation> findings;  // each finding at most once, any order
  std::vector<Held> held;
  /// After repairs that were to end the complaint (Solver with FailedRepairs; else it says
  /// nothing): something that they left had fired it.
  bool complaint_stayed = false;
};

}  // namespace slipcase::network

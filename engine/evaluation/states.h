// What an evaluation says about a job: the state of every finding, every distrust, every condition.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evaluation/truth.h"
#include "grounding/ground.h"
#include "slipcase/source.h"

namespace slipcase::evaluation {

using grounding::GroundCause;
using grounding::GroundDetail;
using grounding::GroundEvent;
using grounding::GroundFinding;
using grounding::GroundReading;

enum class State : std::uint8_t { absent, present, unknown, left_out, set_aside };

/// Why a finding is as it is.
enum class Basis : std::uint8_t {
  nothing,     // neither asked nor worked out
  answer,      // the card says so: an answer, a complaint, a check
  worked_out,  // from readings, events, codes, other findings
};

struct FindingState {
  State state = State::unknown;
  /// Strongest grade known to hold (0: none) and weakest below the first known not to (see
  /// network::Observation). For an ungraded finding {1,1} present, {0,0} absent, {0,1} unknown.
  std::uint32_t at_least = 0;
  std::uint32_t at_most = 0;
  Basis basis = Basis::nothing;
  std::optional<Place> said_at;           // in the card, for an answer
  std::optional<std::uint32_t> distrust;  // index into GroundRules::distrusts, when set aside
};

/// An answer and a worked-out value that contradict each other; the answer was taken.
struct Contradiction {
  GroundFinding finding;
  Place said_at;
};

/// Two findings of an `at most one` that are both there.
struct Clash {
  std::uint32_t at_most_one = 0;  // index into GroundRules::at_most_one
  std::vector<GroundFinding> present;
};

struct DistrustState {
  Truth applies = Truth::unknown;        // as of the day the job was opened
  std::vector<std::uint32_t> snapshots;  // snapshots it sets aside, newest first

  [[nodiscard]] bool holds_something_back() const {
    return applies == Truth::yes || !snapshots.empty();
  }
};

/// A condition that could not be decided and would matter: a distrust, never, possible only,
/// becomes.
struct Undecided {
  enum class Kind : std::uint8_t { distrust, becomes, restriction } kind;
  std::uint32_t index = 0;  // into GroundRules::distrusts, becomes, restrictions
};

struct Evaluation {
  std::vector<FindingState> findings;    // per ground finding
  std::vector<DistrustState> distrusts;  // per ground distrust
  std::vector<Truth> becomes;            // per GroundRules::becomes
  std::vector<Truth> restrictions;       // per GroundRules::restrictions
  std::vector<bool> possible;            // per ground cause: not ruled out by never / possible only
  std::vector<bool> judged;              // per ground cause
  std::vector<std::optional<std::uint32_t>> not_judged_by;  // per ground cause: which distrust
  std::vector<Contradiction> contradictions;
  std::vector<Clash> clashes;
  std::vector<Undecided> undecided;
};

}  // namespace slipcase::evaluation

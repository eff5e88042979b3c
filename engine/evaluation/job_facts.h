// A job card bound to the rules of its unit: everything by ground number, in base units.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "evaluation/moment.h"
#include "evaluation/truth.h"
#include "facts/job_card.h"
#include "grounding/ground.h"
#include "slipcase/source.h"
#include "units/trouble_code.h"

namespace slipcase::evaluation {

using grounding::GroundCause;
using grounding::GroundCheck;
using grounding::GroundDetail;
using grounding::GroundEvent;
using grounding::GroundFinding;
using grounding::GroundReading;
using grounding::GroundRepair;

/// What a person said of a finding.
struct Answer {
  enum class Said : std::uint8_t { nothing, not_sure, no, yes } said = Said::nothing;
  std::uint32_t grade = 0;  // with yes: exactly this grade; 0: at least the weakest
  std::optional<Place> place;

  friend bool operator==(const Answer&, const Answer&) = default;
};

struct DetailFact {
  enum class Kind : std::uint8_t { unknown, yes_no, word, number } kind = Kind::unknown;
  bool yes = false;
  std::uint32_t word = 0;
  double number = 0.0;  // a quantity in base units, a date in milliseconds since 1970
  std::optional<Place> place;

  friend bool operator==(const DetailFact&, const DetailFact&) = default;
};

struct ReadingFact {
  enum class Said : std::uint8_t { nothing, not_learned, value } said = Said::nothing;
  double value = 0.0;
  std::optional<Place> place;

  friend bool operator==(const ReadingFact&, const ReadingFact&) = default;
};

struct SnapshotFact {
  Moment when;
  std::uint32_t software = 0;  // equal numbers: the same software; 0: not said
  std::uint32_t on_card = 0;   // its place in JobCard::readings
  Place place;
};

struct EventFact {
  GroundEvent event;
  facts::Hand by = facts::Hand::unsaid;
  Place place;
};

struct CodeFact {
  units::TroubleCode code = units::TroubleCode::from_bits(0);
  bool pending = false;
  Place place;
};

struct DoneCheckFact {
  GroundCheck check;
  std::uint32_t on_card = 0;  // its place in JobCard::checks
};
struct DoneRepairFact {
  GroundRepair repair;
  std::uint32_t on_card = 0;
  std::uint32_t event = 0;  // its place in JobFacts::events
  std::optional<facts::ComplaintAfter> complaint;
};

struct JobFacts {
  Moment now;                   // the day the job was opened
  std::vector<Answer> answers;  // per ground finding
  std::vector<DetailFact>
      details;  // per ground detail; `place` of one that is not known: was asked

  std::vector<SnapshotFact> snapshots;  // oldest first
  bool ordered = true;                  // which of two snapshots came first is known for all
  std::vector<ReadingFact> readings;    // [reading * snapshots.size() + snapshot]

  std::vector<EventFact> events;    // in the order of the card: events, checks, repairs
  std::vector<Moment> event_times;  // of each
  grounding::Lists occurrences;     // per ground event: places in `events` of all that count as it
  std::vector<bool> history;        // per ground event: what is not recorded did not happen
  std::vector<bool> events_asked;   // per ground event: nobody can say whether it happened
  /// [event * snapshots.size() + snapshot]: where the event stands to the snapshot.
  std::vector<Order> event_order;

  std::vector<CodeFact> codes;         // by code
  std::vector<bool> controllers_read;  // per controller of the profile
  bool own_controller_read = false;
  std::vector<std::vector<bool>> not_driven;  // per scope and member

  std::vector<GroundFinding> complaint;
  std::vector<DoneCheckFact> checks;
  std::vector<DoneRepairFact> repairs;
  std::vector<GroundCause> confirmed;
  std::vector<GroundCause> sound;

  [[nodiscard]] const ReadingFact& reading(GroundReading reading, std::size_t snapshot) const {
    return readings[reading.at() * snapshots.size() + snapshot];
  }
  [[nodiscard]] bool driven(grounding::ScopeId scope, grounding::MemberId member) const {
    return not_driven.empty() || !not_driven[scope.at()][member.at()];
  }
};

}  // namespace slipcase::evaluation

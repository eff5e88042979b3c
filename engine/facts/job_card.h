// A job card as it was written: shapes, dates and units checked, names not yet looked up.
//
// Names of findings, events, readings and members are bound to rules and profile by evaluation/.
// What was reported while reading is marked as faulty, so that the rest can be bound and nothing is
// said twice.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "facts/document.h"
#include "facts/scalar.h"
#include "slipcase/diagnostic.h"
#include "slipcase/source.h"
#include "units/date.h"
#include "units/quantity.h"
#include "units/trouble_code.h"

namespace slipcase::facts {

/// `flare of 2-3`
struct CardReference {
  Scalar name;
  std::optional<Scalar> member;
  Place place;
};

/// `use: towing`, `flare: { 2-3: always, others: unknown }`; any of it may be faulty
struct Entry {
  Scalar name;
  std::variant<Scalar, std::vector<std::pair<Scalar, Scalar>>> value;
};

struct Vehicle {
  std::optional<Scalar> ref;
  std::optional<units::Quantity> odometer;
  std::optional<Place> odometer_place;
};

struct CardCode {
  units::TroubleCode code;
  bool pending = false;
  std::optional<units::Quantity> temperature;
  std::optional<units::Quantity> odometer;
  std::optional<units::Date> date;
  Place place;
};

struct ControllerCodes {
  std::optional<Scalar> controller;  // none: a plain list, the unit's own controller
  std::vector<CardCode> codes;       // may be empty: read, none stored
};

/// When something was: either or both; a day may have a time. `after` orders it behind an event of
/// one day.
struct CardTime {
  std::optional<units::Moment> moment;
  std::optional<units::Quantity> odometer;
  std::optional<CardReference> after;
  bool faulty = false;  // a part of it was reported
};

struct Snapshot {
  CardTime when;
  std::optional<Scalar> software;
  std::optional<units::Quantity> fluid_temperature;
  std::vector<Entry> values;
  Place place;
};

enum class Hand : std::uint8_t { unsaid, us, others };

struct CardEvent {
  CardReference what;
  CardTime when;
  Hand by = Hand::unsaid;
  Place place;
};

struct DoneCheck {
  CardReference done;
  CardTime when;
  std::vector<Entry> found;      // `found: { level_low: no }`
  std::optional<Scalar> answer;  // `found: yes`, for a check that is itself the finding
  Place place;
};

enum class ComplaintAfter : std::uint8_t { gone, same, back };
struct DoneRepair {
  CardReference done;
  CardTime when;
  std::optional<ComplaintAfter> complaint;
  std::optional<units::Quantity> after;  // distance or time until that was seen
  Place place;
};

struct Outcome {
  std::optional<units::Date> closed;
  Place closed_place;
  std::vector<CardReference> confirmed;
  std::vector<CardReference> sound;
  std::string note;
};

struct JobCard {
  std::optional<Scalar> job;
  std::optional<Scalar> unit;
  Vehicle vehicle;
  std::optional<units::Date> opened;
  bool opened_faulty = false;  // something was meant for `opened`, and was reported
  Place opened_place;
  std::string complaint_text;
  std::vector<CardReference> complaint_findings;
  std::vector<Entry> details;
  std::vector<Entry> answers;
  std::optional<std::vector<ControllerCodes>> codes;  // none: not read
  std::vector<Snapshot> readings;
  std::vector<CardEvent> events;
  bool events_lost = false;  // some event, check or repair was reported as a whole
  bool history_complete = false;
  std::vector<CardReference> never;
  /// `not_known: [values_cleared]`: was asked, and nobody can say whether it happened.
  std::vector<CardReference> not_known;
  /// `not_driven: [R, 5-6]`: members (gears, shifts, ranges) nobody has driven since they were fit
  /// to be judged; a missing code or an `others: no` says nothing of them.
  std::vector<Scalar> not_driven;
  std::vector<DoneCheck> checks;
  std::vector<DoneRepair> repairs;
  std::optional<Outcome> outcome;
  Place place;  // the whole card, for messages about what is missing
  /// Something was reported: the card may be bound, for messages about the rest, but not used.
  bool faulty = false;
};

/// Far more than a card needs; what two long lists have to do with each other takes time and
/// memory.
inline constexpr DocumentLimits card_limits{.most_nodes = 20'000};

/// One card from YAML or JSON text (told apart by the first character). Strict: unknown and
/// duplicate keys, dates that do not exist, wrong units, aliases that blow up are errors with their
/// place; all are reported. The card is `faulty` if there was one; nothing comes back if the text
/// is no YAML or JSON or no card at all.
[[nodiscard]] std::optional<JobCard> read_job_card(const SourceSet& sources, SourceId source,
                                                   Diagnostics& diagnostics);

}  // namespace slipcase::facts

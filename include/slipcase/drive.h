// The learning drive: what the card proves before it, what is to be driven, whether a logged drive
// did it, and whether the learned values still move.
//
// What is to be driven comes from the profile's `procedures`. Times are in seconds, temperatures in
// °C, speeds in km/h, the pedal in percent.
#pragma once

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "slipcase/card_value.h"
#include "slipcase/diagnostic.h"
#include "slipcase/job.h"
#include "slipcase/knowledge.h"

namespace slipcase {

/// From and to; both ends included.
struct DriveRange {
  double low = 0.0;
  double high = 0.0;
};

/// The profile has no procedure, or none of the name that was asked for.
struct NoProcedure {
  std::string unit;
  std::string asked;               // empty: the first one
  std::vector<std::string> known;  // what it has
};

// --- The sheet ----------------------------------------------------------------------------------

enum class Proof : std::uint8_t {
  proven,        // by the card
  missing,       // the card does not say
  contradicted,  // the card says that it is not so
  at_the_car,    // no card can say it
};

struct Precondition {
  std::string id;    // "values_cleared"
  std::string says;  // what must be so
  Proof proof = Proof::missing;
  std::string because;  // what the card says of it; may be empty
  std::string place;    // "card.yaml:12:3"; empty where nothing stands there
};

/// A caution of the rules, because a finding that has it is there.
struct DriveCaution {
  std::string id;
  std::string says;
  std::vector<std::string> seen;  // the findings, in words
};

/// The newest value of a learned reading, nothing done since that would begin it anew.
struct BeyondLimit {
  std::string says;   // "fill_pressure K3 315 mbar, limit 300 mbar"
  std::string place;  // "card.yaml:12:3"
};

/// What is to be looked at before anybody drives.
struct BeforeDriving {
  std::vector<DriveCaution> cautions;  // in the order of the rules
  std::vector<BeyondLimit> beyond;
  bool work_done = false;  // repairs stand on the card; they may have ended what was seen

  [[nodiscard]] bool is_clear() const { return cautions.empty() && beyond.empty(); }
};

struct SheetManoeuvre {
  std::string name;
  std::string says;
  std::vector<std::string> path;    // gears in their order; empty: any of `shifts`
  std::vector<std::string> shifts;  // of the path, or any of which one is enough
  std::optional<DriveRange> speed;
  std::optional<DriveRange> pedal;
  std::optional<DriveRange> fluid;
  std::optional<double> hold;  // in the last gear
  bool standing = false;       // while it is held
  std::uint32_t repeats = 1;
  std::optional<double> takes;  // one time of it
  std::vector<std::string> teaches;
};

/// An element, and why the card says that it needs the drive more than others.
struct SheetElement {
  std::string name;
  std::vector<std::string> taught_by;  // manoeuvres
  std::string needs_it;                // "not learned"; empty: nothing says so
};

struct DriveSheet {
  std::string job;
  std::string unit;
  std::string unit_title;
  std::string procedure;
  std::string title;
  std::string note;                 // where the procedure is from
  std::optional<DriveRange> fluid;  // none: the profile does not say
  std::uint32_t events = 0;         // that each element needs
  BeforeDriving first;
  std::vector<Precondition> before;
  std::vector<SheetElement> elements;
  std::vector<SheetManoeuvre> manoeuvres;
  double takes = 0.0;  // all of it, as far as the profile says
};

using DriveSheetResult = std::variant<DriveSheet, NoProcedure>;

/// `procedure`: one of the profile's by name; empty: its first.
[[nodiscard]] DriveSheetResult drive_sheet(const Knowledge& knowledge, const Job& job,
                                           const std::string& procedure = {});

// --- Values that are still moving ---------------------------------------------------------------

enum class Heading : std::uint8_t {
  too_few,      // fewer readings since the clearing than any of the following takes
  at_zero,      // exactly zero in every reading: nothing was learned
  not_moving,   // within scatter of zero in every reading
  settled,      // no movement between the last two that scatter would not make
  moving,       // still moves the way it went
  to_limit,     // the same, and where it is heading lies at the limit or beyond
  zigzag,       // forth and back by more than scatter
  not_learned,  // the newest reading has no value
  not_yet,      // neither moving nor settled by what the card has; `because` says why
};

struct MovingValue {
  std::string id;  // "fill_pressure of K2"
  std::string kind;
  std::string member;
  std::vector<std::string> values;    // since the clearing, oldest first: "40 mbar"
  std::vector<std::string> not_used;  // of them: "60 mbar: Values read with cold fluid"
  Heading heading = Heading::too_few;
  std::string because;  // with `not_yet`
  /// Where it ends if each stretch takes the same share of what is left; with three points whose
  /// steps are larger than scatter. In base units.
  std::optional<double> estimate;
  std::optional<double> estimate_low;  // as far as scatter allows; none: no bound on that side
  std::optional<double> estimate_high;
  std::string estimate_says;  // "about 140 mbar, 110 mbar to 190 mbar"
};

struct MovingValues {
  std::string cleared_at;         // "2031-04-17"; empty: the card knows of no clearing
  std::vector<std::string> read;  // when the readings since then were taken
  bool ordered = true;            // false: the card leaves open what came first
  std::vector<MovingValue> values;
};

// --- The check of a log -------------------------------------------------------------------------

/// Why a shift or engagement taught nothing, or a manoeuvre does not count.
enum class NotCounted : std::uint8_t {
  log_gap,
  fluid_not_logged,  // nothing in its column for longer than a value is carried on
  not_logged,        // the same of pedal or speed
  not_in_procedure,
  too_cold,
  too_hot,
  pedal_moved,
  too_much_pedal,
  too_little_pedal,
  too_fast,
  too_slow,
  hold_too_short,
};

struct NotCountedTimes {
  NotCounted why = NotCounted::log_gap;
  std::size_t times = 0;
  double first_at = 0.0;         // as the log's time has it
  std::uint32_t first_line = 0;  // of the log
};

struct ElementEvents {
  std::string name;
  std::size_t counted = 0;
  std::size_t needed = 0;                    // 0: no manoeuvre teaches it
  std::vector<NotCountedTimes> not_counted;  // most frequent first

  [[nodiscard]] bool enough() const { return counted >= needed; }
};

struct ManoeuvreTimes {
  std::string name;
  std::string says;
  std::size_t counted = 0;
  std::size_t needed = 0;
  std::vector<NotCountedTimes> not_counted;

  [[nodiscard]] std::size_t missing() const { return counted < needed ? needed - counted : 0; }
};

struct DriveGap {
  double from = 0.0;
  double to = 0.0;
  std::uint32_t line = 0;  // the first behind it
};

/// What gives a drive away that was none. Each is a plain fact of the log.
enum class DriveSign : std::uint8_t {
  never_warm,       // the fluid stayed below the window
  never_in_window,  // outside of it all the way, not only below
  mostly_outside,   // inside for less than half of the time
  no_stop,          // no stop in gear as long as the procedure asks for
  top_gears_only,   // four fifths of the driven time in the two highest gears
  short_drive,      // less than half of the time the procedure takes
  no_shifts,        // not one shift or engagement
  slow_log,         // fewer than two rows a second
  values_zero,      // the card: every value read since the clearing is exactly zero
  fluid_gaps,       // the fluid is not in the log for a part of the time
  lasts_days,       // longer than a day: milliseconds taken for seconds?
  pedal_asleep,     // never past 1 % although the car drives: 0 to 1 taken for percent?
  fluid_deadly,     // hotter than an automatic survives: °F taken for °C?
};

/// The log cannot show a drive, whatever is counted in it: too slow, or wrongly mapped.
[[nodiscard]] constexpr bool rules_out(DriveSign sign) {
  return sign == DriveSign::slow_log || sign == DriveSign::lasts_days ||
         sign == DriveSign::pedal_asleep || sign == DriveSign::fluid_deadly;
}

/// What goes onto the card for a drive that counts.
struct DriveRecord {
  std::string list;  // "repairs"
  std::string done;  // "learning_drive"
  /// Day of the last clearing on the card; the drive was not before it. Empty: not known.
  std::string not_before;
};

struct DriveCheck {
  std::string job;
  std::string unit;
  std::string unit_title;
  std::string procedure;
  std::string title;
  std::string note;
  std::string log;  // the file's name
  std::size_t rows = 0;
  double duration = 0.0;
  double in_window = 0.0;      // of it, with the fluid inside the window
  double fluid_unknown = 0.0;  // of it, the fluid not in the log
  double driven = 0.0;         // of it, moving
  double in_top_gears = 0.0;   // of that, in the two highest
  double takes = 0.0;          // what the procedure asks for
  double longest_stop = 0.0;   // in gear, pedal released as asked; 0: none
  double needed_stop = 0.0;    // 0: none asked for
  DriveRange fluid_seen;
  double pedal_seen = 0.0;           // highest
  std::optional<DriveRange> fluid;   // the window
  bool gear_from_speeds = false;     // the log has no column for the gear
  std::size_t open_engagements = 0;  // at standstill, into which gear the speeds do not tell
  std::vector<ElementEvents> elements;
  std::vector<ManoeuvreTimes> manoeuvres;  // that a log can show
  std::vector<DriveGap> gaps;
  std::vector<DriveSign> signs;
  bool counts_reached = false;       // every element and manoeuvre has its times
  bool complete = false;             // the same, in a log that can show a drive
  std::vector<Precondition> before;  // that a card can prove
  /// Of a complete drive that the rules have a name for, unless the card contradicts one of
  /// `before`.
  std::optional<DriveRecord> record;
  MovingValues moving;

  [[nodiscard]] bool is_contradicted() const {
    return std::ranges::find(before, Proof::contradicted, &Precondition::proof) != before.end();
  }
};

/// The changes that put the drive onto the card whose text this is; a text for people where the
/// same drive stands there already, or the day lies before what the drive came after. `odometer`
/// may be empty.
[[nodiscard]] std::variant<std::vector<CardChange>, std::string> changes_for_drive(
    const DriveRecord& record, const std::string& day, const std::string& odometer,
    std::string_view card_text);

struct DriveLogPaths {
  std::filesystem::path log;      // CSV
  std::filesystem::path mapping;  // YAML: what its columns mean
};

using DriveCheckResult = std::variant<DriveCheck, NoProcedure>;

struct DriveCheckLoad {
  Loaded outcome = Loaded::input_errors;
  std::optional<DriveCheckResult> result;
};

/// Both files are added to the knowledge's sources.
[[nodiscard]] DriveCheckLoad check_drive(const Knowledge& knowledge, const Job& job,
                                         const DriveLogPaths& paths, Diagnostics& diagnostics,
                                         const std::string& procedure = {});

}  // namespace slipcase

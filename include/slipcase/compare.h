// What became of the readings: before and after values were cleared, or something was repaired.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "slipcase/job.h"
#include "slipcase/knowledge.h"

namespace slipcase {

/// What the two values of one reading say. "Same" and "small" mean: within what two readings of the
/// same thing scatter (twice the square root of two times the profile's `scatter`).
enum class ReadingChange : std::uint8_t {
  small,        // cleared: it was small and is
  came_back,    // cleared: where it was, or further out: the cause is still there
  partly_back,  // cleared: on the same side, not as far
  stayed_away,  // cleared: it was not small and now is: it was learning, or what was done ended it
  grown,        // cleared: it was small and is not any more, or it is on the other side
  not_yet,      // cleared: a distrust holds the new value back
  same,         // not cleared: where it was
  nearer,       // not cleared: nearer to zero
  further,      // not cleared: further from zero, or on the other side
  new_start,    // another part or another software: the two do not belong together
  unknown,      // one of them is missing
};

/// Where a value stands to the lines of the profile.
enum class ReadingRange : std::uint8_t { inside, beyond_watch, beyond_limit };

struct ComparedReading {
  std::string id;                // "fill_pressure of K2"
  std::string kind;              // "fill_pressure"
  std::string member;            // "K2"; "" where it has none
  std::optional<double> before;  // in base units
  std::optional<double> after;
  std::string before_says;  // "210 mbar", "not learned"
  std::string after_says;
  ReadingChange change = ReadingChange::unknown;
  ReadingRange range = ReadingRange::inside;  // of the newer value
  std::string because;                        // of the distrust (not_yet)
};

/// Which members of one kind of reading moved together.
enum class ChangePattern : std::uint8_t { none, one, several, all };

/// One kind of reading over its members: "fill_pressure".
struct ReadingPattern {
  std::string reading;
  ChangePattern came_back = ChangePattern::none;  // came_back or partly_back
  ChangePattern grown = ChangePattern::none;      // that were not there before
  ChangePattern moved = ChangePattern::none;      // not cleared: nearer or further
  std::vector<std::string> members;               // that came back; else that moved
  std::vector<std::string> grown_members;
  std::size_t told = 0;  // of how many this can be told
  /// Those back and grown are on one side of zero; those that moved went one way.
  bool same_way = false;
};

/// Below this values are still on their way (common practice, no source).
inline constexpr double soon_after_km = 100.0;

struct Comparison {
  std::vector<std::string> between;  // what happened, as people say it, in the order of the card
  std::string before_at;             // "2031-03-02, 176850 km"
  std::string after_at;
  bool cleared = false;
  bool other_software = false;
  /// From the last thing in between to the newer look, where that is so near (`soon_after_km`) that
  /// values may still move.
  std::optional<double> km_after;
  std::vector<ComparedReading> readings;  // that have limits, in the order of the rules
  std::vector<ReadingPattern> patterns;
};

struct Comparisons {
  std::string job;
  std::string unit;
  std::vector<Comparison> list;  // oldest first
  std::size_t snapshots = 0;     // on the card
  bool ordered = true;           // false: the card leaves open what came first; nothing is compared
};

/// Of two neighbouring snapshots between which something was cleared, repaired or renewed: the last
/// before it, and the newest before the next such thing.
[[nodiscard]] Comparisons compare_readings(const Knowledge& knowledge, const Job& job);

}  // namespace slipcase

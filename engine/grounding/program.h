// Conditions of ground rules as flat code.
//
// Three tables that all programs share. `values`: every distinct value any condition asks for, so
// that it is worked out at most once however many conditions ask. `questions`: the same for what is
// asked of events and trouble codes. `code`: instructions that leave truths on one stack. An
// operand of a value or of an instruction is an index; a value's operands stand before it in the
// table.
#pragma once

#include <cstdint>
#include <optional>
#include <utility>
#include <variant>
#include <vector>

#include "grounding/ids.h"
#include "rulebase/condition.h"
#include "slipcase/source.h"
#include "units/trouble_code.h"

namespace slipcase::grounding {

/// Dates and durations are compared in milliseconds, the base unit of durations.
inline constexpr double milliseconds_per_day = 86'400'000.0;

/// What an instruction does with the stack of truths; a, b, c are its operands.
enum class Operation : std::uint8_t {
  literal,        // push the truth a (0 no, 1 unknown, 2 yes)
  detail_is,      // push: the detail a is its word b
  detail_yes,     // push: the detail a is yes
  finding_holds,  // push: the finding a is there, at least in grade b
  finding_known,  // push: it is known whether the finding a is there
  value_known,    // push: the value a is known
  question,       // push: the answer to the question a
  less,           // push: value a < value b
  less_equal,     // push: value a <= value b
  equal,          // push: value a = value b
  within,         // push: |value a| <= value b
  negate,         // replace the top by its negation
  both,           // replace the two on top by "both"
  either,         // replace the two on top by "either"
  at_least,       // replace the b on top by "at least a of them"
  jump_if_no,     // go on at instruction a if the top is no, leaving it there
  jump_if_yes,    // go on at instruction a if the top is yes, leaving it there
};

struct Instruction {
  Operation operation = Operation::literal;
  /// finding_holds and finding_known: the finding's own value, also where it clashes with another
  /// of an `at most one`.
  bool own_value = false;
  std::uint32_t a = 0;
  std::uint32_t b = 0;
  std::uint32_t exempt = 0;  // detail_is, detail_yes: see ValueNode
};

struct Program {
  std::uint32_t begin = 0;  // into Programs::code
  std::uint32_t end = 0;
  Place place;  // the condition in the rules
};

/// A value, as an interval: see evaluation/interval.h.
struct ValueNode {
  enum class Kind : std::uint8_t {
    constant,     // number
    nothing,      // never known: any number
    detail,       // the detail a
    reading,      // `function` of the reading a, as a share of `share`
    ratio_error,  // the reading a less `number` times the reading `other`
    time_since,   // of the event a, by `hand`
    distance_since,
    median,  // of the operands
    largest,
    smallest,
    spread,
    difference,  // operand 0 less operand 1
    quotient,    // operand 0 over operand 1
  };
  Kind kind = Kind::constant;
  rulebase::ReadingFunction function = rulebase::ReadingFunction::newest;
  rulebase::ShareOf share = rulebase::ShareOf::nothing;
  rulebase::EventUse::Hand hand = rulebase::EventUse::Hand::anyone;
  std::uint32_t a = 0;
  std::uint32_t exempt = 0;  // readings, details: the distrusts that do not count, in `exemptions`
  std::uint32_t other = 0;
  double number = 0.0;
  std::uint32_t operands_begin = 0;  // into Programs::operands
  std::uint32_t operands_end = 0;

  friend bool operator==(const ValueNode&, const ValueNode&) = default;
};

struct EventAsked {
  GroundEvent event;
  rulebase::EventUse::Hand by = rulebase::EventUse::Hand::anyone;

  friend auto operator<=>(const EventAsked&, const EventAsked&) = default;
};

struct HappenedQuestion {
  bool on_card = false;
  EventAsked event;
  std::optional<EventAsked> since;

  friend auto operator<=>(const HappenedQuestion&, const HappenedQuestion&) = default;
};

struct SoonAfterQuestion {
  EventAsked later;
  EventAsked earlier;
  double at_most = 0.0;  // ms, or mm where `distance`
  bool distance = false;

  friend auto operator<=>(const SoonAfterQuestion&, const SoonAfterQuestion&) = default;
};

struct CodeQuestion {
  bool pending = false;
  std::vector<std::pair<units::TroubleCode, units::TroubleCode>> ranges;
  /// Controllers (of the profile, by index) that must all have been read before "not stored" is
  /// known.
  std::vector<std::uint32_t> holders;
  bool own = false;  // and the unit's own controller, whatever the profile says it holds
  /// The gears, shifts or other members the codes belong to: with one of them never driven nothing
  /// follows from no code.
  std::vector<std::pair<ScopeId, MemberId>> driven;

  friend auto operator<=>(const CodeQuestion&, const CodeQuestion&) = default;
};

using Question = std::variant<HappenedQuestion, SoonAfterQuestion, CodeQuestion>;

struct Programs {
  std::vector<Instruction> code;
  std::vector<Place> places;  // per instruction: the piece of the condition it stands for
  std::vector<ValueNode> values;
  std::vector<std::uint32_t> operands;
  std::vector<Question> questions;
  std::vector<Program> programs;
  /// Sets of distrusts whose `except` names the finding that asks; rising. The first is empty.
  std::vector<std::vector<std::uint32_t>> exemptions{{}};

  [[nodiscard]] const Program& at(ProgramId id) const { return programs.at(id.at()); }
};

/// For each index a list of numbers, all in one block.
struct Lists {
  std::vector<std::uint32_t> starts{0};
  std::vector<std::uint32_t> items;

  [[nodiscard]] std::pair<const std::uint32_t*, const std::uint32_t*> range(std::size_t i) const {
    return {items.data() + starts[i], items.data() + starts[i + 1]};
  }
};

/// Lists from pairs of (index, item), each list in the order of the pairs.
[[nodiscard]] Lists lists_from(std::size_t size,
                               const std::vector<std::pair<std::uint32_t, std::uint32_t>>& pairs);

}  // namespace slipcase::grounding

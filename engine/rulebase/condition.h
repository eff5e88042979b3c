// Conditions with every name resolved, still for "any member": variables stand for members.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <variant>
#include <vector>

#include "rulebase/unit_vocabulary.h"
#include "slipcase/source.h"
#include "units/date.h"
#include "units/quantity.h"
#include "units/trouble_code.h"

namespace slipcase::rulebase {

using DetailId = Id<struct DetailTag>;
using ReadingId = Id<struct ReadingTag>;
using EventId = Id<struct EventTag>;
using FindingId = Id<struct FindingDeclarationTag>;
using InsideId = Id<struct InsideTag>;
using CauseId = Id<struct CauseTag>;
using DistrustId = Id<struct DistrustTag>;
using CheckId = Id<struct CheckTag>;
using AccessId = Id<struct AccessTag>;
using RepairId = Id<struct RepairTag>;
using CautionId = Id<struct CautionTag>;
using GroupId = Id<struct GroupTag>;

/// A member that is meant: none (the thing has no scope), a variable, or a named member.
/// Variable 0 is always the declaration's own member (`of element`), and kept free where there is
/// none. Quantifiers, aggregates and links bind 1, 2, ... from the outside in.
struct NoMember {};
struct Variable {
  std::uint32_t index = 0;
};
using Term = std::variant<NoMember, Variable, MemberId>;

/// The members a quantifier or a link runs over. It binds the next free variable; the terms in it
/// belong to what is around it (`no other shift applying element`: the outer shift and element).
struct Selection {
  Place place;
  ScopeId scope;
  std::optional<Term> other_than;  // `other element`: not this one
  struct MarkTest {
    MarkId mark;
    bool negated = false;
  };
  struct RelationTest {
    RelationId relation;  // subject scope is `scope`
    bool negated = false;
    Term object;
  };
  std::optional<MarkTest> mark;
  std::optional<RelationTest> relation;
};

struct EventUse {
  EventId event;
  Term member;
  enum class Hand : std::uint8_t { anyone, us, others } by = Hand::anyone;
};

// --- values -------------------------------------------------------------------------------------

struct Value;
using ValuePtr =
    std::shared_ptr<const Value>;  // immutable, so sharing is safe and copies are cheap

/// What is taken of a reading's snapshots. docs/language.md defines each exactly.
enum class ReadingFunction : std::uint8_t {
  newest,           // the bare reading: newest within the fresh span, nothing that resets it since
  as_read,          // the same, also what a distrust sets aside
  before_clearing,  // newest before the last clearing
  change,
  slope,
  step,
  scatter,
  high_limit,
  low_limit,
};
/// Applied on top: the value as a signed share of the limit, or of the watch line, on its side.
enum class ShareOf : std::uint8_t { nothing, limit, watch };

struct ConstantValue {
  units::Quantity quantity;
};
struct DateValue {
  units::Date date;
};
struct DetailValue {
  DetailId detail;
  Term member;
};
struct ReadingValue {
  ReadingId reading;
  Term member;
  ReadingFunction function = ReadingFunction::newest;
  ShareOf share = ShareOf::nothing;
};
/// `ratio_error of gear`: turbine speed less ratio times output speed, newest fresh snapshot of
/// both.
struct RatioErrorValue {
  Term gear;
};
struct SinceEventValue {
  bool distance = false;  // else time
  EventUse event;
};
/// `median of fill_pressure of every element`: `inner` is asked for each selected member.
enum class Aggregate : std::uint8_t { median, largest, smallest, spread };
struct AggregateValue {
  Aggregate aggregate;
  Selection selection;
  ValuePtr inner;
};
struct DifferenceValue {
  ValuePtr from;
  ValuePtr subtract;
};
struct QuotientValue {
  ValuePtr over;
  ValuePtr under;
};

struct Value {
  Place place;
  units::Dimension dimension;
  bool is_date = false;
  std::variant<ConstantValue, DateValue, DetailValue, ReadingValue, RatioErrorValue,
               SinceEventValue, AggregateValue, DifferenceValue, QuotientValue>
      node;
};

// --- conditions ---------------------------------------------------------------------------------

struct Condition;
using ConditionPtr = std::shared_ptr<const Condition>;

struct Not {
  ConditionPtr inner;
};
struct AllOf {
  std::vector<ConditionPtr> parts;
};
struct AnyOf {
  std::vector<ConditionPtr> parts;
};
struct Quantified {
  enum class Kind : std::uint8_t { every, any, no, at_least_count, at_least_share } kind;
  std::uint64_t amount = 0;  // a count, or a percentage
  Selection selection;
  ConditionPtr inner;
};
struct Comparison {
  enum class Kind : std::uint8_t { less, less_equal, greater, greater_equal, equal } kind;
  ValuePtr left;
  ValuePtr right;
};
struct Between {
  ValuePtr value;
  ValuePtr low;
  ValuePtr high;
};
/// |value - centre| <= distance; no centre: zero.
struct Within {
  ValuePtr value;
  ValuePtr distance;
  ValuePtr centre;  // may be null: zero
};
struct DetailIs {
  DetailId detail;
  Term member;
  std::uint32_t word = 0;  // index into the detail's words
};
struct DetailYes {
  DetailId detail;
  Term member;
};
struct FindingHolds {
  FindingId finding;
  Term member;
  std::uint32_t grade = 1;  // at least this grade; 1 is the weakest or the only one
};
struct IsKnown {
  struct FindingRef {
    FindingId finding;
    Term member;
  };
  std::variant<ValuePtr, FindingRef> what;  // a detail of any type is a ValuePtr to a DetailValue
};
struct CodeRange {
  bool pending = false;  // `pending`: pending only; `stored`: stored only
  units::TroubleCode first;
  units::TroubleCode last;
};
struct CodeOfFamily {
  bool pending = false;
  CodeFamilyId family;
  Term member;
};
struct Happened {
  bool on_card = false;
  EventUse event;
  std::optional<EventUse> since;
};
struct SoonAfter {
  EventUse later;
  units::Quantity at_most;  // a duration or a distance
  EventUse earlier;
};

struct Condition {
  Place place;
  std::variant<Not, AllOf, AnyOf, Quantified, Comparison, Between, Within, DetailIs, DetailYes,
               FindingHolds, IsKnown, CodeRange, CodeOfFamily, Happened, SoonAfter>
      node;
};

[[nodiscard]] inline ConditionPtr make_condition(const Place& place,
                                                 decltype(Condition::node) node) {
  return std::make_shared<const Condition>(Condition{place, std::move(node)});
}

}  // namespace slipcase::rulebase

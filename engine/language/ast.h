// The syntax tree of a rule file: what was written, with places, before any name has a meaning.
//
// Plain data. A Word is one token that is not yet known to be a scope, a member or a name; the rule
// base decides that later. Nothing after engine/rulebase sees these types.
#pragma once

#include <concepts>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "slipcase/source.h"

namespace slipcase::language {

/// One token as written: a name, scope, member (`2-3`, `K3`), grade, unit.
struct Word {
  std::string text;
  Place place;
};

/// A quoted text without its quotes.
struct Text {
  std::string text;
  Place place;
};

/// A number as written; the value is finite and correctly rounded.
struct Number {
  double value = 0.0;
  Place place;
};

/// A whole number up to 10^18.
struct Whole {
  std::uint64_t value = 0;
  Place place;
};

/// `2031-04-22`; it is known to exist.
struct DateLiteral {
  std::string text;
  Place place;
};

/// Heap-held child with value semantics, so that trees copy and move like numbers.
template <class T>
class Box {
 public:
  // NOLINTNEXTLINE(google-explicit-constructor): stands wherever the value itself would
  Box(T value) : held_(std::make_unique<T>(std::move(value))) {}
  Box(const Box& other) : held_(std::make_unique<T>(*other.held_)) {}
  Box(Box&&) noexcept = default;
  Box& operator=(const Box& other) { return *this = Box(other); }
  Box& operator=(Box&&) noexcept = default;
  ~Box() = default;

  const T& operator*() const { return *held_; }
  const T* operator->() const { return held_.get(); }

 private:
  std::unique_ptr<T> held_;
};

/// Optional child on the heap: used like std::optional, and small where there is none. Selections
/// are large and rare.
template <class T>
class Maybe {
 public:
  Maybe() = default;
  template <class U>
  requires(!std::same_as<std::remove_cvref_t<U>, Maybe> && std::convertible_to<U, T>)
      Maybe(U&& value)  // NOLINT(google-explicit-constructor)
      : held_(std::make_unique<T>(std::forward<U>(value))) {}
  Maybe(const Maybe& other) : held_(other.held_ ? std::make_unique<T>(*other.held_) : nullptr) {}
  Maybe(Maybe&&) noexcept = default;
  Maybe& operator=(const Maybe& other) { return *this = Maybe(other); }
  Maybe& operator=(Maybe&&) noexcept = default;
  ~Maybe() = default;

  [[nodiscard]] bool has_value() const { return held_ != nullptr; }
  explicit operator bool() const { return has_value(); }
  const T& operator*() const { return *held_; }
  const T* operator->() const { return held_.get(); }

 private:
  std::unique_ptr<T> held_;
};

// --- what a line can be about ------------------------------------------------------------------

enum class Quantifier : std::uint8_t { each, every, any, no, at_least_count, at_least_share };

/// `that is [not] MARK`
struct MarkTest {
  bool negated = false;
  Word mark;
};

/// `applying element`, `not using K1`
struct RelationTest {
  bool negated = false;
  Word relation;
  Word term;
};

/// `each shift applying element`, `no other element`, `at least 80 % of elements that are rotating`
struct Selection {
  Place place;
  Quantifier quantifier = Quantifier::each;
  std::optional<Number> amount;  // for `at least`: the count, or the percentage
  bool other = false;
  Word scope;  // as written, so perhaps in the plural behind `at least`
  std::optional<MarkTest> mark;
  std::optional<RelationTest> relation;
};

/// What stands behind `of`: a bare word (the declaration's own member, or a named member) or a
/// selection.
using Target = std::variant<Word, Selection>;

/// `slips of element`, `flare of each shift applying element`, `level_low`
struct Reference {
  Place place;
  Word name;
  Maybe<Target> target;
};

/// `limit_share of fill_pressure of element`: words in the order written; a selection can only be
/// last.
struct Path {
  Place place;
  std::vector<Word> words;
  Maybe<Selection> selection;
};

/// `fluid_service by others`
enum class Hand : std::uint8_t { anyone, us, others };
struct EventUse {
  Reference event;
  Hand by = Hand::anyone;
};

// --- values and conditions ---------------------------------------------------------------------

/// `30 mbar`; a number without a unit is a plain number.
struct QuantityLiteral {
  Place place;
  Number number;
  std::optional<Word> unit;
};

struct ZeroLiteral {
  Place place;
};

/// `time since values_cleared`, `distance since drum_rebuilt of element`
struct SinceValue {
  Place place;
  bool distance = false;
  EventUse event;
};

struct Value;
/// `A minus B`
struct Difference {
  Box<Value> from;
  Box<Value> subtract;
};
/// `A per B`
struct Quotient {
  Box<Value> over;
  Box<Value> under;
};

struct Value {
  Place place;
  std::variant<QuantityLiteral, DateLiteral, ZeroLiteral, Path, SinceValue, Difference, Quotient>
      node;
};

enum class Comparator : std::uint8_t { less, less_equal, greater, greater_equal, equal };

struct Condition;

struct Not {
  Box<Condition> inner;
};
struct And {
  std::vector<Condition> parts;
};
struct Or {
  std::vector<Condition> parts;
};
/// `no other element ( both_up of element )`
struct Quantified {
  Selection selection;
  Box<Condition> inner;
};
struct Comparison {
  Value left;
  Comparator comparator = Comparator::equal;
  Value right;
};
/// `A between B and C`, both ends included
struct Between {
  Value value;
  Value low;
  Value high;
};
/// `A within B of zero`, `A within B of C`
struct Within {
  Value value;
  Value distance;
  Value centre;
};
/// `use is towing`, `use is not towing`
struct IsWord {
  Path path;
  bool negated = false;
  Word word;
};
/// `X is known`, `X is not known`
struct IsKnown {
  Path path;
  bool negated = false;
};
/// `stored P0733`, `stored P0731 to P0736`, `pending ratio_code of gear`
struct CodeTest {
  Place place;
  bool pending = false;
  std::variant<Word, Path> code;  // a Word is a code as written
  std::optional<Word> last;       // end of a range
};
/// `happened values_cleared by others since own_work`, `on card learning_drive since
/// values_cleared`
struct Happened {
  Place place;
  bool on_card = false;
  EventUse event;
  std::optional<EventUse> since;
};
/// `B at most 30 days after A`
struct SoonAfter {
  EventUse later;
  QuantityLiteral at_most;
  EventUse earlier;
};
/// `flare of 2-3`, `both_up of element at least high`, a yes-or-no detail
struct Holds {
  Path path;
  std::optional<Word> at_least;
};

struct Condition {
  Place place;
  // Holds comes first because it is the one that can be made without a condition inside.
  std::variant<Holds, Not, And, Or, Quantified, Comparison, Between, Within, IsWord, IsKnown,
               CodeTest, Happened, SoonAfter>
      node;
};

// --- counts ------------------------------------------------------------------------------------

/// `8 of 10 jobs`, `1 of 50 jobs together`
struct CountPhrase {
  Place place;
  Whole hits;
  Whole total;
  bool together = false;
};

/// One part of `raised or more in 7, high in 5 of 10 jobs`; without a grade: the whole finding.
struct GradeHits {
  std::optional<Word> grade;
  bool or_more = false;
  Whole hits;
};
struct GradedCount {
  Place place;
  std::vector<GradeHits> parts;
  Whole total;
  bool together = false;
};

// --- clauses -----------------------------------------------------------------------------------

struct Says {
  Text text;
};
/// `asks driver "..."`: whoever drives the car can say it, nobody has to look.
struct Asks {
  bool driver = false;
  Text text;
};
/// How a check or repair is done, in own words.
struct How {
  Text text;
};
struct Because {
  Text text;
};
struct SourceLine {
  Text text;
};
struct Group {
  Word name;
};
struct MemberRate {
  std::vector<Word> members;
  CountPhrase count;
};
/// `found in 1 of 50 jobs, except K3 in 1 of 20 jobs`
struct Found {
  CountPhrase count;
  std::vector<MemberRate> except;
};
/// `becomes 3 times as likely when ...`
struct Becomes {
  Number times;
  Condition when;
};
struct NeverWhen {
  Condition when;
};
struct PossibleOnly {
  Condition when;
};
/// `shows F in ... [because "..."]`
struct Shows {
  Reference what;
  GradedCount count;
  std::optional<Text> because;
};
struct ThenCauses {
  Reference what;
  CountPhrase count;
  std::optional<Text> because;
};
struct Grade {
  Word name;
  std::optional<Condition> when;
};
struct When {
  Condition condition;
};
struct Otherwise {
  GradedCount count;
};
struct Overall {
  GradedCount count;
};
struct CountsAs {
  Word event;
};
struct SetsAside {
  std::vector<Reference> what;
};
struct ExceptThese {
  std::vector<Reference> what;
};
/// `lining_worn`, `group hard_part`
struct Judged {
  bool group = false;
  Reference what;
};
struct JudgeOnly {
  std::vector<Judged> what;
};
struct NotJudged {
  std::vector<Judged> what;
};
struct Until {
  std::vector<Reference> what;
};
struct Takes {
  QuantityLiteral time;
};
struct Costs {
  Number money;
};
struct Needs {
  std::vector<Reference> what;
};
struct Answers {
  std::vector<Reference> what;
};
/// `flags seal_leak of element in 14 of 20 bad, in 2 of 20 good`
struct Flags {
  Reference what;
  CountPhrase bad;
  CountPhrase good;
};
struct Cautions {
  std::vector<Reference> what;
};
struct Cure {
  Reference what;
  std::optional<CountPhrase> count;
};
struct Cures {
  std::vector<Cure> what;
};
struct OnlyAfter {
  std::vector<Reference> what;
};
struct FollowWith {
  std::vector<Reference> what;
};
struct By {
  Text initials;
};
struct Dated {
  DateLiteral date;
};
struct NoteLine {
  Text text;
};

// --- trials ------------------------------------------------------------------------------------

struct TrialJob {
  Text path;
};
struct TrialOpened {
  DateLiteral date;
};
struct TrialOdometer {
  QuantityLiteral reading;
};
/// One fact of `with`: `flare of 2-3 sometimes`, `no flare of 3-4`, `use is towing`,
/// `fill_time of K2 is 48 ms`, `values_cleared on 2031-03-02 at 147100 km by others`, `stored
/// P0733`.
struct TrialFact {
  Place place;
  bool no = false;
  std::optional<Word> code;  // with `stored` or `pending`: the code; `what` is then empty
  bool pending = false;
  std::optional<Reference> what;
  std::optional<Word> grade;
  std::optional<std::variant<Word, QuantityLiteral, DateLiteral>> is;
  std::optional<DateLiteral> on;
  std::optional<QuantityLiteral> at;
  Hand by = Hand::anyone;
};
struct TrialWith {
  std::vector<TrialFact> facts;
};

struct ExpectFirst {
  Reference cause;
};
struct ExpectAmong {
  Reference cause;
  Whole first;
};
/// `X above 6 of 10`, `X below 1 of 20`
struct ExpectChance {
  Reference cause;
  bool above = true;
  CountPhrase count;
};
struct ExpectBefore {
  Reference cause;
  Reference other;
};
struct ExpectNotJudged {
  Reference cause;
};
/// `next level_at_temperature`
struct ExpectNext {
  Reference check;
};
/// `both_up of K2 high`, `flare of 2-3 unknown`, `no level_low`, `fill_pressure_odd of K1 set
/// aside`
enum class ExpectedState : std::uint8_t { present, absent, unknown, left_out, set_aside, grade };
struct ExpectState {
  Reference finding;
  ExpectedState state = ExpectedState::present;
  std::optional<Word> grade;
};
struct Expect {
  Place place;
  std::variant<ExpectFirst, ExpectAmong, ExpectChance, ExpectBefore, ExpectNotJudged, ExpectNext,
               ExpectState>
      node;
};

// --- declarations ------------------------------------------------------------------------------

using ClauseBody =
    std::variant<Says, Asks, How, Because, SourceLine, Group, Found, Becomes, NeverWhen,
                 PossibleOnly, Shows, ThenCauses, Grade, When, Otherwise, Overall, CountsAs,
                 SetsAside, ExceptThese, JudgeOnly, NotJudged, Until, Takes, Costs, Needs, Answers,
                 Flags, Cautions, Cures, OnlyAfter, FollowWith, By, Dated, NoteLine, TrialJob,
                 TrialOpened, TrialOdometer, TrialWith, Expect>;

struct Clause {
  Place place;      // the whole line, from its first word on
  Word first_word;  // `shows`, `then causes`: as written, joined by one blank
  ClauseBody body;
};

enum class DeclarationKind : std::uint8_t {
  detail,
  reading,
  event,
  finding,
  at_most_one,
  inside,
  cause,
  distrust,
  check,
  access,
  repair,
  caution,
  trial,
  extend,
  revise,
  remove,
};

/// What a `detail` can hold.
struct YesNoType {};
struct DateType {};
struct DimensionType {
  Word name;  // `pressure`, `temperature difference` joined by one blank
};
struct ChoiceType {
  std::vector<Word> words;
};
using DetailType = std::variant<YesNoType, DateType, DimensionType, ChoiceType>;

struct Declaration {
  DeclarationKind kind;
  Place place;             // the header: from the first word to the end of its first line part
  Word name;               // a trial's name is its text; empty for `at most one`
  std::optional<Word> of;  // the scope; behind extend, revise, remove: a member
  std::optional<DetailType> type;  // detail, reading (always a DimensionType there)
  std::vector<Word> alternatives;  // at most one
  std::vector<Clause> clauses;
  bool header_broken = false;  // what it is called or stands for is not certain
  bool broken = false;  // a clause of it could not be read; checks must not build on its absence
};

/// From `#` to the end of its line. It has no meaning; printing a file keeps it.
struct Comment {
  Place place;
  std::string text;
  bool first_on_line = false;  // else it stands behind something
  bool indented = false;
  bool blank_behind = false;  // an empty line follows
};

struct File {
  SourceId source;
  Origin origin = Origin::own;  // a shop's own file may take out of use what shipped files declare
  std::optional<Whole> language;
  std::optional<Word> unit;
  std::vector<Declaration> declarations;
  /// Words of lines that could not be read as a declaration; one may be a name that is used
  /// elsewhere.
  std::vector<std::string> lost;
  std::vector<Comment> comments;
};

}  // namespace slipcase::language

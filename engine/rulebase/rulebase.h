// The rule base: every declaration with its names resolved, its layers merged, its counts checked.
// This is the middle model: language/ ends here, and nothing behind it sees a syntax tree.
// Plain data; a declaration `of SCOPE` still stands once for all members.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "rulebase/condition.h"
#include "units/count.h"

namespace slipcase::rulebase {

/// What every declaration has.
struct Header {
  std::string name;
  std::optional<ScopeId> scope;
  Place place;         // of the name where it was declared
  std::string says;    // `{element}` stands for the member; the name itself where no text was given
  std::string source;  // where the writer has it from; may be empty
  /// Members for which the shop took it out of use: as if it were not declared for them.
  std::vector<MemberId> out_of_use;

  [[nodiscard]] bool in_use(std::optional<MemberId> member) const {
    return !member || std::find(out_of_use.begin(), out_of_use.end(), *member) == out_of_use.end();
  }
};

/// A count that differs by member: `found in 1 of 50 jobs, except K3 in 1 of 20 jobs`, or what an
/// `extend X of K3` says. The last entry that fits a member wins.
template <class T>
struct PerMember {
  std::optional<T> all;
  std::vector<std::pair<MemberId, T>> of_member;

  [[nodiscard]] const T* at(MemberId member) const {
    for (auto it = of_member.rbegin(); it != of_member.rend(); ++it) {
      if (it->first == member) return &it->second;
    }
    return all ? &*all : nullptr;
  }
};

/// A clause that holds for one member only (from `extend X of K3`), or for all.
using OnlyFor = std::optional<MemberId>;

struct CountLine {
  units::Count count;
  bool together = false;  // the scope as a whole: at least one member
  Place place;
};

/// Counts of a graded finding: at least this grade, weakest first; for an ungraded one a single
/// entry. A grade that was not named has no entry: "half a count" for a rate, "no link" for a
/// `shows`.
struct GradedLine {
  std::vector<std::optional<units::Count>> at_least;
  bool together = false;
  Place place;
};

struct Detail {
  Header header;
  enum class Type : std::uint8_t { yes_no, date, quantity, choice } type;
  units::Dimension dimension;      // quantity
  std::vector<std::string> words;  // choice
  std::string asks;
  bool asks_driver = false;  // as of a finding
};

struct Reading {
  Header header;
  units::Dimension dimension;
};

/// Where an event came from: declared, or a check or repair under its own name.
struct Event {
  Header header;
  std::string asks;
  /// Itself not included; closed under "counts as". An event without a scope counts for every
  /// member of one that has a scope; one of a member counts for one without.
  std::vector<EventId> counts_as;
  std::variant<std::monostate, CheckId, RepairId> done_by;
};

struct GradeLine {
  std::string name;
  std::optional<ConditionPtr> when;
  Place place;
};

struct Finding {
  Header header;
  std::string asks;
  bool asks_driver = false;          // whoever drives the car can say it, nobody has to look
  std::vector<GradeLine> grades;     // weakest first; empty: not graded
  std::optional<ConditionPtr> when;  // for an ungraded worked-out finding
  PerMember<GradedLine> otherwise;   // at most one of the two is given for a member
  PerMember<GradedLine> overall;
  std::vector<CautionId> cautions;         // to be heeded where it is there
  std::optional<CheckId> result_of_check;  // a check that flags is itself this finding

  [[nodiscard]] std::uint32_t grade_count() const {
    return grades.empty() ? 1U : static_cast<std::uint32_t>(grades.size());
  }
};

/// Findings (of one member where scoped) of which at most one can be there.
struct AtMostOne {
  std::optional<ScopeId> per;
  std::vector<FindingId> findings;
  Place place;
};

/// One member or several that a line reaches: none, the own member, a named one, or a selection
/// (`each`).
using Reach = std::variant<Term, Selection>;

/// `shows F of ... in ...`. Leads to an inside or a finding.
struct Link {
  std::variant<InsideId, FindingId> to;
  Reach reach;
  GradedLine count;  // an inside has one entry
  std::string because;
  OnlyFor only_for;
  Place place;
};

struct CauseLink {
  CauseId to;
  Reach reach;
  CountLine count;
  std::string because;
  OnlyFor only_for;
  Place place;
};

struct Inside {
  Header header;
  PerMember<GradedLine> otherwise;
  std::vector<Link> shows;
};

struct Becomes {
  double times = 1.0;
  ConditionPtr when;
  OnlyFor only_for;
  Place place;
};

struct Restriction {
  bool never = true;  // `never when`; else `possible only when`
  ConditionPtr when;
  OnlyFor only_for;
  Place place;
};

struct Cause {
  Header header;
  std::optional<GroupId> group;
  PerMember<CountLine> found;
  std::vector<Becomes> becomes;
  std::vector<Restriction> restrictions;
  std::vector<Link> shows;
  std::vector<CauseLink> causes;
};

/// A name list entry of a distrust: all members unless a member is named.
template <class... Ids>
struct Named {
  std::variant<Ids...> what;
  std::optional<MemberId> member;
};

struct Distrust {
  Header header;
  ConditionPtr when;
  std::vector<Named<ReadingId, FindingId, DetailId>> sets_aside;
  std::vector<Named<ReadingId, FindingId, DetailId>> except;
  std::vector<Named<CauseId, GroupId>> judge_only;
  std::vector<Named<CauseId, GroupId>> not_judged;
  std::vector<Named<CheckId, RepairId, EventId>> until;
  std::string because;
  /// The condition asks only events, readings and the profile, so it can be asked of each
  /// snapshot's own day.
  bool asked_per_snapshot = false;
};

struct Flag {
  CauseId cause;
  Reach reach;
  units::Count bad;
  units::Count good;
  Place place;
};

/// A target of `answers`, `needs`, `only after`, `follow with`.
struct AnswerTarget {
  std::variant<FindingId, DetailId, ReadingId> what;
  Reach reach;
};
struct StepTarget {
  std::variant<CheckId, RepairId, EventId> what;
  Reach reach;
};

struct Check {
  Header header;
  double minutes = 0.0;
  double money = 0.0;  // in the profile's currency
  std::vector<AccessId> needs;
  std::vector<AnswerTarget> answers;
  std::vector<Flag> flags;
  std::optional<FindingId> finding;  // the finding that it is, when it flags
  std::vector<StepTarget> only_after;
  std::vector<StepTarget> follow_with;
  std::vector<CautionId> cautions;
  std::string how;
  EventId event;
};

struct Access {
  Header header;
  double minutes = 0.0;
  double money = 0.0;
  std::vector<AccessId> needs;
  std::vector<CautionId> cautions;
};

struct CureLine {
  CauseId cause;
  Reach reach;
  std::optional<units::Count> count;  // none: always
};

struct Repair {
  Header header;
  double minutes = 0.0;
  double money = 0.0;
  std::vector<AccessId> needs;
  std::vector<CureLine> cures;
  std::vector<StepTarget> only_after;
  std::vector<StepTarget> follow_with;
  std::vector<CautionId> cautions;
  std::string how;
  EventId event;
};

struct Caution {
  Header header;
};

struct Group {
  std::string name;
};

/// What an id of the one name space stands for.
using Entity = std::variant<DetailId, ReadingId, EventId, FindingId, InsideId, CauseId, DistrustId,
                            CheckId, AccessId, RepairId, CautionId, GroupId>;

/// One fact of a trial: `flare of 2-3 sometimes`, `no flare of 3-4`, `use is towing`, `stored
/// P0733`.
struct TrialFact {
  std::variant<std::monostate, DetailId, ReadingId, EventId, FindingId> what;  // monostate: a code
  Term member;
  bool no = false;          // the finding is not there; the event never happened
  std::uint32_t grade = 0;  // 0: at least the weakest
  std::variant<std::monostate, bool, std::uint32_t, units::Quantity, units::Date>
      is;  // word: its index
  std::optional<units::TroubleCode> code;
  bool pending = false;
  std::optional<units::Date> on;
  std::optional<units::Quantity> at;  // odometer
  EventUse::Hand by = EventUse::Hand::anyone;
  Place place;
};

struct CauseAt {
  CauseId cause;
  Term member;
};
struct TrialExpectation {
  struct First {
    CauseAt cause;
  };
  struct Among {
    CauseAt cause;
    std::uint64_t first = 1;
  };
  struct Chance {
    CauseAt cause;
    bool above = true;
    units::Count limit;
  };
  struct Before {
    CauseAt cause;
    CauseAt other;
  };
  struct NotJudged {
    CauseAt cause;
  };
  struct Next {
    CheckId check;
    Term member;
  };
  struct State {
    enum class Kind : std::uint8_t { present, absent, unknown, left_out, set_aside } kind;
    FindingId finding;
    Term member;
    std::uint32_t grade = 0;  // with `present`: exactly this grade; 0: any
  };
  Place place;
  std::variant<First, Among, Chance, Before, NotJudged, Next, State> what;
};

/// A test of the rules beside them: a job (a card's path, or facts) and what must come out.
struct Trial {
  std::string title;
  Place place;
  std::optional<std::string> job;  // path of a card, relative to the rule file
  std::optional<units::Date> opened;
  std::optional<units::Quantity> odometer;
  std::vector<TrialFact> facts;
  std::vector<TrialExpectation> expectations;
};

/// A line that leads to a name the shop took out of use: it is not in the rule base.
struct LeftOut {
  Place line;
  std::string name;
  Place removed;  // the `remove` line
};

/// What a shop's own layer does, for listings.
struct LayerChange {
  enum class Kind : std::uint8_t { extend, revise, remove } kind;
  std::string name;
  std::optional<MemberId> member;
  Place place;
  std::string by;
  std::optional<units::Date> dated;
  std::string note;
  struct Replaced {
    Place old_line;
    Place new_line;  // behind `remove`: the line that names it
  };
  std::vector<Replaced> replaced;
};

struct NamedEntity {
  std::string name;
  Entity entity;
};

struct Rulebase {
  UnitVocabulary unit;
  std::vector<Detail> details;
  std::vector<Reading> readings;
  std::vector<Event> events;
  std::vector<Finding> findings;
  std::vector<AtMostOne> at_most_one;
  std::vector<Inside> insides;
  std::vector<Cause> causes;
  std::vector<Distrust> distrusts;
  std::vector<Check> checks;
  std::vector<Access> accesses;
  std::vector<Repair> repairs;
  std::vector<Caution> cautions;
  std::vector<Group> groups;
  std::vector<Trial> trials;
  std::vector<LeftOut> left_out;
  std::vector<LayerChange> changes;
  std::vector<NamedEntity> names;  // sorted by name

  /// A check or repair is found as itself; its event by `events[check.event]`. A check that flags
  /// is found as the check; its finding by `check.finding`.
  [[nodiscard]] std::optional<Entity> find(std::string_view name) const;
};

}  // namespace slipcase::rulebase

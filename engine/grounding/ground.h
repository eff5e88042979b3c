// Rules written for "any member" become rules for each member of this unit.
//
// Every declaration `of SCOPE` becomes one ground thing per member, numbered without gaps: the
// members of one declaration stand one behind the other in the order of the profile. Links and
// conditions are unrolled once, when rules are loaded; a job then only fills numbers in.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "grounding/ids.h"
#include "grounding/program.h"
#include "profile/profile.h"
#include "rulebase/rulebase.h"
#include "slipcase/diagnostic.h"

namespace slipcase::grounding {

/// Which declaration and which member a ground thing is.
struct Origin {
  std::uint32_t declaration = 0;  // index into the rule base's list of that kind
  std::optional<MemberId> member;
};

/// Numbering of one kind: `first[d]` is the ground number of declaration d's first member.
struct Layout {
  std::vector<std::uint32_t> first;
  std::vector<Origin> origins;  // per ground number

  [[nodiscard]] std::uint32_t at(std::uint32_t declaration, std::optional<MemberId> member) const {
    return first.at(declaration) + (member ? member->index : 0U);
  }
  [[nodiscard]] std::size_t size() const { return origins.size(); }
};

/// Where a link starts: a cause or an inside.
using Source = std::variant<GroundCause, GroundInside>;

/// A `shows` line for one start and one end. `line` points into the rule base held by GroundRules.
struct GroundLink {
  Source from;
  std::variant<GroundInside, GroundFinding> to;
  const rulebase::Link* line = nullptr;
};

struct GroundCauseLink {
  GroundCause from;
  GroundCause to;
  const rulebase::CauseLink* line = nullptr;
};

/// A `flags` line: the check's own finding shows for the cause.
struct GroundFlag {
  GroundCause from;
  GroundFinding to;
  const rulebase::Flag* line = nullptr;
};

/// `becomes R times as likely when`, `never when`, `possible only when` for one cause.
struct GroundBecomes {
  GroundCause cause;
  double times = 1.0;
  ProgramId when;
  const rulebase::Becomes* line = nullptr;
};
struct GroundRestriction {
  GroundCause cause;
  bool never = true;
  ProgramId when;
  const rulebase::Restriction* line = nullptr;
};

/// How a finding's state is worked out: one program per grade, weakest first; empty when only
/// asked.
struct GroundFindingRule {
  std::vector<std::optional<ProgramId>> at_least;
};

struct GroundAtMostOne {
  std::vector<GroundFinding> findings;
  const rulebase::AtMostOne* line = nullptr;
};

struct GroundDistrust {
  std::uint32_t declaration = 0;
  ProgramId when;
  std::vector<GroundReading> readings;  // set aside, exceptions already taken out
  std::vector<GroundFinding> findings;
  std::vector<GroundDetail> details;
  std::vector<bool> not_judged;  // per ground cause
};

/// One step of an evaluation, in an order in which everything a step asks has been done before.
struct EvaluationStep {
  enum class Kind : std::uint8_t { finding, distrust } kind;
  std::uint32_t index = 0;  // a GroundFinding, or an index into `distrusts`
};

/// A reset event of the profile as the rules know it.
struct GroundReset {
  GroundEvent event;
  std::optional<std::pair<ScopeId, MemberId>> only;  // of one member: resets that member's readings
  bool clears = false;                               // values were cleared
};

/// What has to be asked again when something changes. Indices into Dependents are ground numbers;
/// items are consumers: first the steps by their place in the order, then each `becomes`, then each
/// restriction.
struct Dependents {
  Lists of_finding;
  Lists of_detail;
  Lists of_reading;
  Lists values_of_detail;  // items: indices into Programs::values
  Lists values_of_reading;
  Lists values_asked;  // per consumer: the values of readings and details it asks for
  std::vector<std::uint32_t> step_of_finding;
  std::vector<std::uint32_t> step_of_distrust;
};

struct GroundRules {
  std::shared_ptr<const rulebase::Rulebase> rules;
  std::shared_ptr<const profile::Profile> profile;

  Layout details, readings, events, findings, insides, causes, checks, repairs;
  std::vector<GroundLink> shows;  // in rule order
  std::vector<GroundCauseLink> then_causes;
  std::vector<GroundFlag> flags;
  std::vector<GroundBecomes> becomes;
  std::vector<GroundRestriction> restrictions;
  std::vector<GroundFindingRule> finding_rules;  // per ground finding
  std::vector<GroundAtMostOne> at_most_one;
  std::vector<GroundDistrust> distrusts;
  std::vector<EvaluationStep> order;
  Programs programs;
  Dependents dependents;

  /// Per ground reading what the profile says of it; none where it does not know the reading.
  std::vector<std::optional<profile::ReadingBounds>> bounds;
  std::vector<GroundReset> resets;
  /// Per ground event what it counts as, itself first.
  std::vector<std::vector<GroundEvent>> counts_as;
  /// Per ground finding the `at most one` lists it stands in.
  Lists at_most_one_of;
  /// Which distrusts can set a thing aside.
  Lists distrusts_of_reading, distrusts_of_finding, distrusts_of_detail;

  /// "lining_worn of K2"
  [[nodiscard]] std::string name_of(GroundCause cause) const;
  [[nodiscard]] std::string name_of(GroundInside inside) const;
  [[nodiscard]] std::string name_of(GroundFinding finding) const;
  [[nodiscard]] std::string name_of(GroundReading reading) const;
  [[nodiscard]] std::string name_of(GroundEvent event) const;
  [[nodiscard]] std::string name_of(GroundDetail detail) const;
  [[nodiscard]] std::string name_of(GroundCheck check) const;
  [[nodiscard]] std::string name_of(GroundRepair repair) const;
  /// The text for people, `{element}` filled in.
  [[nodiscard]] std::string says(GroundCause cause) const;
  [[nodiscard]] std::string says(GroundInside inside) const;
  [[nodiscard]] std::string says(GroundFinding finding) const;
  [[nodiscard]] std::string says(GroundCheck check) const;
  [[nodiscard]] std::string says(GroundRepair repair) const;
  [[nodiscard]] bool resets_reading(const GroundReset& reset, GroundReading reading) const;
  /// Its name where the rules say nothing.
  [[nodiscard]] std::string says(GroundEvent event) const;
  [[nodiscard]] std::string asks(GroundFinding finding) const;
  /// What it says as a question, where it asks none.
  [[nodiscard]] std::string asks(GroundEvent event) const;
  [[nodiscard]] std::string asks(GroundDetail detail) const;

  [[nodiscard]] const rulebase::Finding& declaration(GroundFinding finding) const;
  [[nodiscard]] const rulebase::Cause& declaration(GroundCause cause) const;
  [[nodiscard]] const rulebase::Inside& declaration(GroundInside inside) const;

  [[nodiscard]] std::optional<GroundCause> find_cause(
      std::string_view name) const;  // "lining_worn of K2"
  [[nodiscard]] std::optional<GroundFinding> find_finding(std::string_view name) const;

  /// The scope of the member of a ground thing.
  [[nodiscard]] std::optional<ScopeId> scope_of(GroundFinding finding) const;
  [[nodiscard]] std::optional<ScopeId> scope_of(GroundReading reading) const;
};

/// Unrolls resolved rules for a unit. Reports readings or events that profile and rules describe
/// differently; nothing comes back if there was an error.
[[nodiscard]] std::optional<GroundRules> ground(std::shared_ptr<const rulebase::Rulebase> rules,
                                                std::shared_ptr<const profile::Profile> profile,
                                                Diagnostics& diagnostics);

}  // namespace slipcase::grounding

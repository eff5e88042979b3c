// Resolved conditions to flat code, for one member at a time.
#pragma once

#include <optional>
#include <vector>

#include "grounding/ground.h"
#include "grounding/reach.h"
#include "grounding/value_table.h"

namespace slipcase::grounding {

/// Who asks a condition.
struct Asker {
  std::optional<MemberId> member;
  std::uint32_t exempt = 0;  // in Programs::exemptions
  /// Per finding declaration: the asker sees its own value, not that it clashes with another.
  const std::vector<bool>* own_values = nullptr;
};

/// A constant part is worked out here and leaves no code: `every` over marked members of a unit
/// that marks none, a comparison of two numbers.
class Compiler {
 public:
  /// Adds to `ground.programs`; numbering, resets and bounds of `ground` are in place already.
  explicit Compiler(GroundRules& ground);

  [[nodiscard]] ProgramId compile(const rulebase::Condition& condition, const Asker& asker);

 private:
  /// A truth as in Operation::literal.
  using Constant = std::optional<std::uint32_t>;
  static constexpr std::uint32_t no = 0;
  static constexpr std::uint32_t unknown = 1;
  static constexpr std::uint32_t yes = 2;

  Constant emit(const rulebase::Condition& condition);
  Constant node(const rulebase::Not& node);
  Constant node(const rulebase::AllOf& node);
  Constant node(const rulebase::AnyOf& node);
  Constant node(const rulebase::Quantified& node);
  Constant node(const rulebase::Comparison& node);
  Constant node(const rulebase::Between& node);
  Constant node(const rulebase::Within& node);
  Constant node(const rulebase::DetailIs& node);
  Constant node(const rulebase::DetailYes& node);
  Constant node(const rulebase::FindingHolds& node);
  Constant node(const rulebase::IsKnown& node);
  Constant node(const rulebase::CodeRange& node);
  Constant node(const rulebase::CodeOfFamily& node);
  Constant node(const rulebase::Happened& node);
  Constant node(const rulebase::SoonAfter& node);

  /// `part(i)` emits the i-th of `count` parts.
  template <class Part>
  Constant chain(std::size_t count, bool all, const Part& part);
  template <class Part>
  Constant counted(std::size_t count, std::uint64_t wanted, const Part& part);
  Constant compared(Operation operation, std::uint32_t a, std::uint32_t b);
  Constant negated(Constant constant);

  std::uint32_t value(const rulebase::Value& value);
  std::uint32_t value_of(const rulebase::ConstantValue& node);
  std::uint32_t value_of(const rulebase::DateValue& node);
  std::uint32_t value_of(const rulebase::DetailValue& node);
  std::uint32_t value_of(const rulebase::ReadingValue& node);
  std::uint32_t value_of(const rulebase::RatioErrorValue& node);
  std::uint32_t value_of(const rulebase::SinceEventValue& node);
  std::uint32_t value_of(const rulebase::AggregateValue& node);
  std::uint32_t value_of(const rulebase::DifferenceValue& node);
  std::uint32_t value_of(const rulebase::QuotientValue& node);
  std::uint32_t difference(std::uint32_t from, std::uint32_t subtract);
  std::uint32_t nothing();

  EventAsked asked(const rulebase::EventUse& use) const;
  std::uint32_t detail_at(rulebase::DetailId detail, const rulebase::Term& term) const;
  std::uint32_t finding_at(rulebase::FindingId finding, const rulebase::Term& term) const;
  bool own_value(rulebase::FindingId finding) const;
  CodeQuestion code_question(
      bool pending, std::vector<std::pair<units::TroubleCode, units::TroubleCode>> ranges) const;

  void push(Operation operation, std::uint32_t a = 0, std::uint32_t b = 0);

  GroundRules& ground_;
  ValueTable table_;
  Bindings bindings_;
  Asker asker_;
  Place place_;
};

}  // namespace slipcase::grounding

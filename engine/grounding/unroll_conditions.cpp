// Every condition compiled for every member, and which findings see another's own value.
#include <algorithm>

#include "grounding/compile.h"
#include "grounding/unroll.h"

namespace slipcase::grounding {

namespace {

using Declarations = std::vector<bool>;  // per finding declaration

/// Marks every finding that the condition names.
class FindingsNamed {
 public:
  explicit FindingsNamed(Declarations& out) : out_(out) {}

  void visit(const rulebase::Condition& condition) const {
    std::visit([this](const auto& node) { look(node); }, condition.node);
  }

 private:
  void look(const rulebase::Not& node) const { visit(*node.inner); }
  void look(const rulebase::AllOf& node) const {
    for (const auto& part : node.parts) visit(*part);
  }
  void look(const rulebase::AnyOf& node) const {
    for (const auto& part : node.parts) visit(*part);
  }
  void look(const rulebase::Quantified& node) const { visit(*node.inner); }
  void look(const rulebase::FindingHolds& node) const { out_.at(node.finding.at()) = true; }
  void look(const rulebase::IsKnown& node) const {
    if (const auto* reference = std::get_if<rulebase::IsKnown::FindingRef>(&node.what)) {
      out_.at(reference->finding.at()) = true;
    }
  }
  template <class Other>
  void look(const Other& /*names no finding*/) const {}

  Declarations& out_;
};

std::vector<Declarations> asked_by_each(const rulebase::Rulebase& rules) {
  std::vector<Declarations> asked(rules.findings.size(), Declarations(rules.findings.size()));
  for (std::size_t i = 0; i < asked.size(); ++i) {
    const FindingsNamed named(asked[i]);
    const auto& finding = rules.findings[i];
    if (finding.when) named.visit(**finding.when);
    for (const auto& grade : finding.grades) {
      if (grade.when) named.visit(**grade.when);
    }
  }
  return asked;
}

/// The findings of the list and all that their conditions ask, directly or not.
Declarations upstream_of(const rulebase::AtMostOne& line, const std::vector<Declarations>& asked) {
  Declarations upstream(asked.size());
  std::vector<std::size_t> open;
  for (const auto finding : line.findings) open.push_back(finding.at());
  while (!open.empty()) {
    const std::size_t at = open.back();
    open.pop_back();
    if (upstream[at]) continue;
    upstream[at] = true;
    for (std::size_t i = 0; i < asked.size(); ++i) {
      if (asked[at][i] && !upstream[i]) open.push_back(i);
    }
  }
  return upstream;
}

/// own[f][g]: finding g, asking for finding f, sees f's own value. Whether f clashes with another
/// is known only after all of its list, so what its list is worked out from cannot wait for it.
std::vector<Declarations> own_values(const rulebase::Rulebase& rules) {
  std::vector<Declarations> own(rules.findings.size(), Declarations(rules.findings.size()));
  if (rules.at_most_one.empty()) return own;
  const auto asked = asked_by_each(rules);
  for (const auto& line : rules.at_most_one) {
    const Declarations upstream = upstream_of(line, asked);
    for (const auto finding : line.findings) {
      for (std::size_t g = 0; g < upstream.size(); ++g) {
        if (upstream[g]) own[g][finding.at()] = true;
      }
    }
  }
  return own;
}

/// Per finding the set of distrusts whose `except` names it.
std::vector<std::uint32_t> exemptions(GroundRules& ground) {
  std::vector<std::vector<std::uint32_t>> of_finding(ground.findings.size());
  for (std::uint32_t d = 0; d < ground.rules->distrusts.size(); ++d) {
    for (const auto& entry : ground.rules->distrusts[d].except) {
      const auto* finding = std::get_if<rulebase::FindingId>(&entry.what);
      if (finding == nullptr) continue;
      for (std::size_t i = 0; i < of_finding.size(); ++i) {
        const Origin& origin = ground.findings.origins[i];
        if (origin.declaration != finding->index) continue;
        if (entry.member && entry.member != origin.member) continue;
        if (of_finding[i].empty() || of_finding[i].back() != d) of_finding[i].push_back(d);
      }
    }
  }
  auto& sets = ground.programs.exemptions;
  std::vector<std::uint32_t> result;
  for (const auto& set : of_finding) {
    const auto found = std::ranges::find(sets, set);
    result.push_back(static_cast<std::uint32_t>(found - sets.begin()));
    if (found == sets.end()) sets.push_back(set);
  }
  return result;
}

void compile_findings(GroundRules& ground, Compiler& compiler) {
  const auto own = own_values(*ground.rules);
  const auto exempt = exemptions(ground);
  ground.finding_rules.resize(ground.findings.size());
  for (std::size_t i = 0; i < ground.findings.size(); ++i) {
    const Origin& origin = ground.findings.origins[i];
    const auto& finding = ground.rules->findings[origin.declaration];
    if (!finding.header.in_use(origin.member)) continue;
    const Asker asker{origin.member, exempt[i], &own[origin.declaration]};
    auto& at_least = ground.finding_rules[i].at_least;
    if (finding.when) at_least.emplace_back(compiler.compile(**finding.when, asker));
    const bool worked_out =
        std::ranges::any_of(finding.grades, [](const auto& g) { return g.when.has_value(); });
    if (!worked_out) continue;
    for (const auto& grade : finding.grades) {
      at_least.emplace_back();
      if (grade.when) at_least.back() = compiler.compile(**grade.when, asker);
    }
  }
}

void compile_causes(GroundRules& ground, Compiler& compiler) {
  for (std::uint32_t i = 0; i < ground.causes.size(); ++i) {
    const Origin& origin = ground.causes.origins[i];
    const auto& cause = ground.rules->causes[origin.declaration];
    const Asker asker{origin.member};
    const auto applies = [&](const auto& line) {
      return !line.only_for || line.only_for == origin.member;
    };
    for (const auto& line : cause.becomes) {
      if (!applies(line)) continue;
      const ProgramId when = compiler.compile(*line.when, asker);
      ground.becomes.push_back({GroundCause{i}, line.times, when, &line});
    }
    for (const auto& line : cause.restrictions) {
      if (!applies(line)) continue;
      const ProgramId when = compiler.compile(*line.when, asker);
      ground.restrictions.push_back({GroundCause{i}, line.never, when, &line});
    }
  }
}

}  // namespace

void unroll_conditions(GroundRules& ground) {
  Compiler compiler(ground);
  compile_findings(ground, compiler);
  for (auto& distrust : ground.distrusts) {
    const auto& declaration = ground.rules->distrusts[distrust.declaration];
    distrust.when = compiler.compile(*declaration.when, Asker{});
  }
  compile_causes(ground, compiler);
}

}  // namespace slipcase::grounding

#include "advice/rule_lines.h"

#include <algorithm>

namespace slipcase::advice {

namespace {

class LineLister {
 public:
  explicit LineLister(const rulebase::Rulebase& rules) : rules_(rules) {}

  std::vector<RuleLine> list() {
    causes();
    for (const rulebase::Inside& inside : rules_.insides) shows(inside.header, inside.shows);
    checks();
    findings();
    for (std::size_t i = 0; i < rules_.at_most_one.size(); ++i)
      lines_.push_back(
          {RuleLineKind::at_most_one, {}, rules_.at_most_one[i].place, AtMostOneLine{i}});
    for (std::uint32_t d = 0; d < rules_.distrusts.size(); ++d)
      add(RuleLineKind::distrust, rules_.distrusts[d].header, rules_.distrusts[d].header.place,
          rulebase::DistrustId{d});
    std::stable_sort(lines_.begin(), lines_.end(), [](const RuleLine& a, const RuleLine& b) {
      return a.kind != b.kind ? a.kind < b.kind : a.place < b.place;
    });
    return std::move(lines_);
  }

 private:
  template <class What>
  void add(RuleLineKind kind, const rulebase::Header& of, const Place& place, What what) {
    lines_.push_back({kind, of.name, place, what});
  }

  void shows(const rulebase::Header& of, const std::vector<rulebase::Link>& links) {
    for (const rulebase::Link& link : links) add(RuleLineKind::shows, of, link.place, &link);
  }

  void causes() {
    for (std::uint32_t c = 0; c < rules_.causes.size(); ++c) {
      const rulebase::Cause& cause = rules_.causes[c];
      add(RuleLineKind::cause, cause.header, cause.header.place, rulebase::CauseId{c});
      for (const auto& line : cause.becomes)
        add(RuleLineKind::becomes, cause.header, line.place, &line);
      for (const auto& line : cause.restrictions)
        add(RuleLineKind::exclusion, cause.header, line.place, &line);
      shows(cause.header, cause.shows);
      for (const auto& line : cause.causes)
        add(RuleLineKind::then_causes, cause.header, line.place, &line);
    }
  }

  void checks() {
    for (const rulebase::Check& check : rules_.checks) {
      for (const auto& line : check.flags)
        add(RuleLineKind::flags, check.header, line.place, &line);
    }
  }

  void findings() {
    for (std::uint32_t f = 0; f < rules_.findings.size(); ++f) {
      const rulebase::Finding& finding = rules_.findings[f];
      const rulebase::FindingId id{f};
      add(RuleLineKind::finding, finding.header, finding.header.place, id);
      if (finding.when)
        add(RuleLineKind::worked_out, finding.header, (*finding.when)->place,
            WorkedOutBy{id, std::nullopt});
      for (std::size_t g = 0; g < finding.grades.size(); ++g) {
        const auto& grade = finding.grades[g];
        if (grade.when)
          add(RuleLineKind::worked_out, finding.header, (*grade.when)->place, WorkedOutBy{id, g});
      }
    }
  }

  const rulebase::Rulebase& rules_;
  std::vector<RuleLine> lines_;
};

}  // namespace

std::vector<RuleLine> lines_of(const rulebase::Rulebase& rules) { return LineLister(rules).list(); }

rulebase::Rulebase without(const rulebase::Rulebase& rules, const RuleLine& line) {
  rulebase::Rulebase changed = rules;
  if (const auto* by = std::get_if<WorkedOutBy>(&line.what)) {
    rulebase::Finding& finding = changed.findings.at(by->finding.at());
    if (by->grade) {
      finding.grades.at(*by->grade).when.reset();
    } else {
      finding.when.reset();
    }
  } else if (const auto* list = std::get_if<AtMostOneLine>(&line.what)) {
    changed.at_most_one.erase(changed.at_most_one.begin() +
                              static_cast<std::ptrdiff_t>(list->index));
  } else if (const auto* id = std::get_if<rulebase::DistrustId>(&line.what)) {
    rulebase::Distrust& distrust = changed.distrusts.at(id->at());
    distrust.sets_aside.clear();
    distrust.judge_only.clear();
    distrust.not_judged.clear();
  }
  return changed;
}

}  // namespace slipcase::advice

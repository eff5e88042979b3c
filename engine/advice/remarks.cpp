#include "advice/remarks.h"

#include <algorithm>
#include <set>

#include <fmt/core.h>

#include "evaluation/explanation.h"

namespace slipcase::advice {

namespace {

using grounding::GroundRules;

const rulebase::Header& header_of(
    const GroundRules& ground,
    const std::variant<rulebase::CheckId, rulebase::RepairId, rulebase::EventId>& step) {
  const auto& rules = *ground.rules;
  if (const auto* check = std::get_if<rulebase::CheckId>(&step))
    return rules.checks.at(check->at()).header;
  if (const auto* repair = std::get_if<rulebase::RepairId>(&step))
    return rules.repairs.at(repair->at()).header;
  return rules.events.at(std::get<rulebase::EventId>(step).at()).header;
}

template <class Named>
std::string target_name(const GroundRules& ground, const Named& named) {
  const auto& rules = *ground.rules;
  const rulebase::Header& header = std::visit(
      [&rules](auto id) -> const rulebase::Header& {
        using T = decltype(id);
        if constexpr (std::is_same_v<T, rulebase::ReadingId>) {
          return rules.readings.at(id.at()).header;
        } else if constexpr (std::is_same_v<T, rulebase::FindingId>) {
          return rules.findings.at(id.at()).header;
        } else {
          return rules.details.at(id.at()).header;
        }
      },
      named.what);
  if (!named.member || !header.scope) return header.name;
  return header.name + " of " + rules.unit.scope(*header.scope).members.at(named.member->at());
}

/// A finding by what it says: who reads it need not know the names of the rules.
template <class Named>
std::string target_says(const GroundRules& ground, const Named& named) {
  const auto* finding = std::get_if<rulebase::FindingId>(&named.what);
  const bool plain =
      finding != nullptr && !ground.rules->findings.at(finding->at()).header.scope.has_value();
  return plain ? ground.rules->findings.at(finding->at()).header.says : target_name(ground, named);
}

DistrustReport describe(const JobModel& job, std::uint32_t index) {
  const grounding::GroundDistrust& ground = job.ground().distrusts.at(index);
  const rulebase::Distrust& distrust = job.ground().rules->distrusts.at(ground.declaration);
  DistrustReport report;
  report.id = distrust.header.name;
  report.because = distrust.because;
  for (const auto& until : distrust.until) {
    const rulebase::Header& header = header_of(job.ground(), until.what);
    report.until.push_back(header.name);
    report.until_says.push_back(header.says);
  }
  for (const auto& named : distrust.sets_aside)
    report.set_aside.push_back(target_name(job.ground(), named));
  for (const auto& named : distrust.except)
    report.except.push_back(target_says(job.ground(), named));
  const auto& by = job.states().not_judged_by;
  report.causes_not_judged =
      static_cast<std::size_t>(std::count(by.begin(), by.end(), std::optional(index)));
  return report;
}

/// What the card says of the things that the condition asks. The reading of a condition is the
/// newest one's: where only older readings are set aside it says nothing.
std::vector<std::string> facts_of(evaluation::Evaluator& evaluator, const SourceSet& sources,
                                  std::uint32_t index) {
  const auto& state = evaluator.current().distrusts.at(index);
  const auto newest = static_cast<std::uint32_t>(evaluator.facts().snapshots.size() - 1);
  const bool newest_too = state.snapshots.empty() || state.snapshots.front() == newest;
  std::vector<std::string> texts;
  for (const auto& fact :
       evaluation::facts_behind(evaluator, evaluator.rules().distrusts.at(index).when)) {
    const bool is_reading = std::holds_alternative<grounding::GroundReading>(fact.what);
    if (!fact.place || (is_reading && !newest_too)) continue;
    texts.push_back(fmt::format("{} ({})", fact.text, sources.describe(*fact.place)));
  }
  return texts;
}

void add_cautions(const std::vector<rulebase::CautionId>& from, std::set<std::uint32_t>& wanted) {
  for (const rulebase::CautionId id : from) wanted.insert(id.index);
}

void add_cautions_of_findings(const JobModel& job, std::set<std::uint32_t>& wanted) {
  for (std::uint32_t f = 0; f < job.ground().findings.size(); ++f) {
    if (job.states().findings.at(f).state == evaluation::State::present)
      add_cautions(job.ground().declaration(GroundFinding{f}).cautions, wanted);
  }
}

std::vector<CautionReport> reports_of(const rulebase::Rulebase& rules,
                                      const std::set<std::uint32_t>& wanted) {
  std::vector<CautionReport> reports;
  for (const std::uint32_t id : wanted)
    reports.push_back({rules.cautions.at(id).header.name, rules.cautions[id].header.says});
  return reports;
}

}  // namespace

std::vector<CautionReport> cautions_of_findings(const JobModel& job) {
  std::set<std::uint32_t> wanted;
  add_cautions_of_findings(job, wanted);
  return reports_of(*job.ground().rules, wanted);
}

std::vector<DistrustReport> distrust_reports(const JobModel& job, evaluation::Evaluator& evaluator,
                                             const SourceSet& sources) {
  std::vector<DistrustReport> reports;
  for (std::uint32_t d = 0; d < job.states().distrusts.size(); ++d) {
    if (!job.states().distrusts[d].holds_something_back()) continue;
    reports.push_back(describe(job, d));
    reports.back().facts = facts_of(evaluator, sources, d);
  }
  return reports;
}

std::vector<std::string> contradictions(const JobModel& job, const SourceSet& sources) {
  std::vector<std::string> texts;
  for (const auto& contradiction : job.states().contradictions) {
    texts.push_back(fmt::format(
        "the answer to \"{}\" ({}) disagrees with what the card's other facts give; the "
        "answer was taken",
        job.ground().says(contradiction.finding), sources.describe(contradiction.said_at)));
  }
  for (const auto& clash : job.states().clashes) {
    std::string names;
    for (const GroundFinding finding : clash.present) {
      names += (names.empty() ? "\"" : "\" and \"") + job.ground().says(finding);
    }
    texts.push_back(fmt::format("{}\" cannot both be there; both are left out", names));
  }
  return texts;
}

std::vector<CautionReport> cautions_for(const JobModel& job,
                                        const std::vector<MissingFinding>& missing,
                                        const std::vector<DistrustReport>& distrusts) {
  std::set<std::string> steps;
  for (const auto& finding : missing)
    if (finding.matters) steps.insert(finding.check);
  for (const auto& distrust : distrusts) steps.insert(distrust.until.begin(), distrust.until.end());
  std::set<std::uint32_t> wanted;
  add_cautions_of_findings(job, wanted);
  const rulebase::Rulebase& rules = *job.ground().rules;
  for (const auto& check : rules.checks) {
    if (!steps.contains(check.header.name)) continue;
    add_cautions(check.cautions, wanted);
    for (const rulebase::AccessId access : check.needs)
      add_cautions(rules.accesses.at(access.at()).cautions, wanted);
  }
  for (const auto& repair : rules.repairs) {
    if (steps.contains(repair.header.name)) add_cautions(repair.cautions, wanted);
  }
  return reports_of(rules, wanted);
}

}  // namespace slipcase::advice

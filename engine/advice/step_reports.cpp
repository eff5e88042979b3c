#include "advice/step_reports.h"

#include <algorithm>
#include <set>

#include "grounding/reach.h"

namespace slipcase::advice {
namespace {

using grounding::GroundRules;
using rulebase::AccessId;
using rulebase::CautionId;

class Cautions {
 public:
  explicit Cautions(const rulebase::Rulebase& rules) : rules_(rules) {}

  void add(const std::vector<CautionId>& cautions) {
    for (const CautionId id : cautions) wanted_.insert(id.index);
  }
  void add(const std::vector<AccessId>& needs) {
    for (const AccessId id : needs) {
      const rulebase::Access& access = rules_.accesses.at(id.at());
      add(access.cautions);
      add(access.needs);
    }
  }
  [[nodiscard]] std::vector<CautionReport> reports() const {
    std::vector<CautionReport> list;
    for (const std::uint32_t id : wanted_)
      list.push_back({rules_.cautions.at(id).header.name, rules_.cautions[id].header.says});
    return list;
  }

 private:
  const rulebase::Rulebase& rules_;
  std::set<std::uint32_t> wanted_;
};

template <class Declared>
void describe(const GroundRules& ground, const Declared& declared, StepReport& step) {
  step.how = declared.how;
  step.minutes = declared.minutes;
  step.parts = declared.money;
  Cautions cautions(*ground.rules);
  cautions.add(declared.cautions);
  cautions.add(declared.needs);
  step.cautions = cautions.reports();
}

/// A step of which no more is said than its name.
StepReport plain_step(StepKind kind, std::string id, std::string says) {
  StepReport step;
  step.kind = kind;
  step.id = std::move(id);
  step.says = std::move(says);
  return step;
}

StepReport report_step(const JobModel& job, grounding::GroundEvent event) {
  const GroundRules& ground = job.ground();
  return plain_step(StepKind::event, ground.name_of(event), ground.says(event));
}

std::string level_text(const JobModel& job, const network::Observation& seen) {
  if (seen.at_least == 0) return "no";
  const rulebase::Finding& declared = job.ground().declaration(GroundFinding{seen.finding.index});
  const std::string grade = grade_text(declared, seen.at_least, seen.at_most);
  return grade.empty() ? "yes" : grade;
}

}  // namespace

StepReport report_step(const JobModel& job, GroundCheck check) {
  const GroundRules& ground = job.ground();
  StepReport step = plain_step(StepKind::check, ground.name_of(check), ground.says(check));
  describe(ground, ground.rules->checks.at(ground.checks.origins.at(check.at()).declaration), step);
  return step;
}

StepReport report_step(const JobModel& job, GroundRepair repair) {
  const GroundRules& ground = job.ground();
  StepReport step = plain_step(StepKind::repair, ground.name_of(repair), ground.says(repair));
  describe(ground, ground.rules->repairs.at(ground.repairs.origins.at(repair.at()).declaration),
           step);
  return step;
}

StepReport report_question(const JobModel& job, GroundFinding finding) {
  StepReport step =
      plain_step(StepKind::question, job.ground().name_of(finding), job.ground().asks(finding));
  step.minutes = minutes_to_ask;
  return step;
}

std::vector<StepReport> report_before(const JobModel& job, const Workshop& shop,
                                      GroundRepair repair) {
  std::vector<StepReport> before;
  for (const Workshop::Step& step : shop.not_done_before(repair)) {
    before.push_back(std::visit([&](auto missing) { return report_step(job, missing); }, step));
    const auto* check = std::get_if<GroundCheck>(&step);
    if (check == nullptr) continue;
    before.back().still_missing = shop.controllers_missing(*check);
    for (const grounding::GroundReading reading : shop.still_missing(*check))
      before.back().still_missing.push_back(reading_text(job, reading));
  }
  return before;
}

std::vector<StepReport> report_after(const JobModel& job, GroundRepair repair) {
  const GroundRules& ground = job.ground();
  const auto& origin = ground.repairs.origins.at(repair.at());
  std::vector<StepReport> after;
  for (const auto& target : ground.rules->repairs.at(origin.declaration).follow_with) {
    for (const auto member : grounding::reached(ground.rules->unit, target.reach, origin.member)) {
      if (const auto* check = std::get_if<rulebase::CheckId>(&target.what))
        after.push_back(report_step(job, GroundCheck{ground.checks.at(check->index, member)}));
      if (const auto* other = std::get_if<rulebase::RepairId>(&target.what))
        after.push_back(report_step(job, GroundRepair{ground.repairs.at(other->index, member)}));
    }
  }
  return after;
}

void add_new(std::vector<StepReport> steps, std::vector<StepReport>& list) {
  for (StepReport& step : steps) {
    const auto same = [&](const StepReport& other) { return other.id == step.id; };
    if (std::ranges::none_of(list, same)) list.push_back(std::move(step));
  }
}

std::vector<std::string> answer_texts(const JobModel& job,
                                      std::span<const network::Observation> answers) {
  std::vector<std::string> texts;
  for (const network::Observation& seen : answers) texts.push_back(level_text(job, seen));
  return texts;
}

namespace {

class FirstThings {
 public:
  FirstThings(const JobModel& job, const Workshop& shop) : job_(job), shop_(shop) {}

  void add(GroundCheck check, const std::string& because) {
    if (!shop_.done(check)) add({report_step(job_, check), because, {}, 0.0});
  }
  void add(GroundRepair repair, const std::string& because) {
    if (!shop_.done(repair))
      add({report_step(job_, repair), because, report_before(job_, shop_, repair), 0.0});
  }
  /// What only looks comes first.
  std::vector<FirstThing> take() {
    std::stable_partition(things_.begin(), things_.end(),
                          [](const auto& t) { return t.step.kind == StepKind::check; });
    return std::move(things_);
  }

 private:
  void add(FirstThing thing) {
    const auto same = [&](const FirstThing& t) { return t.step.id == thing.step.id; };
    if (std::ranges::none_of(things_, same)) things_.push_back(std::move(thing));
  }

  const JobModel& job_;
  const Workshop& shop_;
  std::vector<FirstThing> things_;
};

const rulebase::Distrust& declared(const JobModel& job, std::uint32_t distrust) {
  const GroundRules& ground = job.ground();
  return ground.rules->distrusts.at(ground.distrusts.at(distrust).declaration);
}

}  // namespace

std::vector<GroundCheck> first_checks(const JobModel& job, const Workshop& shop) {
  std::vector<GroundCheck> checks;
  for (std::uint32_t d = 0; d < job.states().distrusts.size(); ++d) {
    if (!job.states().distrusts[d].holds_something_back()) continue;
    for (const auto& until : declared(job, d).until) {
      const auto* check = std::get_if<rulebase::CheckId>(&until.what);
      if (check == nullptr) continue;
      const GroundCheck id{job.ground().checks.at(check->index, until.member)};
      if (!shop.done(id) && std::ranges::find(checks, id) == checks.end()) checks.push_back(id);
    }
  }
  return checks;
}

std::vector<bool> judged_after(const JobModel& job, const std::vector<GroundRepair>& repairs) {
  std::vector<bool> judged(job.ground().causes.size(), true);
  for (std::uint32_t d = 0; d < job.states().distrusts.size(); ++d) {
    if (job.states().distrusts[d].applies != evaluation::Truth::yes) continue;
    const bool ended = std::ranges::any_of(declared(job, d).until, [&](const auto& until) {
      const auto* repair = std::get_if<rulebase::RepairId>(&until.what);
      return repair != nullptr &&
             std::ranges::find(repairs, GroundRepair{job.ground().repairs.at(
                                            repair->index, until.member)}) != repairs.end();
    });
    for (std::size_t c = 0; c < judged.size() && !ended; ++c)
      if (job.ground().distrusts.at(d).not_judged[c]) judged[c] = false;
  }
  return judged;
}

std::string reading_text(const JobModel& job, grounding::GroundReading reading) {
  std::string name = job.ground().name_of(reading);
  std::ranges::replace(name, '_', ' ');
  return name;
}

std::vector<GroundRepair> first_repairs(const JobModel& job, const Workshop& shop) {
  std::vector<GroundRepair> repairs;
  const GroundRules& ground = job.ground();
  for (std::uint32_t d = 0; d < job.states().distrusts.size(); ++d) {
    if (!job.states().distrusts[d].holds_something_back()) continue;
    const auto& distrust = declared(job, d);
    for (const auto& until : distrust.until) {
      const auto* repair = std::get_if<rulebase::RepairId>(&until.what);
      if (repair == nullptr) continue;
      const GroundRepair id{ground.repairs.at(repair->index, until.member)};
      if (!shop.done(id) && std::ranges::find(repairs, id) == repairs.end()) repairs.push_back(id);
      break;  // any one of them ends the distrust
    }
  }
  return repairs;
}

std::vector<FirstThing> first_things(const JobModel& job, const Workshop& shop) {
  FirstThings things(job, shop);
  const GroundRules& ground = job.ground();
  for (std::uint32_t d = 0; d < job.states().distrusts.size(); ++d) {
    if (!job.states().distrusts[d].holds_something_back()) continue;
    const auto& distrust = declared(job, d);
    for (const auto& until : distrust.until) {
      if (const auto* check = std::get_if<rulebase::CheckId>(&until.what))
        things.add(GroundCheck{ground.checks.at(check->index, until.member)}, distrust.because);
      if (const auto* repair = std::get_if<rulebase::RepairId>(&until.what))
        things.add(GroundRepair{ground.repairs.at(repair->index, until.member)}, distrust.because);
    }
  }
  return things.take();
}

}  // namespace slipcase::advice

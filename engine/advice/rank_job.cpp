#include "advice/rank_job.h"

#include <algorithm>
#include <cmath>

#include "advice/card_gaps.h"
#include "advice/chain.h"
#include "advice/how_sure.h"
#include "advice/missing.h"
#include "advice/remarks.h"
#include "advice/stories.h"
#include "advice/tried.h"
#include "advice/ways.h"
#include "network/combinations.h"
#include "support/sort_key.h"

namespace slipcase::advice {

namespace {

using network::HiddenId;
using network::Posterior;

RankedCause describe(const JobModel& job, GroundCause cause, const Posterior& prior,
                     const Posterior& posterior) {
  RankedCause ranked;
  ranked.id = job.ground().name_of(cause);
  ranked.says = job.ground().says(cause);
  const auto group = job.ground().declaration(cause).group;
  if (group) ranked.group = job.ground().rules->groups.at(group->at()).name;
  ranked.prior = job.chance(prior, cause);
  ranked.chance = job.chance(posterior, cause);
  ranked.possible = job.states().possible.at(cause.at());
  ranked.judged = job.states().judged.at(cause.at());
  ranked.raised = is_raised(ranked.prior, ranked.chance);
  if (const auto distrust = job.states().not_judged_by.at(cause.at())) {
    const auto& ground = job.ground().distrusts.at(*distrust);
    ranked.not_judged_because = job.ground().rules->distrusts.at(ground.declaration).because;
  }
  return ranked;
}

std::vector<HiddenId> members_of(const JobModel& job, std::optional<rulebase::GroupId> group) {
  std::vector<HiddenId> members;
  for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c) {
    const GroundCause cause{c};
    if (!group || job.ground().declaration(cause).group == group)
      members.push_back(job.hidden(cause));
  }
  return members;
}

std::vector<GroupChance> group_chances(JobModel& job, double log_evidence) {
  std::vector<GroupChance> chances;
  const auto& groups = job.ground().rules->groups;
  for (std::uint32_t g = 0; g < groups.size(); ++g) {
    const auto members = members_of(job, rulebase::GroupId{g});
    const auto none = network::chance_none(job.solver(), job.evidence(), log_evidence, members);
    if (none) chances.push_back({groups[g].name, none->inverted()});
  }
  std::stable_sort(chances.begin(), chances.end(), [](const GroupChance& a, const GroupChance& b) {
    const double first = sort_key(a.chance.value());
    const double second = sort_key(b.chance.value());
    return first != second ? first > second : a.group < b.group;
  });
  return chances;
}

std::vector<InsteadCause> instead_of(JobModel& job, GroundCause first) {
  network::Evidence evidence = job.evidence();
  evidence.held.push_back({job.hidden(first), false});
  const network::Outcome outcome = job.solver().solve(evidence);
  const auto* posterior = std::get_if<Posterior>(&outcome);
  if (posterior == nullptr) return {};  // the first cause is certain
  std::vector<InsteadCause> list;
  for (const GroundCause cause : by_chance(job, *posterior)) {
    if (cause == first) continue;
    list.push_back(
        {job.ground().name_of(cause), job.ground().says(cause), job.chance(*posterior, cause)});
  }
  return list;
}

std::vector<Combination> combinations(JobModel& job, std::size_t how_many) {
  std::vector<Combination> list;
  for (const auto& found :
       network::most_probable_combinations(job.solver(), job.evidence(), how_many)) {
    Combination combination;
    combination.chance = found.chance;
    for (const HiddenId id : found.causes) {
      combination.causes.push_back(
          job.ground().name_of(std::get<GroundCause>(job.rules().origin.at(id.at()))));
    }
    std::sort(combination.causes.begin(), combination.causes.end());
    list.push_back(std::move(combination));
  }
  return list;
}

void fill_stories(const JobModel& job, const Stories& stories, Ranking& ranking) {
  const grounding::GroundRules& ground = job.ground();
  const auto ranked = [&](GroundCause cause) -> RankedCause& {
    const std::string name = ground.name_of(cause);
    return *std::find_if(ranking.causes.begin(), ranking.causes.end(),
                         [&name](const RankedCause& r) { return r.id == name; });
  };
  for (const Making& making : stories.makings()) {
    RankedCause& origin = ranked(making.origin);
    RankedCause& consequence = ranked(making.consequence);
    origin.consequences.push_back({consequence.id, making.chance});
    consequence.origins.push_back({origin.id, making.chance});
    ranking.chains.push_back({origin.id, consequence.id, making.chance});
  }
  for (const StoryLine& line : stories.lines()) {
    Story story{ground.name_of(line.start), {}};
    for (const GroundCause cause : line.then) story.then.push_back(ground.name_of(cause));
    ranking.stories.push_back(std::move(story));
  }
  if (const auto first = stories.first()) ranking.first = ground.name_of(*first);
}

void fill_evidence(JobModel& job, const Posterior& posterior, GroundCause cause, Ranking& ranking) {
  constexpr double says_nothing = 0.05;  // five in a hundred on the odds
  const auto answer = short_chain_for(job, job.hidden(cause), posterior);
  const auto* chain = std::get_if<ShortChain>(&answer);
  if (chain == nullptr) return;
  ranking.other_evidence = chain->log_factor_of_rest;
  for (const ShortLink& link : chain->linked) {
    if (std::fabs(link.log_factor) < says_nothing) continue;
    if (link.complaint_stayed) {
      ranking.evidence.push_back({complaint_stayed, job.tried().says(job.ground()),
                                  FindingState::present, 0, link.log_factor});
      continue;
    }
    const FindingReport finding = report(job, GroundFinding{link.observation.finding.index});
    ranking.evidence.push_back(
        {finding.id, finding.says, finding.state, link.more, link.log_factor});
  }
  std::stable_sort(ranking.evidence.begin(), ranking.evidence.end(),
                   [](const slipcase::Evidence& a, const slipcase::Evidence& b) {
                     return sort_key(std::fabs(a.log_factor)) > sort_key(std::fabs(b.log_factor));
                   });
}

struct Chances {
  const Posterior& before;
  const Posterior& now;
};

/// What leans on the cause to start with, and what to find out next.
void fill_advice(JobModel& job, const Stories& stories, evaluation::Evaluator& evaluator,
                 const Chances& chances, const SourceSet& sources, const RankOptions& options,
                 Ranking& ranking) {
  fill_stories(job, stories, ranking);
  if (const auto first = stories.first()) {
    ranking.instead = instead_of(job, *first);
    fill_evidence(job, chances.now, *first, ranking);
  }
  const Ways ways(job.ground(), &evaluator.facts());
  OpenRules open = open_rules(job, evaluator, ways, chances.now, sources);
  ranking.undecided = std::move(open.rules);
  ranking.card_gaps = std::move(open.gaps);
  ranking.missing =
      missing_findings(job, ways, stories, chances.before, chances.now, options.missing);
  ranking.cautions = cautions_for(job, ranking.missing, ranking.distrusts);
}

/// `ranking.causes` are in the order of by_chance().
void fill_spreads(JobModel& job, const Stories& stories, const Posterior& posterior,
                  const RankOptions& options, Ranking& ranking) {
  const std::vector<Spread> spreads = how_sure(job, stories, options.draws, options.seed);
  if (spreads.empty()) return;
  ranking.draws = options.draws;
  ranking.seed = options.seed;
  const std::vector<GroundCause> order = by_chance(job, posterior);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const Spread& spread = spreads.at(order[i].at());
    ranking.causes[i].low = spread.low;
    ranking.causes[i].high = spread.high;
    ranking.causes[i].first = spread.first;
  }
}

std::vector<FindingReport> finding_reports(const JobModel& job, const JobTitle& title) {
  std::vector<FindingReport> list;
  for (std::uint32_t f = 0; f < job.ground().findings.size(); ++f) {
    const GroundFinding finding{f};
    FindingReport entry = report(job, finding);
    const auto& complaint = title.complaint_findings;
    entry.complaint = std::find(complaint.begin(), complaint.end(), finding) != complaint.end();
    list.push_back(std::move(entry));
  }
  return list;
}

}  // namespace

std::vector<GroundCause> by_chance(const JobModel& job, const Posterior& posterior) {
  struct Entry {
    GroundCause cause;
    double chance;
    std::string name;
  };
  std::vector<Entry> entries;
  for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c) {
    const GroundCause cause{c};
    entries.push_back(
        {cause, sort_key(job.chance(posterior, cause).value()), job.ground().name_of(cause)});
  }
  std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) {
    return a.chance != b.chance ? a.chance > b.chance : a.name < b.name;
  });
  std::vector<GroundCause> order;
  for (const Entry& entry : entries) order.push_back(entry.cause);
  return order;
}

std::optional<GroundCause> first_judged(const JobModel& job, const Posterior& posterior) {
  for (const GroundCause cause : by_chance(job, posterior)) {
    if (job.states().judged.at(cause.at())) return cause;
  }
  return std::nullopt;
}

RankResult rank_job(JobModel& job, evaluation::Evaluator& evaluator, const JobTitle& title,
                    const SourceSet& sources, const RankOptions& options) {
  const auto solved = job.solve(job.evidence());
  const auto before = job.prior();
  for (const auto* answer : {&solved, &before}) {
    const auto* failure = std::get_if<Failure>(answer);
    if (failure != nullptr)
      return std::visit([](const auto& f) -> RankResult { return f; }, *failure);
  }
  const auto& posterior = std::get<Posterior>(solved);
  const auto& prior = std::get<Posterior>(before);

  Ranking ranking;
  ranking.job = title.job;
  ranking.unit = title.unit;
  ranking.complaint = title.complaint;
  for (const grounding::GroundRepair repair : job.tried().repairs)
    ranking.tried.push_back({job.ground().name_of(repair), job.ground().says(repair)});
  if (const auto repair = repair_that_ended(evaluator.facts()))
    ranking.gone_with = job.ground().says(*repair);
  ranking.learned_from_tried = !job.tried().failed.empty();
  for (const GroundCause cause : by_chance(job, posterior)) {
    ranking.causes.push_back(describe(job, cause, prior, posterior));
  }
  const Stories stories(job, prior, posterior);
  fill_spreads(job, stories, posterior, options, ranking);
  if (options.groups) ranking.groups = group_chances(job, posterior.log_evidence);
  ranking.nothing_listed = network::chance_none(job.solver(), job.evidence(),
                                                posterior.log_evidence, members_of(job, {}))
                               .value_or(Probability::never());
  ranking.log_evidence = posterior.log_evidence;
  ranking.width = posterior.width;
  ranking.combinations = combinations(job, options.combinations);
  ranking.findings = finding_reports(job, title);
  ranking.distrusts = distrust_reports(job, evaluator, sources);
  ranking.contradictions = contradictions(job, sources);
  fill_advice(job, stories, evaluator, {prior, posterior}, sources, options, ranking);
  return ranking;
}

}  // namespace slipcase::advice

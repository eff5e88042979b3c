#include "advice/explain.h"

#include <algorithm>
#include <cmath>
#include <set>

#include <fmt/core.h>

#include "advice/against.h"
#include "advice/chain.h"
#include "advice/outlook.h"
#include "advice/paths.h"
#include "advice/stories.h"
#include "advice/tipping.h"
#include "evaluation/explanation.h"
#include "support/near_names.h"
#include "support/sort_key.h"
#include "support/suggest.h"

namespace slipcase::advice {

namespace {

using grounding::GroundInside;
using network::HiddenId;
using network::Posterior;

std::string graded_counts(const rulebase::GradedLine& line,
                          const std::vector<rulebase::GradeLine>& grades) {
  std::string text;
  for (std::size_t g = 0; g < line.at_least.size(); ++g) {
    if (!line.at_least[g]) continue;
    const bool strongest = g + 1 == line.at_least.size();
    const std::string grade =
        grades.empty() ? "" : grades.at(g).name + (strongest ? " " : " or more ");
    text += (text.empty() ? "" : ", ") + grade + "in " + line.at_least[g]->text();
  }
  return text;
}

std::string line_counts(const model::LinkLine& line,
                        const std::vector<rulebase::GradeLine>& grades) {
  if (const auto* link = std::get_if<const rulebase::Link*>(&line))
    return graded_counts((*link)->count, grades);
  if (const auto* cause = std::get_if<const rulebase::CauseLink*>(&line))
    return "in " + (*cause)->count.count.text();
  const auto* flag = std::get<const rulebase::Flag*>(line);
  return fmt::format("in {} bad and {} good", flag->bad.text(), flag->good.text());
}

Place line_place(const model::LinkLine& line) {
  return std::visit([](const auto* l) { return l->place; }, line);
}

std::string line_because(const model::LinkLine& line) {
  if (const auto* link = std::get_if<const rulebase::Link*>(&line)) return (*link)->because;
  if (const auto* cause = std::get_if<const rulebase::CauseLink*>(&line)) return (*cause)->because;
  return {};
}

/// What the rules say links a cause and a finding.
struct LinkText {
  std::string counts;
  std::string rule;
  std::string because;
  std::string through;
};

class Explainer {
 public:
  Explainer(JobModel& job, evaluation::Evaluator& evaluator, const SourceSet& sources,
            GroundCause cause, const Posterior& posterior)
      : job_(job),
        evaluator_(evaluator),
        sources_(sources),
        cause_(cause),
        posterior_(posterior),
        paths_(job.rules(), job.hidden(cause)) {}

  std::optional<Failure> fill(Reasons& reasons) {
    fill_rate(reasons);
    const auto chain = chain_for(job_, job_.hidden(cause_));
    if (const auto* failure = std::get_if<Failure>(&chain)) return *failure;
    fill_chain(reasons, std::get<Chain>(chain));
    fill_unknown(reasons);
    fill_makers(reasons);
    fill_competitors(reasons);
    return std::nullopt;
  }

 private:
  LinkText link_text(GroundFinding finding) const {
    const auto path = paths_.to(finding);
    if (!path) return {};
    const auto& grades = job_.ground().declaration(finding).grades;
    LinkText text;
    text.rule = sources_.describe(line_place(path->front().line));
    text.because = line_because(path->front().line);
    if (path->size() == 1) {
      text.counts = line_counts(path->front().line, grades) + " jobs with it";
    } else {
      text.through = insides_on(*path);
      text.counts =
          counts_along(*path) + ", and that shows it " + line_counts(path->back().line, grades);
    }
    text.counts += fmt::format("; without any listed cause {:.2g} of 100",
                               100.0 * job_.rules().numbers.findings[finding.at()].leak[0].value());
    return text;
  }

  /// "K2 slips, then The controller no longer believes it"
  std::string insides_on(const LinkPath& path) const {
    std::string text;
    for (std::size_t i = 1; i < path.size(); ++i) {
      text += (text.empty() ? "" : ", then ") +
              std::visit([this](auto id) { return job_.ground().says(id); }, path[i].from);
    }
    return text;
  }

  /// "in 6 of 10, of these in 5 of 10": up to the last inside.
  static std::string counts_along(const LinkPath& path) {
    std::string text;
    for (std::size_t i = 0; i + 1 < path.size(); ++i)
      text += (text.empty() ? "" : ", of these ") + line_counts(path[i].line, {});
    return text;
  }

  void fill_rate(Reasons& reasons) const {
    const auto& ground = job_.ground();
    reasons.found = job_.rules().numbers.hidden.at(job_.hidden(cause_).at()).own;
    for (std::size_t i = 0; i < ground.becomes.size(); ++i) {
      const auto& line = ground.becomes[i];
      if (line.cause != cause_ || job_.states().becomes[i] != evaluation::Truth::yes) continue;
      reasons.rate_steps.push_back({std::string(sources_.text_at(line.line->when->place)),
                                    line.times, sources_.describe(line.line->place)});
    }
    for (std::size_t i = 0; i < ground.restrictions.size(); ++i) {
      const auto& line = ground.restrictions[i];
      const auto ruled_out = line.never ? evaluation::Truth::yes : evaluation::Truth::no;
      if (line.cause != cause_ || job_.states().restrictions[i] != ruled_out) continue;
      reasons.impossible_because = fmt::format(
          "{} {} ({})", line.never ? "never when" : "possible only when",
          sources_.text_at(line.line->when->place), sources_.describe(line.line->place));
    }
  }

  void fill_chain(Reasons& reasons, const Chain& chain) {
    reasons.prior = chain.before;
    reasons.chance = chain.after;
    const std::vector<Probability> without = chances_without(chain);
    for (std::size_t i = 0; i < chain.links.size(); ++i) {
      if (chain.links[i].complaint_stayed) {
        reasons.chain.push_back(stayed_step(chain.links[i].log_factor, without[i]));
        continue;
      }
      const GroundFinding finding{chain.links[i].observation.finding.index};
      const FindingReport state = report(job_, finding);
      const LinkText text = link_text(finding);
      ReasonStep step{
          state.id,         state.says, state.state, state.grade,  chain.links[i].log_factor,
          without[i],       text.rule,  text.counts, text.because, text.through,
          said_at(finding), {},         {}};
      if (state.state == FindingState::absent && !text.rule.empty()) {
        reasons.expected_not_seen.push_back({state.id, state.says, text.counts, {}, {}, true});
      }
      if (state.worked_out) add_facts(finding, step);
      reasons.chain.push_back(std::move(step));
    }
  }

  [[nodiscard]] ReasonStep stayed_step(double log_factor, Probability without) const {
    ReasonStep step;
    step.finding = complaint_stayed;
    step.says = job_.tried().says(job_.ground());
    step.state = FindingState::present;
    step.log_factor = log_factor;
    step.chance_without = without;
    step.said_at = sources_.describe(job_.tried().places.front());
    return step;
  }

  // The condition of the grade that holds, or of the weakest that does not.
  void add_facts(GroundFinding finding, ReasonStep& step) {
    const evaluation::Explanation why = evaluation::explain(evaluator_, finding);
    const std::uint32_t wanted = std::max<std::uint32_t>(why.state.at_least, 1);
    for (const evaluation::GradeExplanation& grade : why.grades) {
      if (grade.grade != wanted) continue;
      step.worked_out_by = sources_.describe(grade.place);
      for (const evaluation::ConditionPart& part : grade.parts) {
        for (const evaluation::FactUsed& fact : part.facts) add_fact(fact, step);
      }
    }
  }

  void add_fact(const evaluation::FactUsed& fact, ReasonStep& step) const {
    const bool known = std::any_of(step.facts.begin(), step.facts.end(),
                                   [&](const UsedFact& other) { return other.text == fact.text; });
    if (known) return;
    step.facts.push_back({fact.text, fact.place ? sources_.describe(*fact.place) : std::string()});
  }

  std::string said_at(GroundFinding finding) const {
    const auto place = job_.states().findings.at(finding.at()).said_at;
    return place ? sources_.describe(*place) : std::string();
  }

  std::vector<Probability> chances_without(const Chain& chain) {
    std::vector<network::Evidence> evidence;
    for (const ChainLink& left_out : chain.links) {
      network::Evidence rest = job_.evidence();
      std::erase_if(rest.findings, [&](const auto& o) {
        return !left_out.complaint_stayed && o.finding == left_out.observation.finding;
      });
      evidence.push_back(std::move(rest));
    }
    std::vector<Probability> chances;
    const auto add = [&](const network::Outcome& outcome) {
      const auto* posterior = std::get_if<Posterior>(&outcome);
      chances.push_back(posterior != nullptr ? job_.chance(*posterior, cause_) : chain.after);
    };
    for (const network::Outcome& outcome : job_.solver().solve_batch(evidence)) add(outcome);
    for (std::size_t i = 0; i < chain.links.size(); ++i) {
      if (!chain.links[i].complaint_stayed) continue;
      add(job_.solver_before_repairs().solve(job_.evidence_before_repairs()));
      chances[i] = chances.back();
      chances.pop_back();
    }
    return chances;
  }

  void fill_unknown(Reasons& reasons) {
    std::vector<GroundFinding> open;
    for (std::uint32_t f = 0; f < job_.ground().findings.size(); ++f) {
      if (is_open(job_, GroundFinding{f}) && paths_.to(GroundFinding{f})) open.push_back({f});
    }
    const auto ahead = outlooks(job_, posterior_, open);
    for (std::size_t i = 0; i < open.size(); ++i) {
      if (!ahead[i]) continue;
      const std::size_t h = job_.hidden(cause_).at();
      reasons.unknown.push_back({job_.ground().name_of(open[i]), job_.ground().says(open[i]),
                                 link_text(open[i]).counts, ahead[i]->if_yes[h], ahead[i]->if_no[h],
                                 false});
    }
    const auto swing = [](const OpenLink& link) {
      return std::fabs(link.if_yes.value() - link.if_no.value());
    };
    std::stable_sort(reasons.unknown.begin(), reasons.unknown.end(),
                     [&](const OpenLink& a, const OpenLink& b) {
                       return sort_key(swing(a)) > sort_key(swing(b));
                     });
  }

  void fill_makers(Reasons& reasons) const {
    const auto& network = job_.rules().numbers;
    const auto& hidden = network.hidden.at(job_.hidden(cause_).at());
    for (const auto& link : hidden.parents) {
      const Probability present = posterior_.hidden.at(link.parent.at());
      const auto* maker = std::get_if<GroundCause>(&job_.rules().origin.at(link.parent.at()));
      if (maker == nullptr || present.value() < 0.01) continue;
      reasons.made_by.push_back(job_.ground().name_of(*maker));
    }
  }

  // Causes that can make appear what is there and stand at least at one in a hundred.
  void fill_competitors(Reasons& reasons) const {
    constexpr double worth_naming = 0.01;
    for (const GroundCause other : by_chance(job_, posterior_)) {
      if (other == cause_ || job_.chance(posterior_, other).value() < worth_naming) continue;
      const PathFinder paths(job_.rules(), job_.hidden(other));
      const bool shares =
          std::any_of(job_.observations().begin(), job_.observations().end(),
                      [&](const network::Observation& observation) {
                        const GroundFinding finding{observation.finding.index};
                        return observation.at_least > 0 && paths.to(finding) && paths_.to(finding);
                      });
      if (shares) reasons.competitors.push_back(job_.ground().name_of(other));
    }
  }

  JobModel& job_;
  evaluation::Evaluator& evaluator_;
  const SourceSet& sources_;
  GroundCause cause_;
  const Posterior& posterior_;
  PathFinder paths_;
};

/// By id, or by the text that people see.
std::optional<GroundCause> cause_named(const JobModel& job, std::string_view wanted) {
  if (const auto cause = job.ground().find_cause(wanted)) return cause;
  for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c) {
    if (job.ground().says(GroundCause{c}) == wanted) return GroundCause{c};
  }
  return std::nullopt;
}

UnknownCause nearest_causes(const JobModel& job, std::string_view wanted) {
  std::vector<std::string> names;
  for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c)
    names.push_back(job.ground().name_of(GroundCause{c}));
  UnknownCause unknown{std::string(wanted), {}};
  if (const auto near = suggest(wanted, names)) unknown.nearest.emplace_back(*near);
  for (const std::string& name : names) {
    // "lining_worn" alone, or "K2" alone, stands for several.
    const bool part = !wanted.empty() && name.find(wanted) != std::string::npos;
    if (part && (unknown.nearest.empty() || unknown.nearest.front() != name))
      unknown.nearest.push_back(name);
  }
  if (unknown.nearest.empty()) unknown.nearest = near_names(wanted, names).names;
  return unknown;
}

}  // namespace

ReasonsResult explain_cause(JobModel& job, evaluation::Evaluator& evaluator, const JobTitle& title,
                            std::string_view wanted, std::string_view against,
                            std::size_t most_tipping, const SourceSet& sources) {
  const auto as_result = [](const Failure& failure) {
    return std::visit([](const auto& f) -> ReasonsResult { return f; }, failure);
  };
  const auto solved = job.solve(job.evidence());
  if (const auto* failure = std::get_if<Failure>(&solved)) return as_result(*failure);
  const auto& posterior = std::get<Posterior>(solved);
  const auto before = job.prior();
  if (const auto* failure = std::get_if<Failure>(&before)) return as_result(*failure);
  const Stories stories(job, std::get<Posterior>(before), posterior);
  const auto first = stories.leader(job, posterior.hidden);
  const auto cause = wanted.empty() ? first : cause_named(job, wanted);
  if (!cause) return nearest_causes(job, wanted);

  Reasons reasons;
  reasons.job = title.job;
  reasons.cause = job.ground().name_of(*cause);
  reasons.says = job.ground().says(*cause);
  const auto order = by_chance(job, posterior);
  reasons.place =
      static_cast<std::size_t>(std::find(order.begin(), order.end(), *cause) - order.begin()) + 1;
  reasons.possible = job.states().possible.at(cause->at());
  reasons.judged = job.states().judged.at(cause->at());
  if (const auto distrust = job.states().not_judged_by.at(cause->at())) {
    const auto& ground = job.ground().distrusts.at(*distrust);
    reasons.not_judged_because = job.ground().rules->distrusts.at(ground.declaration).because;
  }
  if (const auto repair = job.tried().put_right(job.rules(), job.hidden(*cause)))
    reasons.put_right_by = job.ground().says(*repair);
  Explainer explainer(job, evaluator, sources, *cause, posterior);
  if (const auto failure = explainer.fill(reasons)) return as_result(*failure);
  reasons.leads = cause == first && reasons.judged;
  if (reasons.leads) {
    reasons.tipping = tipping_counts(job, stories, most_tipping, sources);
    reasons.tipping_answers = tipping_answers(job, stories, posterior);
  }
  if (against.empty()) return reasons;
  const auto other = cause_named(job, against);
  if (!other) return nearest_causes(job, against);
  if (other == cause) return UnknownCause{reasons.cause, reasons.competitors, true};
  auto apart = tell_apart(job, Ways(job.ground(), &evaluator.facts()), posterior, *cause, *other);
  if (const auto* failure = std::get_if<Failure>(&apart)) return as_result(*failure);
  reasons.against = std::move(std::get<Against>(apart));
  return reasons;
}

}  // namespace slipcase::advice

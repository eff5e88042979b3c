#include "advice/trial_coverage.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "advice/judge_trial.h"
#include "advice/number_change.h"
#include "evaluation/evaluator.h"

namespace slipcase::advice {

namespace {

using evaluation::Evaluation;
using evaluation::Evaluator;
using evaluation::Truth;
using network::Posterior;
using Expectation = rulebase::TrialExpectation;

constexpr double least_change = 0.01;
/// What can move nothing by this is not solved again; the estimate is rough, hence the distance.
constexpr double least_reach = least_change / 10.0;
/// Networks held in memory at once.
constexpr std::size_t batch = 64;

bool same_state(const evaluation::FindingState& a, const evaluation::FindingState& b) {
  return a.state == b.state && a.at_least == b.at_least && a.at_most == b.at_most;
}

/// A trial's job as the whole rules see it, and what the trial looks at.
struct Base {
  const rulebase::Trial* trial = nullptr;
  const evaluation::JobFacts* facts = nullptr;
  Evaluation states;
  Posterior posterior;
  std::vector<network::HiddenId> named;  // whose chances it looks at
  std::vector<GroundFinding> findings;   // whose states it looks at
  std::vector<GroundCause> not_judged;
};

/// Does the trial depend on the line? Only if its chances move by this change.
struct Question {
  std::size_t line = 0;
  NumberChange change;
};

class CoverageFinder {
 public:
  CoverageFinder(const model::RuleNetwork& rules, std::size_t memory_bytes)
      : rules_(rules),
        memory_bytes_(memory_bytes),
        lines_(lines_of(*rules.rules->rules)),
        depended_on_(lines_.size(), false) {}

  void find(std::span<const TriedTrial> tried) {
    Evaluator evaluator(rules_.rules);
    for (const TriedTrial& one : tried) add(one, evaluator);
    pending_.resize(bases_.size());
    for (std::size_t i = 0; i < lines_.size(); ++i) try_conditions(i);
    for (const std::size_t b : narrowest_first()) try_numbers(b);
  }

  [[nodiscard]] TrialCoverage report(const SourceSet& sources) const {
    TrialCoverage coverage{least_change, {}, {}};
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      const RuleLine& line = lines_[i];
      if (coverage.kinds.empty() || coverage.kinds.back().kind != line.kind)
        coverage.kinds.push_back({line.kind, 0, 0});
      ++coverage.kinds.back().lines;
      if (depended_on_[i]) {
        ++coverage.kinds.back().depended_on;
      } else {
        coverage.untried.push_back(
            {line.kind, line.of, one_line(sources, line.place), sources.describe(line.place)});
      }
    }
    return coverage;
  }

 private:
  [[nodiscard]] JobModel model_of(const Base& base) const {
    return {rules_, base.states, memory_bytes_, tried_in_vain(rules_, base.states, *base.facts)};
  }

  void add(const TriedTrial& tried, Evaluator& evaluator) {
    Base base{tried.trial, &tried.facts, evaluator.evaluate(tried.facts), {}, {}, {}, {}};
    JobModel job = model_of(base);
    auto solved = job.solve(job.evidence());
    auto* posterior = std::get_if<Posterior>(&solved);
    if (posterior == nullptr) return;
    base.posterior = std::move(*posterior);
    for (const Expectation& line : tried.trial->expectations) {
      for (const auto& at : causes_in(line))
        base.named.push_back(job.hidden(ground_cause(job.ground(), at)));
      if (const auto* state = std::get_if<Expectation::State>(&line.what))
        base.findings.push_back(ground_finding(job.ground(), *state));
      if (const auto* not_judged = std::get_if<Expectation::NotJudged>(&line.what))
        base.not_judged.push_back(ground_cause(job.ground(), not_judged->cause));
    }
    bases_.push_back(std::move(base));
  }

  /// What a cheap job depends on need not be asked of a dear one.
  [[nodiscard]] std::vector<std::size_t> narrowest_first() const {
    std::vector<std::size_t> order(bases_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [this](std::size_t a, std::size_t b) {
      return bases_[a].posterior.width < bases_[b].posterior.width;
    });
    return order;
  }

  // --- conditions: the rules without the line, evaluated anew ---------------------------------

  [[nodiscard]] bool matters(const RuleLine& line, const Base& base) const {
    const grounding::GroundRules& ground = *rules_.rules;
    if (const auto* by = std::get_if<WorkedOutBy>(&line.what))
      return says_something(by->finding, base);
    if (const auto* list = std::get_if<AtMostOneLine>(&line.what)) {
      const auto* written = &ground.rules->at_most_one[list->index];
      return std::any_of(ground.at_most_one.begin(), ground.at_most_one.end(), [&](const auto& of) {
        return of.line == written &&
               std::any_of(of.findings.begin(), of.findings.end(), [&](GroundFinding f) {
                 return base.states.findings[f.at()].at_least > 0;
               });
      });
    }
    const auto* id = std::get_if<rulebase::DistrustId>(&line.what);
    for (std::size_t d = 0; id != nullptr && d < ground.distrusts.size(); ++d) {
      const evaluation::DistrustState& state = base.states.distrusts[d];
      const bool holds = state.applies == Truth::yes || !state.snapshots.empty();
      if (ground.distrusts[d].declaration == id->index && holds) return true;
    }
    return false;
  }

  [[nodiscard]] bool says_something(rulebase::FindingId finding, const Base& base) const {
    const auto& origins = rules_.rules->findings.origins;
    for (std::size_t f = 0; f < origins.size(); ++f) {
      if (origins[f].declaration != finding.index) continue;
      const bool known = base.states.findings[f].state != evaluation::State::unknown ||
                         base.states.findings[f].at_most < rules_.numbers.findings[f].leak.size();
      if (known) return true;
    }
    return false;
  }

  void try_conditions(std::size_t index) {
    const RuleLine& line = lines_[index];
    std::vector<std::size_t> concerned;
    for (std::size_t b = 0; b < bases_.size(); ++b) {
      if (matters(line, bases_[b])) concerned.push_back(b);
    }
    if (concerned.empty()) return;
    const auto rules =
        std::make_shared<const rulebase::Rulebase>(without(*rules_.rules->rules, line));
    Diagnostics said_before;
    auto ground = grounding::ground(rules, rules_.rules->profile, said_before);
    if (!ground) return;
    Evaluator evaluator(std::make_shared<const grounding::GroundRules>(std::move(*ground)));
    for (const std::size_t b : concerned) {
      if (!depended_on_[index]) compare(index, b, evaluator.evaluate(*bases_[b].facts));
    }
  }

  void compare(std::size_t index, std::size_t b, const Evaluation& states) {
    const Base& base = bases_[b];
    const auto other_state = [&](GroundFinding f) {
      return !same_state(states.findings[f.at()], base.states.findings[f.at()]);
    };
    const auto other_judgement = [&](GroundCause cause) {
      return states.judged[cause.at()] != base.states.judged[cause.at()];
    };
    depended_on_[index] =
        std::any_of(base.findings.begin(), base.findings.end(), other_state) ||
        std::any_of(base.not_judged.begin(), base.not_judged.end(), other_judgement);
    if (depended_on_[index] || base.named.empty()) return;
    if (auto change = change_between(rules_, base.states, states)) {
      pending_[b].push_back({index, std::move(*change)});
    } else {
      depended_on_[index] = moves(base, states);
    }
  }

  // --- numbers: the same network with a link less or another rate ------------------------------

  void try_numbers(std::size_t b) {
    const Base& base = bases_[b];
    mark_named_findings(base);
    if (base.named.empty()) return;
    try_exclusions(base);
    JobModel job = model_of(base);
    const NumberChanges changes(job, base.posterior);
    std::vector<Question> questions;
    const auto ask = [&](std::size_t line, NumberChange change) {
      const bool open = !depended_on_[line] && !change.empty();
      if (open && changes.reach(change) >= least_reach)
        questions.push_back({line, std::move(change)});
    };
    for (const Question& pending : pending_[b]) ask(pending.line, pending.change);
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      if (!depended_on_[i]) ask(i, changes.without(lines_[i]));
    }
    answer(base, job, questions);
  }

  void try_exclusions(const Base& base) {
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      const auto* written = std::get_if<const rulebase::Restriction*>(&lines_[i].what);
      if (written == nullptr || depended_on_[i]) continue;
      Evaluation states = base.states;
      states.possible = possible_without(**written, base.states);
      if (states.possible != base.states.possible) depended_on_[i] = moves(base, states);
    }
  }

  [[nodiscard]] std::vector<bool> possible_without(const rulebase::Restriction& line,
                                                   const Evaluation& states) const {
    std::vector<bool> possible(states.possible.size(), true);
    const auto& restrictions = rules_.rules->restrictions;
    for (std::size_t i = 0; i < restrictions.size(); ++i) {
      const Truth rules_out = restrictions[i].never ? Truth::yes : Truth::no;
      if (restrictions[i].line != &line && states.restrictions[i] == rules_out)
        possible[restrictions[i].cause.at()] = false;
    }
    return possible;
  }

  void mark_named_findings(const Base& base) {
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      const auto* finding = std::get_if<rulebase::FindingId>(&lines_[i].what);
      const auto named = [&](GroundFinding f) {
        return rules_.rules->findings.origins[f.at()].declaration == finding->index;
      };
      if (finding != nullptr && std::any_of(base.findings.begin(), base.findings.end(), named))
        depended_on_[i] = true;
    }
  }

  void answer(const Base& base, JobModel& job, const std::vector<Question>& questions) {
    for (std::size_t first = 0; first < questions.size(); first += batch) {
      const std::size_t end = std::min(first + batch, questions.size());
      std::vector<network::Network> networks;
      for (std::size_t q = first; q < end; ++q)
        networks.push_back(changed(job.network(), questions[q].change));
      const auto outcomes = job.solver().solve_networks(job.evidence(), networks);
      for (std::size_t q = first; q < end; ++q) {
        const std::size_t line = questions[q].line;
        depended_on_[line] = depended_on_[line] || moved(base, outcomes[q - first]);
      }
    }
  }

  /// The network itself is another: causes that were ruled out, findings that say more.
  [[nodiscard]] bool moves(const Base& base, const Evaluation& states) const {
    JobModel job(rules_, states, memory_bytes_, tried_in_vain(rules_, states, *base.facts));
    return moved(base, job.solver().solve(job.evidence()));
  }

  [[nodiscard]] static bool moved(const Base& base, const network::Outcome& outcome) {
    if (std::holds_alternative<network::Impossible>(outcome)) return true;
    const auto* now = std::get_if<Posterior>(&outcome);
    return now != nullptr &&
           std::any_of(base.named.begin(), base.named.end(), [&](network::HiddenId id) {
             const double before = base.posterior.hidden[id.at()].value();
             return std::fabs(now->hidden[id.at()].value() - before) > least_change;
           });
  }

  const model::RuleNetwork& rules_;
  std::size_t memory_bytes_;
  std::vector<RuleLine> lines_;
  std::vector<bool> depended_on_;  // per line
  std::vector<Base> bases_;
  std::vector<std::vector<Question>> pending_;  // per base
};

}  // namespace

TrialCoverage trial_coverage(const model::RuleNetwork& rules, std::span<const TriedTrial> tried,
                             const SourceSet& sources, std::size_t memory_bytes) {
  CoverageFinder finder(rules, memory_bytes);
  finder.find(tried);
  return finder.report(sources);
}

}  // namespace slipcase::advice

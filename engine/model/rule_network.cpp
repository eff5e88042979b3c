#include "model/rule_network.h"

#include <algorithm>
#include <queue>
#include <set>

#include "model/count_warnings.h"
#include "model/overall.h"

namespace slipcase::model {

namespace {

using grounding::GroundCause;
using grounding::GroundFinding;
using grounding::GroundInside;
using grounding::GroundRules;
using network::Finding;
using network::FindingLink;
using network::Hidden;
using network::HiddenLink;

/// A parent before its count is turned into numbers.
struct Counted {
  grounding::Source from;
  const rulebase::GradedLine* graded = nullptr;  // shows
  std::optional<rulebase::GradedLine> own;       // made from a single count (flags)
  LinkLine line;
};

const rulebase::GradedLine& line_of(const Counted& counted) {
  return counted.own ? *counted.own : *counted.graded;
}

rulebase::MemberId member_behind(const grounding::Origin& origin) {
  return origin.member.value_or(rulebase::MemberId{0});
}

class Builder {
 public:
  Builder(std::shared_ptr<const GroundRules> rules, Diagnostics& diagnostics)
      : ground_(*rules), warnings_(ground_, diagnostics) {
    network_.rules = std::move(rules);
  }

  RuleNetwork build() {
    number_hidden();
    collect_links();
    fill_hidden();
    fill_findings();
    return std::move(network_);
  }

 private:
  // Causes first, then insides, each as soon as all its makers are in: parents before children, and
  // the same numbering for the same rules.
  void number_hidden() {
    const std::size_t causes = ground_.causes.size();
    const std::size_t count = causes + ground_.insides.size();
    std::vector<std::vector<std::uint32_t>> children(count);
    std::vector<std::uint32_t> waiting_for(count, 0);
    const auto slot = [causes](const grounding::Source& source) {
      const auto* cause = std::get_if<GroundCause>(&source);
      return cause != nullptr
                 ? cause->index
                 : static_cast<std::uint32_t>(causes) + std::get<GroundInside>(source).index;
    };
    const auto connect = [&](const grounding::Source& from, const grounding::Source& to) {
      children[slot(from)].push_back(slot(to));
      ++waiting_for[slot(to)];
    };
    for (const auto& link : ground_.shows) {
      if (const auto* inside = std::get_if<GroundInside>(&link.to)) connect(link.from, *inside);
    }
    for (const auto& link : ground_.then_causes) connect(link.from, link.to);

    network_.of_cause.resize(causes);
    network_.of_inside.resize(ground_.insides.size());
    std::priority_queue<std::uint32_t, std::vector<std::uint32_t>, std::greater<>> ready;
    for (std::uint32_t i = 0; i < count; ++i) {
      if (waiting_for[i] == 0) ready.push(i);
    }
    while (!ready.empty()) {
      const std::uint32_t next = ready.top();
      ready.pop();
      const HiddenId id{static_cast<std::uint32_t>(network_.origin.size())};
      if (next < causes) {
        network_.of_cause[next] = id;
        network_.origin.emplace_back(GroundCause{next});
      } else {
        const GroundInside inside{next - static_cast<std::uint32_t>(causes)};
        network_.of_inside[inside.at()] = id;
        network_.origin.emplace_back(inside);
      }
      for (const std::uint32_t child : children[next]) {
        if (--waiting_for[child] == 0) ready.push(child);
      }
    }
  }

  void collect_links() {
    into_finding_.resize(ground_.findings.size());
    into_inside_.resize(ground_.insides.size());
    into_cause_.resize(ground_.causes.size());
    for (const auto& link : ground_.shows) {
      const Counted counted{link.from, &link.line->count, {}, link.line};
      if (const auto* finding = std::get_if<GroundFinding>(&link.to)) {
        into_finding_[finding->at()].push_back(counted);
      } else {
        into_inside_[std::get<GroundInside>(link.to).at()].push_back(counted);
      }
    }
    for (const auto& link : ground_.then_causes) {
      rulebase::GradedLine line{{link.line->count.count}, false, link.line->place};
      into_cause_[link.to.at()].push_back({link.from, nullptr, std::move(line), link.line});
    }
    for (const auto& flag : ground_.flags) {
      rulebase::GradedLine line{{flag.line->bad}, false, flag.line->place};
      into_finding_[flag.to.at()].push_back({flag.from, nullptr, std::move(line), flag.line});
    }
  }

  void fill_hidden() {
    network_.numbers.hidden.resize(network_.origin.size());
    network_.hidden_lines.resize(network_.origin.size());
    for (std::size_t i = 0; i < network_.origin.size(); ++i) {
      const auto* cause = std::get_if<GroundCause>(&network_.origin[i]);
      const BaseRate base = cause != nullptr
                                ? cause_rate(*cause)
                                : inside_rate(std::get<GroundInside>(network_.origin[i]));
      const auto& parents = cause != nullptr
                                ? into_cause_[cause->at()]
                                : into_inside_[std::get<GroundInside>(network_.origin[i]).at()];
      Hidden& hidden = network_.numbers.hidden[i];
      hidden.own = base.rate;
      hidden.is_cause = cause != nullptr;
      for (const Counted& parent : parents) {
        const GradedStrength strength = graded_strength(line_of(parent), {base});
        if (strength.fire[0].value() == 0.0) continue;
        hidden.parents.push_back({network_.of(parent.from), strength.fire[0]});
        network_.hidden_lines[i].push_back(parent.line);
      }
    }
  }

  BaseRate cause_rate(GroundCause cause) const {
    const auto& origin = ground_.causes.origins[cause.at()];
    const rulebase::CountLine* line = ground_.declaration(cause).found.at(member_behind(origin));
    const bool in_use = ground_.declaration(cause).header.in_use(origin.member);
    if (line == nullptr || !in_use) return {Probability::never(), {}};
    const std::size_t members =
        ground_.rules->unit.member_count(ground_.declaration(cause).header.scope);
    const rulebase::GradedLine graded{{line->count}, line->together, line->place};
    return otherwise_rates(graded, 1, members)[0];
  }

  BaseRate inside_rate(GroundInside inside) const {
    const auto& origin = ground_.insides.origins[inside.at()];
    const rulebase::GradedLine* line =
        ground_.declaration(inside).otherwise.at(member_behind(origin));
    const bool in_use = ground_.declaration(inside).header.in_use(origin.member);
    if (line == nullptr || !in_use) return {Probability::never(), {}};
    return otherwise_rates(
        *line, 1, ground_.rules->unit.member_count(ground_.declaration(inside).header.scope))[0];
  }

  void fill_findings() {
    Expectation expectation(network_.numbers);
    const std::size_t count = ground_.findings.size();
    network_.numbers.findings.resize(count);
    network_.finding_lines.resize(count);
    network_.base.resize(count);
    for (std::uint32_t f = 0; f < count; ++f) fill_finding(GroundFinding{f}, expectation);
  }

  void fill_finding(GroundFinding id, Expectation& expectation) {
    const auto& parents = into_finding_[id.at()];
    std::vector<CountedParent> counted;
    for (const Counted& parent : parents)
      counted.push_back({network_.of(parent.from), &line_of(parent)});
    const std::vector<BaseRate> base = base_rates(id, counted, expectation);
    const bool solved = !base[0].count && ground_.declaration(id).overall.at(
                                              member_behind(ground_.findings.origins[id.at()]));

    Finding& finding = network_.numbers.findings[id.at()];
    for (const BaseRate& rate : base) finding.leak.push_back(rate.rate);
    for (const Counted& parent : parents) {
      GradedStrength strength = graded_strength(line_of(parent), base);
      if (const auto grade = strength.below_base; grade && solved)
        warnings_.below_the_rest(counted_link(parent), id, *grade, base[*grade].rate);
      if (strength.order_broken) warnings_.grades_disagree(counted_link(parent), id);
      if (strength.fire[0].value() == 0.0) continue;  // the weakest grade fires most
      finding.parents.push_back({network_.of(parent.from), std::move(strength.fire)});
      network_.finding_lines[id.at()].push_back(parent.line);
    }
    network_.base[id.at()] = base;
  }

  std::vector<BaseRate> base_rates(GroundFinding id, const std::vector<CountedParent>& parents,
                                   Expectation& expectation) {
    const rulebase::Finding& declaration = ground_.declaration(id);
    const rulebase::MemberId member = member_behind(ground_.findings.origins[id.at()]);
    const std::size_t members = ground_.rules->unit.member_count(declaration.header.scope);
    const std::size_t grades = declaration.grade_count();
    if (const auto* line = declaration.otherwise.at(member))
      return otherwise_rates(*line, grades, members);
    if (const auto* line = declaration.overall.at(member)) {
      const SolvedRates solved = solve_overall(*line, grades, members, parents, expectation);
      std::vector<std::string> names;
      for (const Counted& parent : into_finding_[id.at()])
        names.push_back(counted_link(parent).from);
      warnings_.overall({id, *line, solved, parents, names}, expectation);
      return solved.base;
    }
    if (const auto flagged = sound_share(id))
      return otherwise_rates({{*flagged}, false, {}}, grades, members);
    return std::vector<BaseRate>(grades, BaseRate{Probability::never(), {}});
  }

  // A check that flags is positive among sound cars as its lines say; several lines are counted
  // together.
  std::optional<units::Count> sound_share(GroundFinding id) const {
    std::optional<units::Count> pooled;
    std::set<const rulebase::Flag*> seen;
    for (const auto& flag : ground_.flags) {
      if (flag.to != id || !seen.insert(flag.line).second) continue;
      const auto& good = flag.line->good;
      pooled =
          pooled ? units::Count::from(pooled->hits() + good.hits(), pooled->total() + good.total())
                 : good;
      if (!pooled) return good;  // the sum of two huge counts is no count any more
    }
    return pooled;
  }

  CountedLink counted_link(const Counted& parent) const {
    return {std::visit([this](auto id) { return ground_.name_of(id); }, parent.from),
            &line_of(parent), std::visit([](const auto* l) { return l->place; }, parent.line)};
  }

  const GroundRules& ground_;
  CountWarnings warnings_;
  RuleNetwork network_;
  std::vector<std::vector<Counted>> into_finding_;
  std::vector<std::vector<Counted>> into_inside_;
  std::vector<std::vector<Counted>> into_cause_;
};

}  // namespace

HiddenId RuleNetwork::of(const grounding::Source& source) const {
  const auto* cause = std::get_if<GroundCause>(&source);
  return cause != nullptr ? of_cause.at(cause->at())
                          : of_inside.at(std::get<GroundInside>(source).at());
}

std::vector<ImpliedRate> implied_rates(const RuleNetwork& rules, Expectation& expectation,
                                       GroundFinding finding) {
  std::vector<ImpliedRate> rates;
  const std::vector<BaseRate>& base = rules.base.at(finding.at());
  for (std::size_t g = 0; g < base.size(); ++g) {
    std::vector<HiddenLink> links;
    for (const FindingLink& link : rules.numbers.findings.at(finding.at()).parents) {
      links.push_back({link.parent, link.fire[g]});
    }
    const double none = expectation.none_fires(links);
    rates.push_back({base[g], 1.0 - base[g].rate.complement() * none, 1.0 - none});
  }
  return rates;
}

RuleNetwork build_network(std::shared_ptr<const grounding::GroundRules> rules,
                          Diagnostics& diagnostics) {
  return Builder(std::move(rules), diagnostics).build();
}

Probability rate_for(const RuleNetwork& rules, const evaluation::Evaluation& evaluation,
                     GroundCause cause) {
  if (!evaluation.possible.at(cause.at())) return Probability::never();
  Probability rate = rules.numbers.hidden.at(rules.of_cause.at(cause.at()).at()).own;
  for (std::size_t i = 0; i < rules.rules->becomes.size(); ++i) {
    const auto& line = rules.rules->becomes[i];
    if (line.cause == cause && evaluation.becomes[i] == evaluation::Truth::yes)
      rate = rate.with_odds_times(line.times);
  }
  return rate;
}

Network network_for(const RuleNetwork& rules, const evaluation::Evaluation& evaluation) {
  Network network = rules.numbers;
  std::vector<bool> gone(network.hidden.size(), false);
  for (std::uint32_t c = 0; c < evaluation.possible.size(); ++c) {
    if (evaluation.possible[c]) continue;
    const HiddenId id = rules.of_cause[c];
    gone[id.at()] = true;
    network.hidden[id.at()].own = Probability::never();
    network.hidden[id.at()].parents.clear();
  }
  for (std::size_t i = 0; i < rules.rules->becomes.size(); ++i) {
    if (evaluation.becomes[i] != evaluation::Truth::yes) continue;
    const auto& line = rules.rules->becomes[i];
    const HiddenId id = rules.of_cause[line.cause.at()];
    if (!gone[id.at()])
      network.hidden[id.at()].own = network.hidden[id.at()].own.with_odds_times(line.times);
  }
  if (std::find(gone.begin(), gone.end(), true) == gone.end()) return network;
  const auto from_gone = [&gone](const auto& link) { return gone[link.parent.at()]; };
  for (network::Hidden& hidden : network.hidden) std::erase_if(hidden.parents, from_gone);
  for (network::Finding& finding : network.findings) std::erase_if(finding.parents, from_gone);
  return network;
}

std::vector<Observation> observations(const RuleNetwork& rules,
                                      const evaluation::Evaluation& evaluation) {
  std::vector<Observation> list;
  for (std::uint32_t f = 0; f < evaluation.findings.size(); ++f) {
    const evaluation::FindingState& state = evaluation.findings[f];
    const bool used =
        state.state != evaluation::State::left_out && state.state != evaluation::State::set_aside;
    const auto grades = static_cast<std::uint32_t>(rules.numbers.findings[f].leak.size());
    const bool says_something = state.at_least > 0 || state.at_most < grades;
    if (used && says_something)
      list.push_back({network::FindingId{f}, state.at_least, state.at_most});
  }
  return list;
}

}  // namespace slipcase::model

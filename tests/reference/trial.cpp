#include "reference/trial.h"

#include <algorithm>

#include <fmt/core.h>

#include "api/parts.h"
#include "reference/trial_card.h"
#include "reference/whole_tool.h"
#include "slipcase/job.h"
#include "slipcase/ranking.h"

namespace reference {

namespace {

using slipcase::FindingState;
using slipcase::RankedCause;
using slipcase::Ranking;
using slipcase::rulebase::CauseAt;
using slipcase::rulebase::Rulebase;
using slipcase::rulebase::Trial;
using Expectation = slipcase::rulebase::TrialExpectation;

class Judge {
 public:
  Judge(const Ranking& ranking, const Rulebase& rules) : ranking_(ranking), rules_(rules) {}

  /// What is wrong; empty if nothing is.
  std::string operator()(const Expectation::First& first) const {
    return place_of(first.cause) == 1 ? "" : shown(first.cause);
  }
  std::string operator()(const Expectation::Among& among) const {
    return place_of(among.cause) <= among.first ? "" : shown(among.cause);
  }
  std::string operator()(const Expectation::Chance& chance) const {
    const double limit = chance.limit.share().value();
    const double found = cause(chance.cause).chance.value();
    return (chance.above ? found > limit : found < limit) ? "" : shown(chance.cause);
  }
  std::string operator()(const Expectation::Before& before) const {
    const bool in_order = place_of(before.cause) < place_of(before.other);
    return in_order ? "" : shown(before.cause) + ", " + shown(before.other);
  }
  std::string operator()(const Expectation::NotJudged& not_judged) const {
    return cause(not_judged.cause).judged ? id_of(not_judged.cause) + " is judged" : "";
  }
  std::string operator()(const Expectation::Next&) const { return "this runner ranks no checks"; }
  std::string operator()(const Expectation::State& state) const {
    const auto& finding = rules_.findings.at(state.finding.at());
    const std::string id = name_of(finding.header, state.member, rules_);
    const auto at = std::find_if(ranking_.findings.begin(), ranking_.findings.end(),
                                 [&id](const auto& report) { return report.id == id; });
    if (at == ranking_.findings.end()) return id + " is not in the ranking";
    const std::string grade = state.grade == 0 ? "" : finding.grades.at(state.grade - 1).name;
    const bool as_wanted = at->state == wanted(state.kind) && (grade.empty() || at->grade == grade);
    return as_wanted ? "" : fmt::format("{} is {} {}", id, in_words(at->state), at->grade);
  }

 private:
  static FindingState wanted(Expectation::State::Kind kind) {
    using Kind = Expectation::State::Kind;
    switch (kind) {
      case Kind::present:
        return FindingState::present;
      case Kind::absent:
        return FindingState::absent;
      case Kind::unknown:
        return FindingState::unknown;
      case Kind::left_out:
        return FindingState::left_out;
      case Kind::set_aside:
        return FindingState::set_aside;
    }
    return FindingState::unknown;
  }
  static std::string_view in_words(FindingState state) {
    switch (state) {
      case FindingState::present:
        return "there";
      case FindingState::absent:
        return "not there";
      case FindingState::unknown:
        return "unknown";
      case FindingState::left_out:
        return "left out";
      case FindingState::set_aside:
        return "set aside";
    }
    return "";
  }

  std::string id_of(const CauseAt& at) const {
    return name_of(rules_.causes.at(at.cause.at()).header, at.member, rules_);
  }
  std::size_t place_of(const CauseAt& at) const {
    const std::string id = id_of(at);
    const auto found = std::find_if(ranking_.causes.begin(), ranking_.causes.end(),
                                    [&id](const RankedCause& cause) { return cause.id == id; });
    return static_cast<std::size_t>(found - ranking_.causes.begin()) + 1;
  }
  const RankedCause& cause(const CauseAt& at) const { return ranking_.causes.at(place_of(at) - 1); }
  std::string shown(const CauseAt& at) const {
    return fmt::format("{} is at place {} with {:.3f}; first is {} with {:.3f}", id_of(at),
                       place_of(at), cause(at).chance.value(), ranking_.causes.front().id,
                       ranking_.causes.front().chance.value());
  }

  const Ranking& ranking_;
  const Rulebase& rules_;
};

slipcase::CardText card_text_of(const Trial& trial, const Rulebase& rules,
                                const std::filesystem::path& folder,
                                slipcase::Diagnostics& diagnostics) {
  if (!trial.job) return {"trial", card_of(trial, rules), std::nullopt};
  const auto load = slipcase::read_card(folder / *trial.job, diagnostics);
  return load.card.value_or(slipcase::CardText{});
}

}  // namespace

std::vector<std::string> failures_of(const Trial& trial, const slipcase::Knowledge& knowledge,
                                     const std::filesystem::path& folder) {
  const slipcase::Knowledge::Parts& parts = knowledge.parts();
  const Rulebase& rules = *parts.ground->rules;
  slipcase::Diagnostics diagnostics;
  const auto load =
      slipcase::load_job(card_text_of(trial, rules, folder, diagnostics), knowledge, diagnostics);
  if (!load.job) return {as_text(diagnostics, *parts.sources)};
  const slipcase::RankResult result = slipcase::rank(knowledge, *load.job);
  const auto* ranking = std::get_if<Ranking>(&result);
  if (ranking == nullptr) return {"nothing was ranked"};

  std::vector<std::string> failures;
  const Judge judge(*ranking, rules);
  for (const Expectation& expectation : trial.expectations) {
    std::string failure = std::visit(judge, expectation.what);
    if (failure.empty()) continue;
    failures.push_back(parts.sources->describe(expectation.place) + ": " + failure);
  }
  return failures;
}

}  // namespace reference

#include "advice/judge_trial.h"

#include <algorithm>

#include <fmt/core.h>

#include "advice/missing.h"
#include "advice/rank_job.h"

namespace slipcase::advice {

namespace {

using network::Posterior;
using rulebase::CauseAt;
using Expectation = rulebase::TrialExpectation;

constexpr std::size_t shown_causes = 3;

std::string_view in_words(evaluation::State state) {
  switch (state) {
    case evaluation::State::absent:
      return "not there";
    case evaluation::State::present:
      return "there";
    case evaluation::State::unknown:
      return "unknown";
    case evaluation::State::left_out:
      return "left out";
    case evaluation::State::set_aside:
      return "set aside";
  }
  return "unknown";
}

evaluation::State wanted(Expectation::State::Kind kind) {
  using Kind = Expectation::State::Kind;
  switch (kind) {
    case Kind::present:
      return evaluation::State::present;
    case Kind::absent:
      return evaluation::State::absent;
    case Kind::unknown:
      return evaluation::State::unknown;
    case Kind::left_out:
      return evaluation::State::left_out;
    case Kind::set_aside:
      return evaluation::State::set_aside;
  }
  return evaluation::State::unknown;
}

/// What came out where a line expected something else.
struct Missed {
  std::vector<CauseAt> causes;
  std::string instead;
};
using Miss = std::optional<Missed>;

class Judge {
 public:
  Judge(JobModel& job, const Posterior& posterior) : job_(job), posterior_(posterior) {
    places_.resize(job.ground().causes.size(), 0);
    for (const GroundCause cause : by_chance(job, posterior)) {
      if (!job.states().judged.at(cause.at())) continue;
      judged_.push_back(cause);
      places_[cause.at()] = judged_.size();
    }
  }

  Miss operator()(const Expectation::First& line) const {
    return came_out(place_of(line.cause) == 1, {line.cause});
  }
  Miss operator()(const Expectation::Among& line) const {
    const std::size_t place = place_of(line.cause);
    return came_out(place != 0 && place <= line.first, {line.cause});
  }
  Miss operator()(const Expectation::Chance& line) const {
    const double limit = line.limit.share().value();
    const double chance = job_.chance(posterior_, ground(line.cause)).value();
    return came_out(line.above ? chance > limit : chance < limit, {line.cause});
  }
  Miss operator()(const Expectation::Before& line) const {
    const std::size_t place = place_of(line.cause);
    const std::size_t other = place_of(line.other);
    return came_out(place != 0 && (other == 0 || place < other), {line.cause, line.other});
  }
  Miss operator()(const Expectation::NotJudged& line) const {
    return came_out(place_of(line.cause) == 0, {line.cause});
  }
  Miss operator()(const Expectation::Next& line) const {
    const std::string name = name_of(line);
    const std::string next = next_check();
    if (next == name) return std::nullopt;
    return Missed{{}, next.empty() ? "no check would tell much" : fmt::format("next is {}", next)};
  }
  Miss operator()(const Expectation::State& line) const {
    const GroundFinding finding = ground_finding(job_.ground(), line);
    const evaluation::FindingState& state = job_.states().findings.at(finding.at());
    const bool exact = line.kind == Expectation::State::Kind::present && line.grade != 0;
    const bool grade_fits = state.at_least == line.grade && state.at_most == line.grade;
    if (state.state == wanted(line.kind) && (!exact || grade_fits)) return std::nullopt;
    const std::string grade = report(job_, finding).grade;
    return Missed{{},
                  fmt::format("{} is {}{}", job_.ground().name_of(finding), in_words(state.state),
                              grade.empty() ? "" : " (" + grade + ")")};
  }

  [[nodiscard]] TrialCause describe(GroundCause cause) const {
    TrialCause result{job_.ground().name_of(cause),
                      job_.ground().says(cause),
                      job_.chance(posterior_, cause),
                      places_.at(cause.at()),
                      {}};
    if (const auto distrust = job_.states().not_judged_by.at(cause.at())) {
      const auto& ground = job_.ground().distrusts.at(*distrust);
      result.not_judged_because = job_.ground().rules->distrusts.at(ground.declaration).because;
    }
    return result;
  }
  [[nodiscard]] TrialCause describe(const CauseAt& at) const { return describe(ground(at)); }

  [[nodiscard]] std::vector<TrialCause> first() const {
    std::vector<TrialCause> list;
    for (std::size_t i = 0; i < judged_.size() && i < shown_causes; ++i)
      list.push_back(describe(judged_[i]));
    return list;
  }

 private:
  static Miss came_out(bool as_expected, std::vector<CauseAt> causes) {
    if (as_expected) return std::nullopt;
    return Missed{std::move(causes), {}};
  }

  GroundCause ground(const CauseAt& at) const { return ground_cause(job_.ground(), at); }
  std::size_t place_of(const CauseAt& at) const { return places_.at(ground(at).at()); }

  std::string name_of(const Expectation::Next& line) const {
    const rulebase::Header& header = job_.ground().rules->checks.at(line.check.at()).header;
    const auto* member = std::get_if<grounding::MemberId>(&line.member);
    if (member == nullptr || !header.scope) return header.name;
    return header.name + " of " +
           job_.ground().rules->unit.scope(*header.scope).members.at(member->at());
  }

  /// The check that answers the most telling of what is missing.
  std::string next_check() const {
    constexpr std::size_t looked_at = 5;  // as many as a ranking lists
    const auto before = job_.prior();
    const auto* prior = std::get_if<Posterior>(&before);
    if (prior == nullptr) return {};
    const Stories stories(job_, *prior, posterior_);
    const Ways ways(job_.ground(), nullptr);
    for (const MissingFinding& missing :
         missing_findings(job_, ways, stories, *prior, posterior_, looked_at)) {
      if (!missing.check.empty()) return check_of(missing);
    }
    return {};
  }

  /// With the member, where check and finding are of the same scope.
  std::string check_of(const MissingFinding& missing) const {
    const auto& checks = job_.ground().rules->checks;
    const auto check = std::find_if(checks.begin(), checks.end(), [&](const auto& candidate) {
      return candidate.header.name == missing.check;
    });
    const auto finding = job_.ground().find_finding(missing.id);
    if (check == checks.end() || !finding || !check->header.scope) return missing.check;
    const auto of = missing.id.find(" of ");
    const bool same_scope = job_.ground().scope_of(*finding) == check->header.scope;
    return same_scope && of != std::string::npos ? missing.check + missing.id.substr(of)
                                                 : missing.check;
  }

  JobModel& job_;
  const Posterior& posterior_;
  std::vector<GroundCause> judged_;  // by chance
  std::vector<std::size_t> places_;  // per cause; 0: not judged
};

struct WhyNot {
  std::string operator()(const ImpossibleEvidence& impossible) const {
    std::string list;
    for (const auto& finding : impossible.clash) {
      list += (list.empty() ? "" : ", ") + finding.id +
              (finding.state == FindingState::absent ? " not there" : " there");
    }
    return "its facts cannot all be true under these rules: " + list;
  }
  std::string operator()(const TooWide& wide) const {
    return fmt::format("it is too entangled to be exact in the memory given (width {})",
                       wide.width);
  }
};

}  // namespace

std::string one_line(const SourceSet& sources, const Place& place) {
  std::string line;
  for (const char c : sources.text_at(place)) {
    const bool blank = c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (!blank) {
      line += c;
    } else if (!line.empty() && line.back() != ' ') {
      line += ' ';
    }
  }
  return line;
}

GroundCause ground_cause(const grounding::GroundRules& ground, const CauseAt& at) {
  const auto* member = std::get_if<grounding::MemberId>(&at.member);
  return GroundCause{
      ground.causes.at(at.cause.index, member != nullptr ? std::optional(*member) : std::nullopt)};
}

GroundFinding ground_finding(const grounding::GroundRules& ground,
                             const Expectation::State& state) {
  const auto* member = std::get_if<grounding::MemberId>(&state.member);
  return GroundFinding{ground.findings.at(
      state.finding.index, member != nullptr ? std::optional(*member) : std::nullopt)};
}

std::vector<CauseAt> causes_in(const Expectation& line) {
  struct Named {
    std::vector<CauseAt> operator()(const Expectation::First& l) const { return {l.cause}; }
    std::vector<CauseAt> operator()(const Expectation::Among& l) const { return {l.cause}; }
    std::vector<CauseAt> operator()(const Expectation::Chance& l) const { return {l.cause}; }
    std::vector<CauseAt> operator()(const Expectation::Before& l) const {
      return {l.cause, l.other};
    }
    std::vector<CauseAt> operator()(const Expectation::NotJudged&) const { return {}; }
    std::vector<CauseAt> operator()(const Expectation::Next&) const { return {}; }
    std::vector<CauseAt> operator()(const Expectation::State&) const { return {}; }
  };
  return std::visit(Named{}, line.what);
}

TrialReport report_for(const rulebase::Trial& trial, const SourceSet& sources) {
  TrialReport report;
  report.title = trial.title;
  report.place = sources.describe(trial.place);
  return report;
}

TrialReport judge_trial(const rulebase::Trial& trial, JobModel& job, const SourceSet& sources) {
  TrialReport report = report_for(trial, sources);
  const auto solved = job.solve(job.evidence());
  if (const auto* failure = std::get_if<Failure>(&solved)) {
    report.not_run = std::visit(WhyNot{}, *failure);
    return report;
  }
  const Judge judge(job, std::get<Posterior>(solved));
  report.first = judge.first();
  for (const Expectation& line : trial.expectations) {
    const Miss miss = std::visit(judge, line.what);
    if (!miss) continue;
    TrialFailure failure{
        one_line(sources, line.place), sources.describe(line.place), {}, miss->instead};
    for (const CauseAt& cause : miss->causes) failure.causes.push_back(judge.describe(cause));
    report.failures.push_back(std::move(failure));
  }
  return report;
}

}  // namespace slipcase::advice

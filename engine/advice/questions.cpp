#include "advice/questions.h"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "advice/card_gaps.h"
#include "advice/missing.h"
#include "advice/question_candidates.h"
#include "advice/question_forms.h"
#include "advice/remarks.h"
#include "advice/stories.h"
#include "support/ascii.h"
#include "support/sort_key.h"

namespace slipcase::advice {

namespace {

using evaluation::JobFacts;
using grounding::GroundDetail;
using grounding::GroundEvent;
using grounding::GroundRules;
using network::Posterior;

/// Less is not worth a question.
constexpr double least_information = 0.05;  // bits

class Questionnaire {
 public:
  Questionnaire(JobModel& job, const JobFacts& facts, const Posterior& before, const Posterior& now,
                const OpenRules& open, std::span<const std::string> passed)
      : job_(job),
        ground_(job.ground()),
        facts_(facts),
        ways_(job.ground(), &facts),
        now_(now),
        passed_(passed),
        candidates_(question_candidates(job, facts, before, now, open, passed)) {}

  AskResult next(const JobTitle& title) {
    if (auto question = first_of_all(title)) return *std::move(question);
    if (auto question = about_complaint(title)) return *std::move(question);
    if (auto question = about_evidence()) return *std::move(question);
    if (auto question = about_safety()) return *std::move(question);
    if (auto question = about_codes()) return *std::move(question);
    const auto best = std::max_element(
        candidates_.begin(), candidates_.end(),
        [this](const Candidate& a, const Candidate& b) { return worth(a) < worth(b); });
    if (best != candidates_.end() && worth(*best) >= least_information) return described(*best);
    return nothing(title);
  }

 private:
  double worth(const Candidate& one) const {
    return is_in(passed_, one.question.id) ? 0.0 : sort_key(one.information);
  }

  /// What would be more or less likely if the fact were so; what moves most first, a few of them.
  std::vector<std::string> moved_by(const AwaitedFact& awaited) const {
    constexpr std::size_t most_moves = 4;
    constexpr double worth_naming = 0.01;
    const auto size = [this](const AwaitedFact::Move& move) {
      return sort_key(std::fabs(move.then.value() - job_.chance(now_, move.cause).value()));
    };
    std::vector<AwaitedFact::Move> moves = awaited.moves;
    std::stable_sort(moves.begin(), moves.end(),
                     [&](const auto& a, const auto& b) { return size(a) > size(b); });
    std::vector<std::string> lines;
    for (const AwaitedFact::Move& move : moves) {
      if (lines.size() == most_moves || size(move) < worth_naming) break;
      const bool up = move.then.value() > job_.chance(now_, move.cause).value();
      const std::string line = fmt::format("If it is so, this is {}: {}.",
                                           move.then == Probability::never() ? "ruled out"
                                           : up                              ? "more likely"
                                                                             : "less likely",
                                           ground_.says(move.cause));
      if (std::find(lines.begin(), lines.end(), line) == lines.end()) lines.push_back(line);
    }
    return lines;
  }

  Question described(const Candidate& one) const {
    Question question = one.question;
    question.information = one.information;
    if (one.awaited != nullptr) question.why = moved_by(*one.awaited);
    return question;
  }

  /// Nothing that anybody saw is on the card.
  std::optional<Question> first_of_all(const JobTitle& title) const {
    const auto& answers = facts_.answers;
    const bool seen = std::any_of(answers.begin(), answers.end(), [](const auto& answer) {
      return answer.said == evaluation::Answer::Said::yes;
    });
    Question question = what_it_came_for();
    if (seen || !title.complaint_findings.empty() || is_in(passed_, question.id))
      return std::nullopt;
    return question;
  }

  std::optional<Question> about_evidence() const {
    for (const Candidate& one : candidates_) {
      if (one.awaited == nullptr || one.awaited->could_hold_back.empty()) continue;
      if (is_in(passed_, one.question.id)) continue;
      Question question = described(one);
      question.reason = QuestionReason::evidence;
      question.why.clear();
      for (const std::string& because : one.awaited->could_hold_back)
        question.why.push_back("It may be that evidence must not be used, because " + because +
                               ".");
      return question;
    }
    return about_what_ends_it();
  }

  /// Evidence is held back now: perhaps what would free it was done, and nobody wrote it down.
  std::optional<Question> about_what_ends_it() const {
    for (std::uint32_t d = 0; d < job_.states().distrusts.size(); ++d) {
      if (!job_.states().distrusts[d].holds_something_back()) continue;
      const auto& distrust = ground_.rules->distrusts.at(ground_.distrusts.at(d).declaration);
      for (const auto& until : distrust.until) {
        const auto event = event_of(until.what);
        if (!event) continue;
        Question question = question_of(ground_, facts_, *event);
        if (is_in(passed_, question.id)) continue;
        question.asks = fmt::format("Was this done since: {}?", ground_.says(*event));
        question.reason = QuestionReason::evidence;
        question.now.clear();
        question.why = {fmt::format("Evidence is not used now, because {}. This would end that.",
                                    distrust.because)};
        return question;
      }
    }
    return std::nullopt;
  }

  /// Of a step that is of no member.
  template <class Step>
  std::optional<GroundEvent> event_of(const Step& step) const {
    const auto& rules = *ground_.rules;
    std::optional<rulebase::EventId> id;
    if (const auto* check = std::get_if<rulebase::CheckId>(&step))
      id = rules.checks.at(check->at()).event;
    else if (const auto* repair = std::get_if<rulebase::RepairId>(&step))
      id = rules.repairs.at(repair->at()).event;
    else
      id = std::get<rulebase::EventId>(step);
    if (rules.events.at(id->at()).header.scope) return std::nullopt;
    return GroundEvent{ground_.events.at(id->index, std::nullopt)};
  }

  /// What a caution goes with.
  std::optional<Question> about_safety() const {
    for (const Candidate& one : candidates_) {
      if (!one.weighed || one.question.kind != QuestionKind::finding) continue;
      const rulebase::Finding& declared = ground_.declaration(*one.weighed);
      // Of a shift or gear it would be any one of many.
      if (declared.header.scope || declared.cautions.empty()) continue;
      if (one.guess <= 0.0 || is_in(passed_, one.question.id)) continue;
      Question question = described(one);
      question.reason = QuestionReason::safety;
      for (const rulebase::CautionId id : declared.cautions)
        question.why.push_back(ground_.rules->cautions.at(id.at()).header.says);
      return question;
    }
    return std::nullopt;
  }

  bool rules_ask_codes_of(const profile::Controller& controller) const {
    const auto overlaps = [&controller](const auto& asked) {
      return std::any_of(controller.ranges.begin(), controller.ranges.end(),
                         [&asked](const auto& held) {
                           return asked.first <= held.second && held.first <= asked.second;
                         });
    };
    return std::any_of(ground_.programs.questions.begin(), ground_.programs.questions.end(),
                       [&](const grounding::Question& question) {
                         const auto* codes = std::get_if<grounding::CodeQuestion>(&question);
                         return codes != nullptr &&
                                std::any_of(codes->ranges.begin(), codes->ranges.end(), overlaps);
                       });
  }

  std::optional<Question> about_codes() const {
    const auto& controllers = ground_.profile->controllers;
    const auto ask = [&](std::size_t c) -> std::optional<Question> {
      Question question = codes_question(ground_, facts_, c);
      if (!question.now.empty() || !rules_ask_codes_of(controllers[c])) return std::nullopt;
      return is_in(passed_, question.id) ? std::nullopt : std::optional(std::move(question));
    };
    for (const bool own : {true, false}) {
      for (std::size_t c = 0; c < controllers.size(); ++c) {
        if ((controllers[c].name == ground_.profile->own_controller) != own) continue;
        if (auto question = ask(c)) return question;
      }
    }
    return std::nullopt;
  }

  /// Nothing on the card is named as the complaint, and something asked for was seen.
  std::optional<Question> about_complaint(const JobTitle& title) const {
    if (!title.complaint_findings.empty()) return std::nullopt;
    for (std::uint32_t f = 0; f < ground_.findings.size(); ++f) {
      const GroundFinding finding{f};
      if (facts_.answers.at(f).said != evaluation::Answer::Said::yes) continue;
      if (!is_at_counter(ground_, ways_, finding)) continue;
      Question question = complaint_question(ground_, finding);
      if (!is_in(passed_, question.id)) return question;
    }
    return std::nullopt;
  }

  NothingToAsk nothing(const JobTitle& title) {
    NothingToAsk result;
    result.job = title.job;
    for (const Candidate& one : candidates_)
      if (!is_in(passed_, one.question.id)) ++result.open;
    for (const std::string& id : passed_) {
      const auto question = question_named(ground_, facts_, id);
      if (question && question->now.empty()) ++result.passed_over;
    }
    return result;
  }

  JobModel& job_;
  const GroundRules& ground_;
  const JobFacts& facts_;
  Ways ways_;
  const Posterior& now_;
  std::span<const std::string> passed_;
  std::vector<Candidate> candidates_;
};

}  // namespace

AskResult ask_next(JobModel& job, evaluation::Evaluator& evaluator, const JobTitle& title,
                   std::span<const std::string> passed_over, const SourceSet& sources) {
  const auto solved = job.solve(job.evidence());
  const auto before = job.prior();
  for (const auto* answer : {&solved, &before}) {
    const auto* failure = std::get_if<Failure>(answer);
    if (failure != nullptr)
      return std::visit([](const auto& f) -> AskResult { return f; }, *failure);
  }
  const auto& now = std::get<Posterior>(solved);
  const auto& prior = std::get<Posterior>(before);
  const Ways ways(job.ground(), &evaluator.facts());
  const OpenRules open = open_rules(job, evaluator, ways, now, sources);
  Questionnaire questionnaire(job, evaluator.facts(), prior, now, open, passed_over);
  AskResult result = questionnaire.next(title);
  if (auto* question = std::get_if<Question>(&result))
    question->cautions = cautions_of_findings(job);
  if (auto* nothing = std::get_if<NothingToAsk>(&result)) {
    nothing->cautions = cautions_of_findings(job);
    const Stories stories(job, prior, now);
    for (MissingFinding& missing : missing_findings(job, ways, stories, prior, now, 1))
      if (!missing.check.empty()) nothing->best_check = std::move(missing);
  }
  return result;
}

std::vector<QuestionGroup> questions_with(const GroundRules& ground, std::string_view word) {
  const std::string wanted = in_small_letters(word);
  std::vector<QuestionGroup> groups;
  const auto offer = [&](const rulebase::Header& header, const std::string& asks) {
    const std::string text = in_small_letters(header.name + " " + header.says + " " + asks);
    if (asks.empty() || text.find(wanted) == std::string::npos) return;
    QuestionGroup group{header.name, asks, {}};
    if (header.scope) {
      const rulebase::Scope& scope = ground.rules->unit.scope(*header.scope);
      group.members = scope.members;
      const std::string blank = "{" + scope.name + "}";
      for (auto at = group.asks.find(blank); at != std::string::npos; at = group.asks.find(blank))
        group.asks.replace(at, blank.size(), "...");
    }
    groups.push_back(std::move(group));
  };
  for (const auto& finding : ground.rules->findings) offer(finding.header, finding.asks);
  for (const auto& event : ground.rules->events) offer(event.header, event.asks);
  for (const auto& detail : ground.rules->details) offer(detail.header, detail.asks);
  return groups;
}

std::optional<Question> question_named(const GroundRules& ground, const JobFacts& facts,
                                       std::string_view id) {
  if (Question question = what_it_came_for(); question.id == id) return question;
  for (std::size_t c = 0; c < ground.profile->controllers.size(); ++c) {
    Question question = codes_question(ground, facts, c);
    if (question.id == id) return question;
  }
  if (const auto finding = ground.find_finding(id)) {
    Question question = question_of(ground, facts, *finding);
    return question.asks.empty() ? std::nullopt : std::optional(std::move(question));
  }
  for (std::uint32_t e = 0; e < ground.events.size(); ++e)
    if (ground.name_of(GroundEvent{e}) == id) return question_of(ground, facts, GroundEvent{e});
  for (std::uint32_t d = 0; d < ground.details.size(); ++d) {
    if (ground.name_of(GroundDetail{d}) != id) continue;
    Question question = question_of(ground, facts, GroundDetail{d});
    return question.asks.empty() ? std::nullopt : std::optional(std::move(question));
  }
  return std::nullopt;
}

}  // namespace slipcase::advice

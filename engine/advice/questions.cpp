#include "advice/questions.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>

#include <fmt/core.h>

#include "advice/card_gaps.h"
#include "advice/information_guess.h"
#include "advice/missing.h"
#include "advice/outlook.h"
#include "advice/question_forms.h"
#include "advice/remarks.h"
#include "advice/stories.h"
#include "support/ascii.h"
#include "support/sort_key.h"

namespace slipcase::advice {

namespace {

using evaluation::DetailFact;
using evaluation::JobFacts;
using grounding::GroundDetail;
using grounding::GroundEvent;
using grounding::GroundRules;
using network::Posterior;

/// Less is not worth a question.
constexpr double least_information = 0.05;  // bits
/// How often a fact that rules wait for is so: a start of a car's history is seldom; a guess.
constexpr double usual_share = 0.1;
constexpr std::size_t most_weighed = 8;

/// A question that nobody answered, with what makes it worth asking.
struct Candidate {
  Question question;
  double information = 0.0;
  double guess = 0.0;                    // of what `weighed` tells
  std::optional<GroundFinding> weighed;  // the finding it decides that tells most
  const AwaitedFact* awaited = nullptr;
};

bool is_in(std::span<const std::string> list, const std::string& id) {
  return std::find(list.begin(), list.end(), id) != list.end();
}

class Questionnaire {
 public:
  Questionnaire(JobModel& job, const JobFacts& facts, const Posterior& before, const Posterior& now,
                const OpenRules& open, std::span<const std::string> passed)
      : job_(job),
        ground_(job.ground()),
        facts_(facts),
        ways_(job.ground(), &facts),
        stories_(job, before, now),
        now_(now),
        passed_(passed),
        causes_(causes_of(job, before, now)) {
    for (const AwaitedFact& fact : open.awaited) std::visit(Adder{*this, fact}, fact.fact);
    add_findings();
    weigh();
  }

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
  struct Adder {
    Questionnaire& list;
    const AwaitedFact& awaited;

    void operator()(GroundDetail detail) const { list.add_detail(detail, &awaited); }
    void operator()(GroundEvent event) const { list.add_event(event, awaited); }
    void operator()(GroundFinding finding) const {
      if (!list.is_at_counter(finding) || list.ground_.asks(finding).empty()) return;
      list.add(question_of(list.ground_, list.facts_, finding), &awaited);
    }
    void operator()(grounding::GroundReading) const {}
    void operator()(const evaluation::CodesNotRead&) const {}
  };

  /// Where nothing speaks for any cause yet, every cause is in question.
  static std::vector<GroundCause> causes_of(const JobModel& job, const Posterior& before,
                                            const Posterior& now) {
    std::vector<GroundCause> causes = causes_in_question(job, before, now);
    for (std::uint32_t c = 0; causes.empty() && c < job.ground().causes.size(); ++c)
      if (job.states().judged.at(c)) causes.push_back(GroundCause{c});
    return causes;
  }

  Candidate* add(Question question, const AwaitedFact* awaited) {
    if (!question.now.empty() || question.asks.empty()) return nullptr;
    const auto same =
        std::find_if(candidates_.begin(), candidates_.end(),
                     [&](const Candidate& one) { return one.question.id == question.id; });
    if (same != candidates_.end()) {
      if (awaited != nullptr) same->awaited = awaited;
      return &*same;
    }
    candidates_.push_back({std::move(question), 0.0, 0.0, {}, awaited});
    return &candidates_.back();
  }

  void add_event(GroundEvent event, const AwaitedFact& awaited) {
    const grounding::Origin& origin = ground_.events.origins.at(event.at());
    const rulebase::Event& declared = ground_.rules->events.at(origin.declaration);
    // What the shop does itself it writes down; who asks the customer for that?
    const bool our_work = !std::holds_alternative<std::monostate>(declared.done_by);
    if (!our_work) add(question_of(ground_, facts_, event), &awaited);
  }

  Candidate* add_detail(GroundDetail detail, const AwaitedFact* awaited) {
    const rulebase::Detail& declared =
        ground_.rules->details.at(ground_.details.origins.at(detail.at()).declaration);
    if (!declared.asks_driver) return nullptr;  // comes with a check, or is read
    return add(question_of(ground_, facts_, detail), awaited);
  }

  /// At the counter only what needs no check; the driver can say it, whatever a drive would show.
  bool is_at_counter(GroundFinding finding) const {
    return ground_.declaration(finding).asks_driver || !ways_.to(finding);
  }

  /// A driver knows a shift by its two gears; one that skips some is found by its own name.
  bool skips_gears(GroundFinding finding) const {
    const profile::Profile& unit = *ground_.profile;
    if (ground_.scope_of(finding) != unit.shift_scope) return false;
    const auto member = ground_.findings.origins.at(finding.at()).member;
    const profile::Shift& shift = unit.shifts.at(member->at());
    const auto place = [&unit](const std::string& gear) {
      return std::ranges::find(unit.gears, gear, &profile::Gear::name) - unit.gears.begin();
    };
    const auto all = std::ssize(unit.gears);
    return place(shift.from) < all && place(shift.to) < all &&
           std::abs(place(shift.from) - place(shift.to)) > 1;
  }

  bool is_askable(GroundFinding finding) const {
    return is_open(job_, finding) && is_at_counter(finding) &&
           !job_.rules().numbers.findings.at(finding.at()).parents.empty() &&
           facts_.answers.at(finding.at()).said == evaluation::Answer::Said::nothing;
  }

  /// Per declaration: who cannot tell of two shifts cannot tell of the others.
  std::map<std::uint32_t, int> times_not_sure() const {
    std::map<std::uint32_t, int> times;
    for (std::uint32_t f = 0; f < ground_.findings.size(); ++f)
      if (facts_.answers[f].said == evaluation::Answer::Said::not_sure)
        ++times[ground_.findings.origins[f].declaration];
    return times;
  }

  /// Of one finding's members the one that tells most; the next one has its turn when that is
  /// answered.
  void add_findings() {
    const InformationGuess guess(job_, now_, causes_);
    const std::map<std::uint32_t, int> not_sure = times_not_sure();
    constexpr int enough = 2;
    std::map<std::uint32_t, std::pair<double, GroundFinding>> best;  // per declaration
    for (std::uint32_t f = 0; f < ground_.findings.size(); ++f) {
      const GroundFinding finding{f};
      if (!is_askable(finding) || skips_gears(finding) || is_in(passed_, ground_.name_of(finding)))
        continue;
      if (ground_.asks(finding).empty()) continue;
      const auto unsure = not_sure.find(ground_.findings.origins[f].declaration);
      if (unsure != not_sure.end() && unsure->second >= enough) continue;
      const double bits = guess.about(finding);
      const auto [at, added] =
          best.try_emplace(ground_.findings.origins[f].declaration, bits, finding);
      if (!added && sort_key(bits) > sort_key(at->second.first)) at->second = {bits, finding};
    }
    for (const auto& [declaration, entry] : best) {
      if (Candidate* one = add(question_of(ground_, facts_, entry.second), nullptr)) {
        one->weighed = entry.second;
        one->guess = entry.first;
      }
    }
    for (std::uint32_t d = 0; d < ground_.details.size(); ++d) add_detail_findings({d}, guess);
  }

  /// A detail stands for the finding that tells most of those that it decides.
  void add_detail_findings(GroundDetail detail, const InformationGuess& guess) {
    if (facts_.details.at(detail.at()).kind != DetailFact::Kind::unknown) return;
    std::optional<GroundFinding> best;
    double most = 0.0;
    const auto [first, last] = ground_.dependents.of_detail.range(detail.index);
    for (const auto* item = first; item != last; ++item) {
      if (*item >= ground_.order.size()) continue;  // a `becomes` or a restriction
      const grounding::EvaluationStep& step = ground_.order[*item];
      if (step.kind != grounding::EvaluationStep::Kind::finding) continue;
      const GroundFinding finding{step.index};
      if (!is_open(job_, finding) || job_.rules().numbers.findings[step.index].parents.empty())
        continue;
      const double bits = guess.about(finding);
      if (sort_key(bits) <= sort_key(most)) continue;
      most = bits;
      best = finding;
    }
    if (!best) return;
    if (Candidate* one = add_detail(detail, nullptr)) {
      one->weighed = best;
      one->guess = most;
    }
  }

  /// Those that look most telling are weighed exactly.
  void weigh() {
    for (Candidate& one : candidates_) one.information = awaited_information(one);
    std::vector<Candidate*> order;
    for (Candidate& one : candidates_)
      if (one.weighed && one.guess > 0.0 && !is_in(passed_, one.question.id)) order.push_back(&one);
    std::stable_sort(order.begin(), order.end(), [](const Candidate* a, const Candidate* b) {
      return sort_key(a->guess) > sort_key(b->guess);
    });
    if (order.size() > most_weighed) order.resize(most_weighed);
    std::vector<GroundFinding> findings;
    for (const Candidate* one : order) findings.push_back(*one->weighed);
    const auto ahead = outlooks(job_, now_, findings);
    std::vector<network::HiddenId> nodes;
    for (const GroundCause cause : causes_) nodes.push_back(job_.hidden(cause));
    for (std::size_t i = 0; i < order.size(); ++i) {
      if (!ahead[i]) continue;
      const double bits = information(nodes, now_, *ahead[i]);
      order[i]->information = std::max(order[i]->information, bits);
      add_outcomes(*order[i], *ahead[i]);
    }
  }

  /// H(cause) less what is left of it on average when the fact is known, summed over the causes
  /// that it moves; the fact is taken to be so in `usual_share` of the jobs.
  double awaited_information(const Candidate& one) const {
    if (one.awaited == nullptr) return 0.0;
    double bits = 0.0;
    std::vector<bool> seen(ground_.causes.size(), false);
    for (const AwaitedFact::Move& move : one.awaited->moves) {
      if (seen.at(move.cause.at())) continue;
      seen[move.cause.at()] = true;
      const Probability now = job_.chance(now_, move.cause);
      const double otherwise = std::clamp(
          (now.value() - usual_share * move.then.value()) / (1.0 - usual_share), 0.0, 1.0);
      const double mixed = usual_share * move.then.value() + (1.0 - usual_share) * otherwise;
      const auto entropy = [](double p) {
        return entropy_bits(Probability::from(p).value_or(Probability::never()));
      };
      bits += entropy(mixed) - usual_share * entropy(move.then.value()) -
              (1.0 - usual_share) * entropy(otherwise);
    }
    return bits;
  }

  void add_outcomes(Candidate& one, const Outlook& ahead) const {
    const auto first = [&](const std::vector<Probability>& then) {
      const auto cause = stories_.leader(job_, then);
      return cause ? ground_.says(*cause) : std::string();
    };
    const bool by_detail = one.question.kind == QuestionKind::detail;
    const std::string says = ground_.says(*one.weighed);
    one.question.outcomes = {
        {by_detail ? "so: " + says : "yes", ahead.yes, first(ahead.if_yes)},
        {by_detail ? "not so: " + says : "no", ahead.yes.inverted(), first(ahead.if_no)}};
  }

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
      if (!is_at_counter(finding)) continue;
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
  Stories stories_;
  const Posterior& now_;
  std::span<const std::string> passed_;
  std::vector<GroundCause> causes_;
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

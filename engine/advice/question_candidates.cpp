#include "advice/question_candidates.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>

#include "advice/information_guess.h"
#include "advice/outlook.h"
#include "advice/question_forms.h"
#include "advice/stories.h"
#include "support/sort_key.h"

namespace slipcase::advice {

namespace {

using evaluation::DetailFact;
using evaluation::JobFacts;
using grounding::GroundDetail;
using grounding::GroundEvent;
using grounding::GroundRules;
using network::Posterior;

/// How often a fact that rules wait for is so: a start of a car's history is seldom; a guess.
constexpr double usual_share = 0.1;
constexpr std::size_t most_weighed = 8;

class Gatherer {
 public:
  Gatherer(JobModel& job, const JobFacts& facts, const Posterior& before, const Posterior& now,
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

  std::vector<Candidate> take() { return std::move(candidates_); }

 private:
  struct Adder {
    Gatherer& list;
    const AwaitedFact& awaited;

    void operator()(GroundDetail detail) const { list.add_detail(detail, &awaited); }
    void operator()(GroundEvent event) const { list.add_event(event, awaited); }
    void operator()(GroundFinding finding) const {
      if (!is_at_counter(list.ground_, list.ways_, finding) || list.ground_.asks(finding).empty())
        return;
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
    return is_open(job_, finding) && is_at_counter(ground_, ways_, finding) &&
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

bool is_at_counter(const GroundRules& ground, const Ways& ways, GroundFinding finding) {
  return ground.declaration(finding).asks_driver || !ways.to(finding);
}

bool is_in(std::span<const std::string> list, const std::string& id) {
  return std::find(list.begin(), list.end(), id) != list.end();
}

std::vector<Candidate> question_candidates(JobModel& job, const JobFacts& facts,
                                           const Posterior& before, const Posterior& now,
                                           const OpenRules& open,
                                           std::span<const std::string> passed) {
  return Gatherer(job, facts, before, now, open, passed).take();
}

}  // namespace slipcase::advice

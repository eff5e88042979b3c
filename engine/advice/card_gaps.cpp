#include "advice/card_gaps.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <set>

#include <fmt/core.h>

#include "evaluation/open_facts.h"
#include "support/sort_key.h"

namespace slipcase::advice {

using evaluation::OpenFact;
using evaluation::State;
using evaluation::Undecided;
using grounding::GroundRules;
using network::Posterior;

namespace {

/// A rule, what it waits for and the chance of its cause if it applied.
struct OpenRule {
  Undecided undecided;
  std::vector<OpenFact> facts;
  std::optional<GroundCause> cause;
  Probability then;
  double moves = 0.0;
};

/// How a fact is asked for, for people and for programs.
struct FactText {
  std::string id;
  std::string asks;
  std::optional<grounding::GroundCheck> check;
};

class FactTexts {
 public:
  FactTexts(const GroundRules& ground, const Ways& ways) : ground_(ground), ways_(ways) {}

  FactText operator()(grounding::GroundDetail detail) const {
    const std::string name = ground_.name_of(detail);
    const std::string asks = ground_.asks(detail);
    return {name, asks.empty() ? name : asks, ways_.to(detail)};
  }
  FactText operator()(grounding::GroundReading reading) const {
    const std::string name = ground_.name_of(reading);
    return {name, name, ways_.to(reading)};
  }
  FactText operator()(grounding::GroundEvent event) const {
    return {ground_.name_of(event), ground_.asks(event), std::nullopt};
  }
  FactText operator()(GroundFinding finding) const {
    return {ground_.name_of(finding), ground_.asks(finding), ways_.to(finding)};
  }
  FactText operator()(const evaluation::CodesNotRead&) const {
    return {"codes", "Which codes are stored?", std::nullopt};
  }

 private:
  const GroundRules& ground_;
  const Ways& ways_;
};

class Finder {
 public:
  Finder(JobModel& job, evaluation::Evaluator& evaluator, const Ways& ways, const Posterior& now,
         const SourceSet& sources)
      : job_(job),
        ground_(job.ground()),
        evaluator_(evaluator),
        ways_(ways),
        texts_(job.ground(), ways),
        now_(now),
        sources_(sources) {}

  OpenRules find() {
    for (const Undecided& undecided : job_.states().undecided)
      rules_.push_back(open_rule(undecided));
    weigh();
    OpenRules result;
    std::map<std::string, std::size_t> lines;  // a line of the rules once for all its members
    for (const OpenRule& rule : rules_) {
      UndecidedRule told = told_of(rule);
      const auto [at, added] = lines.emplace(told.place, result.rules.size());
      if (added)
        result.rules.push_back(std::move(told));
      else
        result.rules[at->second].moves = std::max(result.rules[at->second].moves, rule.moves);
      add_gaps(rule, result.gaps);
      add_awaited(rule, result.awaited);
    }
    for (CardGap& gap : result.gaps) sort_moves(gap);
    std::stable_sort(
        result.gaps.begin(), result.gaps.end(),
        [](const CardGap& a, const CardGap& b) { return sort_key(a.most) > sort_key(b.most); });
    return result;
  }

 private:
  OpenRule open_rule(const Undecided& undecided) {
    OpenRule rule{undecided, {}, {}, {}, 0.0};
    switch (undecided.kind) {
      case Undecided::Kind::distrust: {
        const auto& distrust = ground_.distrusts.at(undecided.index);
        rule.facts = evaluation::open_facts(evaluator_, distrust.when);
        rule.moves = holds_back_something(distrust) ? 1.0 : 0.0;
        break;
      }
      case Undecided::Kind::becomes: {
        const auto& line = ground_.becomes.at(undecided.index);
        rule.facts = evaluation::open_facts(evaluator_, line.when);
        set_then(rule, line.cause, job_.chance(now_, line.cause).with_odds_times(line.times));
        break;
      }
      case Undecided::Kind::restriction: {
        const auto& line = ground_.restrictions.at(undecided.index);
        rule.facts = evaluation::open_facts(evaluator_, line.when);
        set_then(rule, line.cause, Probability::never());
        break;
      }
    }
    return rule;
  }

  void set_then(OpenRule& rule, GroundCause cause, Probability then) const {
    if (!job_.states().judged.at(cause.at())) return;
    rule.cause = cause;
    rule.then = then;
    rule.moves = std::fabs(then.value() - job_.chance(now_, cause).value());
  }

  /// A finding that was used, or a cause that is judged and not unlikely.
  bool holds_back_something(const grounding::GroundDistrust& distrust) const {
    constexpr double worth_naming = 0.01;
    for (std::uint32_t c = 0; c < ground_.causes.size(); ++c) {
      const GroundCause cause{c};
      if (distrust.not_judged.at(c) && job_.states().judged.at(c) &&
          job_.chance(now_, cause).value() >= worth_naming)
        return true;
    }
    return std::any_of(distrust.findings.begin(), distrust.findings.end(), [&](GroundFinding f) {
      const State state = job_.states().findings.at(f.at()).state;
      return state == State::present || state == State::absent;
    });
  }

  /// A multiplied rate multiplies the odds of a cause that nothing makes, whatever is known. Of one
  /// that others make it does not; the few that could move much are worked out.
  void weigh() {
    constexpr double could_matter = 0.02;
    constexpr std::size_t most_worked_out = 8;
    std::vector<OpenRule*> open;
    std::vector<network::Numbers> numbers;
    for (OpenRule& rule : rules_) {
      if (rule.undecided.kind != Undecided::Kind::becomes || rule.moves < could_matter) continue;
      const std::size_t h = job_.hidden(*rule.cause).at();
      if (job_.solver().wiring().is_root(h) || open.size() == most_worked_out) continue;
      const auto& line = ground_.becomes.at(rule.undecided.index);
      const Probability own = job_.network().hidden.at(h).own.with_odds_times(line.times);
      numbers.push_back(network::read_numbers(job_.solver().wiring(), job_.network()));
      numbers.back().own_yes[h] = own.value();
      numbers.back().own_no[h] = own.complement();
      open.push_back(&rule);
    }
    if (open.empty()) return;
    const auto outcomes = job_.solver().solve_numbers(job_.evidence(), numbers);
    for (std::size_t i = 0; i < open.size(); ++i) {
      if (const auto* then = std::get_if<Posterior>(&outcomes[i]))
        set_then(*open[i], *open[i]->cause, job_.chance(*then, *open[i]->cause));
    }
  }

  UndecidedRule told_of(const OpenRule& rule) const {
    UndecidedRule told;
    told.moves = rule.moves;
    std::vector<std::string> checks = checks_that_end(rule.undecided);
    const bool ended_by_check = !checks.empty();
    std::vector<std::string> questions;
    for (const OpenFact& fact : rule.facts) {
      const FactText text = std::visit(texts_, fact);
      told.waits_for.push_back(text.id);
      if (!text.check) add_once(questions, "ask: " + text.asks);
      if (text.check && !ended_by_check) add_once(checks, ground_.says(*text.check));
    }
    told.waits_for_says = std::move(checks);
    std::ranges::move(questions, std::back_inserter(told.waits_for_says));
    add_text(rule.undecided, told);
    return told;
  }

  /// With one of these done a distrust holds nothing back, whatever else is open.
  std::vector<std::string> checks_that_end(const Undecided& undecided) const {
    std::vector<std::string> checks;
    if (undecided.kind != Undecided::Kind::distrust) return checks;
    const auto& distrust = ground_.distrusts.at(undecided.index);
    for (const auto& until : ground_.rules->distrusts.at(distrust.declaration).until) {
      if (const auto* check = std::get_if<rulebase::CheckId>(&until.what))
        add_once(
            checks,
            ground_.says(grounding::GroundCheck{ground_.checks.at(check->index, until.member)}));
    }
    return checks;
  }

  void add_text(const Undecided& undecided, UndecidedRule& told) const {
    switch (undecided.kind) {
      case Undecided::Kind::distrust: {
        const auto& distrust =
            ground_.rules->distrusts.at(ground_.distrusts.at(undecided.index).declaration);
        told.text = "whether to set evidence aside because " + distrust.because;
        told.because = distrust.because;
        told.place = sources_.describe(distrust.header.place);
        break;
      }
      case Undecided::Kind::becomes: {
        const auto& line = ground_.becomes.at(undecided.index);
        told.text = fmt::format("whether `{}` is {:g} times as likely here",
                                ground_.name_of(line.cause), line.times);
        told.place = sources_.describe(line.line->place);
        break;
      }
      case Undecided::Kind::restriction: {
        const auto& line = ground_.restrictions.at(undecided.index);
        told.text =
            fmt::format("whether `{}` is possible at all here", ground_.name_of(line.cause));
        told.place = sources_.describe(line.line->place);
        break;
      }
    }
  }

  static void add_once(std::vector<std::string>& list, const std::string& text) {
    if (std::find(list.begin(), list.end(), text) == list.end()) list.push_back(text);
  }

  void add_gaps(const OpenRule& rule, std::vector<CardGap>& gaps) const {
    for (const OpenFact& fact : rule.facts) {
      const FactText text = std::visit(texts_, fact);
      CardGap& gap = gap_of(text, gaps);
      add_once(gap.ids, text.id);
      if (!rule.cause) continue;
      gap.moves.push_back({ground_.name_of(*rule.cause), ground_.says(*rule.cause),
                           job_.chance(now_, *rule.cause), rule.then});
    }
  }

  void add_awaited(const OpenRule& rule, std::vector<AwaitedFact>& awaited) const {
    for (const OpenFact& fact : rule.facts) {
      auto at = std::find_if(awaited.begin(), awaited.end(),
                             [&fact](const AwaitedFact& one) { return one.fact == fact; });
      if (at == awaited.end()) at = awaited.insert(at, AwaitedFact{fact, {}, {}});
      if (rule.cause) at->moves.push_back({*rule.cause, rule.then});
      if (rule.undecided.kind == Undecided::Kind::distrust && rule.moves > 0.0) {
        const auto& distrust = ground_.distrusts.at(rule.undecided.index);
        add_once(at->could_hold_back, ground_.rules->distrusts.at(distrust.declaration).because);
      }
    }
  }

  /// The facts of one check stand together.
  CardGap& gap_of(const FactText& text, std::vector<CardGap>& gaps) const {
    const std::string check = text.check ? ground_.name_of(*text.check) : std::string();
    const auto same = std::find_if(gaps.begin(), gaps.end(), [&](const CardGap& gap) {
      return gap.check == check && (text.check || gap.ids.front() == text.id);
    });
    if (same != gaps.end()) return *same;
    CardGap gap;
    gap.check = check;
    gap.asks = text.check ? ground_.says(*text.check) : text.asks;
    gap.minutes = text.check ? ways_.minutes(*text.check) : minutes_to_ask;
    gaps.push_back(std::move(gap));
    return gaps.back();
  }

  /// Largest first, a cause once.
  static void sort_moves(CardGap& gap) {
    const auto by = [](const CardGap::Move& m) {
      return std::fabs(m.then.value() - m.now.value());
    };
    std::stable_sort(gap.moves.begin(), gap.moves.end(), [&](const auto& a, const auto& b) {
      return sort_key(by(a)) > sort_key(by(b));
    });
    std::set<std::string> seen;
    std::erase_if(gap.moves, [&](const auto& m) { return !seen.insert(m.cause).second; });
    gap.most = gap.moves.empty() ? 0.0 : by(gap.moves.front());
  }

  JobModel& job_;
  const GroundRules& ground_;
  evaluation::Evaluator& evaluator_;
  const Ways& ways_;
  FactTexts texts_;
  const Posterior& now_;
  const SourceSet& sources_;
  std::vector<OpenRule> rules_;
};

}  // namespace

OpenRules open_rules(JobModel& job, evaluation::Evaluator& evaluator, const Ways& ways,
                     const Posterior& now, const SourceSet& sources) {
  return Finder(job, evaluator, ways, now, sources).find();
}

}  // namespace slipcase::advice

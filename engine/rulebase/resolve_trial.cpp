// Trials: jobs that the rules are tried on, and what must come out.
#include <algorithm>
#include <map>

#include <fmt/core.h>

#include "rulebase/codes.h"
#include "rulebase/counts.h"
#include "rulebase/lines.h"
#include "rulebase/messages.h"
#include "rulebase/resolve_parts.h"
#include "rulebase/targets.h"
#include "rulebase/values.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

constexpr std::string_view name_one = "a trial is about one job, so name a member";

struct Named {
  const Symbol* symbol;
  Term member;
};

class TrialResolver {
 public:
  TrialResolver(Context& context, const MergedDeclaration& declaration, Trial& trial)
      : context_(context), declaration_(declaration), trial_(trial) {}

  /// False if the trial is about something that the shop took out of use: then it says nothing.
  bool resolve() {
    const std::string& title = trial_.title;
    if (std::all_of(title.begin(), title.end(), [](char c) { return c == ' '; })) {
      context_.error(trial_shape, declaration_.declaration->name.place,
                     "this trial has no name; write between the quotes what it is about");
    }
    job();
    for_each_line<language::TrialWith>(context_, declaration_, [&](const auto& line, const auto&) {
      for (const language::TrialFact& written : line.facts) {
        if (const auto fact = resolve_fact(written)) trial_.facts.push_back(*fact);
      }
    });
    for_each_line<language::Expect>(context_, declaration_, [&](const auto& line, const auto&) {
      if (auto expected = expectation(line)) trial_.expectations.push_back(std::move(*expected));
    });
    if (find_line<language::Expect>(declaration_) == nullptr && !declaration_.broken) {
      context_.error(
          trial_shape, declaration_.declaration->place,
          "this trial expects nothing; write what must come out, as in `expect lining_worn "
          "of K3 first`");
    }
    return !left_out_;
  }

 private:
  void job() {
    if (const auto* job = find_line<language::TrialJob>(declaration_)) trial_.job = job->path.text;
    if (const auto* opened = find_line<language::TrialOpened>(declaration_)) {
      trial_.opened = units::Date::parse(opened->date.text);
    }
    if (const auto* odometer = find_line<language::TrialOdometer>(declaration_)) {
      trial_.odometer = odometer_reading(odometer->reading);
    }
    const bool written_out =
        trial_.opened || trial_.odometer || find_line<language::TrialWith>(declaration_) != nullptr;
    if (trial_.job && written_out) {
      context_.error(
          trial_shape, find_line<language::TrialJob>(declaration_)->path.place,
          "a trial has either `job` with a card, or `opened`, `odometer` and `with` lines");
    }
  }

  std::optional<units::Quantity> odometer_reading(const language::QuantityLiteral& written) {
    const auto reading = resolve_quantity_of(context_, written, units::of(units::Base::distance),
                                             "an odometer reading");
    if (!reading || reading->value >= 0.0) return reading;
    context_.error(impossible_number, written.place, "an odometer counts up from 0");
    return std::nullopt;
  }

  std::optional<Named> named(const language::Reference& reference, Kinds wanted,
                             std::string_view what_for) {
    bool left_out = false;
    const Symbol* symbol = context_.find_target(reference.name, wanted, what_for, left_out);
    left_out_ = left_out_ || left_out;
    if (symbol == nullptr) return std::nullopt;
    const auto term =
        resolve_single(context_, *symbol, reference, Variables(std::nullopt), name_one);
    if (!term) return std::nullopt;
    if (!context_.check_in_use(reference.name, *symbol, *term, &left_out)) {
      left_out_ = left_out_ || left_out;
      return std::nullopt;
    }
    return Named{symbol, *term};
  }

  std::optional<TrialFact> resolve_fact(const language::TrialFact& written) {
    TrialFact fact;
    fact.place = written.place;
    fact.no = written.no;
    fact.pending = written.pending;
    if (written.code) {
      fact.code = resolve_code(context_, *written.code);
      if (!fact.code) return std::nullopt;
      return fact;
    }
    if (!written.what) return std::nullopt;
    const auto what =
        named(*written.what, Kind::detail | Kind::reading | Kind::event | Kind::finding, "`with`");
    if (!what) return std::nullopt;
    fact.member = what->member;
    if (!value(written, *what->symbol, fact) || !when(written, *what->symbol, fact)) {
      return std::nullopt;
    }
    return fact;
  }

  // A check that flags is meant as its finding unless a date or odometer says that it was done.
  bool value(const language::TrialFact& written, const Symbol& symbol, TrialFact& fact) {
    const bool done = written.on || written.at || written.by != language::Hand::anyone;
    if (symbol.kind == Kind::detail) return detail_value(written, symbol, fact);
    if (symbol.kind == Kind::reading) return reading_value(written, symbol, fact);
    if (written.is) {
      context_.error(trial_shape, written.place,
                     fmt::format("`{}` is {}; `is` goes with details and readings", symbol.name,
                                 with_article(symbol.kind)));
      return false;
    }
    if (symbol.finding && !done) {
      fact.what = *symbol.finding;
      return finding_grade(written, symbol, fact);
    }
    fact.what = *symbol.event;
    if (!written.grade) return true;
    context_.error(unknown_grade, written.grade->place,
                   fmt::format("`{}` is an event and has no grades", symbol.name));
    return false;
  }

  bool finding_grade(const language::TrialFact& written, const Symbol& symbol, TrialFact& fact) {
    if (!written.grade) return true;
    const auto& grades = context_.rules.findings[symbol.finding->at()].grades;
    const auto grade = resolve_grade(context_, *written.grade, grades, symbol.name);
    if (grade) fact.grade = *grade;
    return grade.has_value();
  }

  bool detail_value(const language::TrialFact& written, const Symbol& symbol, TrialFact& fact) {
    const auto id = std::get<DetailId>(symbol.entity);
    const Detail& detail = context_.rules.details[id.at()];
    fact.what = id;
    switch (detail.type) {
      case Detail::Type::yes_no:
        return yes_or_no(written, symbol, fact);
      case Detail::Type::choice:
        return choice(written, detail, fact);
      case Detail::Type::date:
        return date(written, symbol, fact);
      case Detail::Type::quantity:
        return quantity(written, symbol, detail.dimension, fact);
    }
    return false;
  }

  bool yes_or_no(const language::TrialFact& written, const Symbol& symbol, TrialFact& fact) {
    const auto* word = written.is ? std::get_if<language::Word>(&*written.is) : nullptr;
    if (written.is && (word == nullptr || (word->text != "yes" && word->text != "no"))) {
      context_.error(
          trial_shape, written.place,
          fmt::format("`{0}` is yes or no; write `{0} is yes` or `{0} is no`", symbol.name));
      return false;
    }
    fact.is = (word == nullptr || word->text == "yes") != written.no;
    fact.no = false;
    return true;
  }

  bool choice(const language::TrialFact& written, const Detail& detail, TrialFact& fact) {
    const auto* word = written.is ? std::get_if<language::Word>(&*written.is) : nullptr;
    const auto found = word == nullptr
                           ? detail.words.end()
                           : std::find(detail.words.begin(), detail.words.end(), word->text);
    if (found == detail.words.end()) {
      context_.error(
          unknown_word, word == nullptr ? written.place : word->place,
          fmt::format("`{}` is {}; write `{} is {}`", detail.header.name, quoted_list(detail.words),
                      detail.header.name, detail.words.empty() ? "..." : detail.words.front()));
      return false;
    }
    fact.is = static_cast<std::uint32_t>(found - detail.words.begin());
    return true;
  }

  bool date(const language::TrialFact& written, const Symbol& symbol, TrialFact& fact) {
    const auto* literal = written.is ? std::get_if<language::DateLiteral>(&*written.is) : nullptr;
    const auto date = literal == nullptr ? std::nullopt : units::Date::parse(literal->text);
    if (!date) {
      context_.error(trial_shape, written.place,
                     fmt::format("`{0}` is a date; write `{0} is 2031-04-22`", symbol.name));
      return false;
    }
    fact.is = *date;
    return true;
  }

  bool quantity(const language::TrialFact& written, const Symbol& symbol,
                const units::Dimension& dimension, TrialFact& fact) {
    const auto* literal =
        written.is ? std::get_if<language::QuantityLiteral>(&*written.is) : nullptr;
    if (literal == nullptr) {
      context_.error(trial_shape, written.place,
                     fmt::format("`{0}` is {1}; write `{0} is ...` with a number and a unit",
                                 symbol.name, units::describe(dimension)));
      return false;
    }
    const auto read =
        resolve_quantity_of(context_, *literal, dimension, fmt::format("`{}`", symbol.name));
    if (!read) return false;
    fact.is = *read;
    return true;
  }

  bool reading_value(const language::TrialFact& written, const Symbol& symbol, TrialFact& fact) {
    const auto id = std::get<ReadingId>(symbol.entity);
    fact.what = id;
    return quantity(written, symbol, context_.rules.readings[id.at()].dimension, fact);
  }

  bool when(const language::TrialFact& written, const Symbol& symbol, TrialFact& fact) {
    if (written.on) fact.on = units::Date::parse(written.on->text);
    if (written.at) {
      fact.at = odometer_reading(*written.at);
      if (!fact.at) return false;
    }
    switch (written.by) {
      case language::Hand::anyone:
        break;
      case language::Hand::us:
        fact.by = EventUse::Hand::us;
        break;
      case language::Hand::others:
        fact.by = EventUse::Hand::others;
        break;
    }
    const bool event = std::holds_alternative<EventId>(fact.what);
    const bool dated = fact.on || fact.at;
    if (event && !dated && !fact.no) {
      context_.error(
          trial_shape, written.place,
          fmt::format("when was `{0}`? write `{0} on 2031-03-02`, or `at` with the odometer",
                      symbol.name));
      return false;
    }
    return true;
  }

  std::optional<CauseAt> cause(const language::Reference& reference) {
    const auto found = named(reference, Kind::cause, "this place");
    if (!found) return std::nullopt;
    return CauseAt{std::get<CauseId>(found->symbol->entity), found->member};
  }

  std::optional<TrialExpectation> expectation(const language::Expect& written) {
    TrialExpectation result{written.place, {}};
    const bool good =
        std::visit([&](const auto& node) { return expect(node, result); }, written.node);
    if (!good) return std::nullopt;
    return result;
  }

  bool expect(const language::ExpectFirst& node, TrialExpectation& result) {
    const auto found = cause(node.cause);
    if (found) result.what = TrialExpectation::First{*found};
    return found.has_value();
  }
  bool expect(const language::ExpectAmong& node, TrialExpectation& result) {
    const auto found = cause(node.cause);
    if (node.first.value == 0) {
      context_.error(trial_shape, node.first.place,
                     "nothing is among the first 0; write 1 or more");
      return false;
    }
    if (found) result.what = TrialExpectation::Among{*found, node.first.value};
    return found.has_value();
  }
  bool expect(const language::ExpectChance& node, TrialExpectation& result) {
    const auto found = cause(node.cause);
    const auto limit = resolve_count(context_, node.count);
    if (!found || !limit) return false;
    result.what = TrialExpectation::Chance{*found, node.above, *limit};
    return true;
  }
  bool expect(const language::ExpectBefore& node, TrialExpectation& result) {
    const auto found = cause(node.cause);
    const auto other = cause(node.other);
    if (!found || !other) return false;
    if (same(*found, *other)) {
      context_.error(trial_shape, node.other.place, "nothing comes before itself");
      return false;
    }
    result.what = TrialExpectation::Before{*found, *other};
    return true;
  }
  bool expect(const language::ExpectNotJudged& node, TrialExpectation& result) {
    const auto found = cause(node.cause);
    if (found) result.what = TrialExpectation::NotJudged{*found};
    return found.has_value();
  }
  bool expect(const language::ExpectNext& node, TrialExpectation& result) {
    const auto found = named(node.check, Kind::check, "`next`");
    if (!found) return false;
    result.what = TrialExpectation::Next{std::get<CheckId>(found->symbol->entity), found->member};
    return true;
  }
  bool expect(const language::ExpectState& node, TrialExpectation& result) {
    const auto found = named(node.finding, Kind::finding, "this place");
    if (!found) return false;
    using State = TrialExpectation::State;
    State state{state_of(node.state), *found->symbol->finding, found->member, 0};
    if (node.grade) {
      const auto& grades = context_.rules.findings[state.finding.at()].grades;
      const auto grade = resolve_grade(context_, *node.grade, grades, found->symbol->name);
      if (!grade) return false;
      state.grade = *grade;
    }
    result.what = state;
    return true;
  }

  static bool same(const CauseAt& a, const CauseAt& b) {
    const auto* member = std::get_if<MemberId>(&a.member);
    const auto* other = std::get_if<MemberId>(&b.member);
    const bool same_member =
        member == nullptr || other == nullptr ? member == other : *member == *other;
    return a.cause == b.cause && same_member;
  }

  static TrialExpectation::State::Kind state_of(language::ExpectedState state) {
    using Kind = TrialExpectation::State::Kind;
    switch (state) {
      case language::ExpectedState::present:
      case language::ExpectedState::grade:
        return Kind::present;
      case language::ExpectedState::absent:
        return Kind::absent;
      case language::ExpectedState::unknown:
        return Kind::unknown;
      case language::ExpectedState::left_out:
        return Kind::left_out;
      case language::ExpectedState::set_aside:
        return Kind::set_aside;
    }
    return Kind::present;
  }

  Context& context_;
  const MergedDeclaration& declaration_;
  Trial& trial_;
  bool left_out_ = false;
};

}  // namespace

void resolve_trial(Context& context, const MergedDeclaration& declaration) {
  Trial trial;
  trial.title = declaration.declaration->name.text;
  trial.place = declaration.declaration->place;
  if (TrialResolver(context, declaration, trial).resolve()) {
    context.rules.trials.push_back(std::move(trial));
  }
}

void check_trial_names(Context& context, const Merged& merged) {
  std::map<std::string_view, Place> first;
  for (const MergedDeclaration& entry : merged.declarations) {
    const language::Declaration& declaration = *entry.declaration;
    if (declaration.kind != language::DeclarationKind::trial || entry.uncertain) continue;
    const language::Word& name = declaration.name;
    const auto [known, is_new] = first.try_emplace(name.text, name.place);
    if (is_new || name.text.empty()) continue;
    auto& diagnostic = context.error(
        trial_named_twice, name.place,
        "another trial has the same name, so a report cannot tell them apart; give it another");
    diagnostic.notes.push_back({known->second, "the other is here"});
  }
}

}  // namespace slipcase::rulebase

// Declarations and their lines to text, in one fixed layout.
#include "language/print.h"

#include <algorithm>

#include <fmt/core.h>

#include "language/print_parts.h"
#include "language/words.h"

namespace slipcase::language {

namespace {

std::string references_text(const std::vector<Reference>& list) {
  return list_text(list, ", ", [](const Reference& reference) { return print(reference); });
}

std::string words_text(const std::vector<Word>& words, std::string_view between) {
  return list_text(words, between, [](const Word& word) { return word.text; });
}

// --- counts ------------------------------------------------------------------------------------

std::string bare_count_text(const CountPhrase& count) {
  return fmt::format("{} of {}", count.hits.value, count.total.value);
}

std::string count_text(const CountPhrase& count) {
  return bare_count_text(count) + " jobs" + (count.together ? " together" : "");
}

/// " in 8 of 10 jobs"; nothing where none was written.
std::string in_count(const CountPhrase& count) {
  return count.total.value == 0 && count.hits.value == 0 ? "" : " in " + count_text(count);
}

std::string hits_text(const GradeHits& hits) {
  if (!hits.grade) return fmt::format("in {}", hits.hits.value);
  return fmt::format("{}{} in {}", hits.grade->text, hits.or_more ? " or more" : "",
                     hits.hits.value);
}

std::string graded_text(const GradedCount& count) {
  if (count.parts.empty()) return "";
  return fmt::format(" {} of {} jobs{}", list_text(count.parts, ", ", hits_text), count.total.value,
                     count.together ? " together" : "");
}

std::string because_text(const std::optional<Text>& because) {
  return because ? fmt::format("\n{0}{0}because {1}", indent, quoted(because->text)) : "";
}

// --- lists -------------------------------------------------------------------------------------

std::string found_text(const Found& found) {
  std::string text = in_count(found.count);
  if (found.except.empty()) return text;
  return text + ", except " + list_text(found.except, ", ", [](const MemberRate& rate) {
           return words_text(rate.members, " ") + " in " + count_text(rate.count);
         });
}

std::string judged_text(const std::vector<Judged>& list) {
  return list_text(list, ", ", [](const Judged& judged) {
    return (judged.group ? "group " : "") + print(judged.what);
  });
}

std::string cures_text(const Cures& cures) {
  return list_text(cures.what, ", ", [](const Cure& cure) {
    return print(cure.what) + (cure.count ? " in " + count_text(*cure.count) : "");
  });
}

std::string flags_text(const Flags& flags) {
  std::string text = print(flags.what);
  const bool named_alone = flags.bad.total.value == 0 && flags.good.total.value == 0 &&
                           flags.bad.hits.value == 0 && flags.good.hits.value == 0;
  if (named_alone) return text;
  return fmt::format("{} in {} bad, in {} good", text, bare_count_text(flags.bad),
                     bare_count_text(flags.good));
}

// --- trials ------------------------------------------------------------------------------------

std::string held_text(const std::variant<Word, QuantityLiteral, DateLiteral>& held) {
  return std::visit(
      Overloaded{[](const Word& word) { return word.text; },
                 [](const QuantityLiteral& quantity) { return quantity_text(quantity); },
                 [](const DateLiteral& date) { return date.text; }},
      held);
}

std::string fact_text(const TrialFact& fact) {
  std::string text = fact.no ? "no " : "";
  if (fact.code) return text + (fact.pending ? "pending " : "stored ") + fact.code->text;
  if (fact.what) text += print(*fact.what);
  if (fact.is) text += " is " + held_text(*fact.is);
  if (fact.grade) text += " " + fact.grade->text;
  if (fact.on) text += " on " + fact.on->text;
  if (fact.at) text += " at " + quantity_text(*fact.at);
  return text + hand_text(fact.by);
}

std::string state_text(const ExpectState& expect) {
  const std::string finding = print(expect.finding);
  switch (expect.state) {
    case ExpectedState::present:
      return finding;
    case ExpectedState::absent:
      return "no " + finding;
    case ExpectedState::unknown:
      return finding + " unknown";
    case ExpectedState::left_out:
      return finding + " left out";
    case ExpectedState::set_aside:
      return finding + " set aside";
    case ExpectedState::grade:
      return finding + " " + (expect.grade ? expect.grade->text : "");
  }
  return finding;
}

std::string expect_text(const Expect& expect) {
  return std::visit(
      Overloaded{
          [](const ExpectFirst& first) { return print(first.cause) + " first"; },
          [](const ExpectAmong& among) {
            return fmt::format("{} among first {}", print(among.cause), among.first.value);
          },
          [](const ExpectChance& chance) {
            return fmt::format("{} {} {}", print(chance.cause), chance.above ? "above" : "below",
                               bare_count_text(chance.count));
          },
          [](const ExpectBefore& before) {
            return fmt::format("{} before {}", print(before.cause), print(before.other));
          },
          [](const ExpectNotJudged& cause) { return print(cause.cause) + " not judged"; },
          [](const ExpectNext& next) { return "next " + print(next.check); },
          [](const ExpectState& state) { return state_text(state); },
      },
      expect.node);
}

// --- clauses -----------------------------------------------------------------------------------

/// The line; each starts with the words that the grammar knows it by.
struct ClausePrinter {
  std::string operator()(const Says& clause) const { return "says " + quoted(clause.text.text); }
  std::string operator()(const Asks& clause) const {
    return (clause.driver ? "asks driver " : "asks ") + quoted(clause.text.text);
  }
  std::string operator()(const How& clause) const { return "how " + quoted(clause.text.text); }
  std::string operator()(const Because& clause) const {
    return "because " + quoted(clause.text.text);
  }
  std::string operator()(const SourceLine& clause) const {
    return "source " + quoted(clause.text.text);
  }
  std::string operator()(const NoteLine& clause) const {
    return "note " + quoted(clause.text.text);
  }
  std::string operator()(const By& clause) const { return "by " + quoted(clause.initials.text); }
  std::string operator()(const TrialJob& clause) const { return "job " + quoted(clause.path.text); }
  std::string operator()(const Group& clause) const { return "group " + clause.name.text; }
  std::string operator()(const Found& clause) const { return "found" + found_text(clause); }
  std::string operator()(const Becomes& clause) const {
    return fmt::format("becomes {} times as likely when {}", number_text(clause.times.value),
                       print(clause.when));
  }
  std::string operator()(const NeverWhen& clause) const {
    return "never when " + print(clause.when);
  }
  std::string operator()(const PossibleOnly& clause) const {
    return "possible only when " + print(clause.when);
  }
  std::string operator()(const Shows& clause) const {
    return "shows " + print(clause.what) + graded_text(clause.count) + because_text(clause.because);
  }
  std::string operator()(const ThenCauses& clause) const {
    return "then causes " + print(clause.what) + in_count(clause.count) +
           because_text(clause.because);
  }
  std::string operator()(const Grade& clause) const {
    return "grade " + clause.name.text + (clause.when ? " when " + print(*clause.when) : "");
  }
  std::string operator()(const When& clause) const { return "when " + print(clause.condition); }
  std::string operator()(const Otherwise& clause) const {
    return "otherwise" + graded_text(clause.count);
  }
  std::string operator()(const Overall& clause) const {
    return "overall" + graded_text(clause.count);
  }
  std::string operator()(const CountsAs& clause) const { return "counts as " + clause.event.text; }
  std::string operator()(const SetsAside& clause) const {
    return "sets aside " + references_text(clause.what);
  }
  std::string operator()(const ExceptThese& clause) const {
    return "except " + references_text(clause.what);
  }
  std::string operator()(const JudgeOnly& clause) const {
    return "judge only " + judged_text(clause.what);
  }
  std::string operator()(const NotJudged& clause) const {
    return "not judged " + judged_text(clause.what);
  }
  std::string operator()(const Until& clause) const {
    return "until " + references_text(clause.what);
  }
  std::string operator()(const Takes& clause) const {
    return "takes " + quantity_text(clause.time);
  }
  std::string operator()(const Costs& clause) const {
    return "costs " + number_text(clause.money.value);
  }
  std::string operator()(const Needs& clause) const {
    return "needs " + references_text(clause.what);
  }
  std::string operator()(const Answers& clause) const {
    return "answers " + references_text(clause.what);
  }
  std::string operator()(const Flags& clause) const { return "flags " + flags_text(clause); }
  std::string operator()(const Cautions& clause) const {
    return "caution " + references_text(clause.what);
  }
  std::string operator()(const Cures& clause) const { return "cures " + cures_text(clause); }
  std::string operator()(const OnlyAfter& clause) const {
    return "only after " + references_text(clause.what);
  }
  std::string operator()(const FollowWith& clause) const {
    return "follow with " + references_text(clause.what);
  }
  std::string operator()(const Dated& clause) const { return "dated " + clause.date.text; }
  std::string operator()(const TrialOpened& clause) const { return "opened " + clause.date.text; }
  std::string operator()(const TrialOdometer& clause) const {
    return "odometer " + quantity_text(clause.reading);
  }
  std::string operator()(const TrialWith& clause) const {
    return "with " + list_text(clause.facts, ", ", fact_text);
  }
  std::string operator()(const Expect& clause) const { return "expect " + expect_text(clause); }
};

// --- declarations ------------------------------------------------------------------------------

std::string type_text(const DetailType& type) {
  return std::visit(Overloaded{[](const YesNoType&) { return std::string("yes or no"); },
                               [](const DateType&) { return std::string("date"); },
                               [](const DimensionType& dimension) { return dimension.name.text; },
                               [](const ChoiceType& choice) {
                                 return "one of " + words_text(choice.words, ", ");
                               }},
                    type);
}

}  // namespace

std::string header_text(const Declaration& declaration) {
  const auto words = declaration_words();
  const auto entry = std::find_if(words.begin(), words.end(), [&](const DeclarationWord& each) {
    return each.kind == declaration.kind;
  });
  if (declaration.kind == DeclarationKind::at_most_one) {
    const std::string per = declaration.of ? "per " + declaration.of->text + " " : "";
    return fmt::format("at most one {}of {}", per, words_text(declaration.alternatives, ", "));
  }
  std::string text(entry->word);
  const bool trial = declaration.kind == DeclarationKind::trial;
  text += " " + (trial ? quoted(declaration.name.text) : declaration.name.text);
  if (declaration.of) text += " of " + declaration.of->text;
  if (declaration.type) text += " : " + type_text(*declaration.type);
  return text;
}

std::string print(const Clause& clause) { return std::visit(ClausePrinter{}, clause.body); }

std::string print(const Declaration& declaration) {
  std::string text = header_text(declaration) + "\n";
  for (const Clause& clause : declaration.clauses)
    text += fmt::format("{}{}\n", indent, print(clause));
  return text;
}

}  // namespace slipcase::language

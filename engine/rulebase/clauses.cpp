#include "rulebase/clauses.h"

#include <algorithm>
#include <initializer_list>
#include <type_traits>
#include <vector>

#include <fmt/core.h>

#include "language/print.h"

namespace slipcase::rulebase {

namespace {

namespace lang = language;
using Declared = lang::DeclarationKind;

class DeclaredSet {
 public:
  constexpr DeclaredSet(std::initializer_list<Declared> kinds) {
    for (const Declared kind : kinds) bits_ |= 1U << static_cast<unsigned>(kind);
  }
  [[nodiscard]] constexpr bool has(Declared kind) const {
    return (bits_ >> static_cast<unsigned>(kind) & 1U) != 0;
  }

 private:
  std::uint32_t bits_ = 0;
};

enum class Shape : std::uint8_t { single, many, list };

struct ClauseRule {
  DeclaredSet in;
  Shape shape = Shape::single;
  bool for_one_member = false;
};

// What a clause may stand in.
namespace in {
constexpr DeclaredSet named{Declared::detail,   Declared::reading, Declared::event,
                            Declared::finding,  Declared::inside,  Declared::cause,
                            Declared::distrust, Declared::check,   Declared::access,
                            Declared::repair,   Declared::caution};
constexpr DeclaredSet steps{Declared::check, Declared::repair};
constexpr DeclaredSet work{Declared::check, Declared::access, Declared::repair};
constexpr DeclaredSet causes{Declared::cause};
constexpr DeclaredSet findings{Declared::finding};
constexpr DeclaredSet distrusts{Declared::distrust};
constexpr DeclaredSet trials{Declared::trial};
constexpr DeclaredSet layers{Declared::extend, Declared::revise, Declared::remove};
}  // namespace in

struct RuleOf {
  ClauseRule operator()(const lang::Says&) const { return {in::named}; }
  ClauseRule operator()(const lang::Asks&) const {
    return {{Declared::detail, Declared::event, Declared::finding}};
  }
  ClauseRule operator()(const lang::How&) const { return {in::steps}; }
  ClauseRule operator()(const lang::Because&) const { return {in::distrusts}; }
  ClauseRule operator()(const lang::SourceLine&) const { return {in::named}; }
  ClauseRule operator()(const lang::Group&) const { return {in::causes}; }
  ClauseRule operator()(const lang::Found&) const { return {in::causes, Shape::single, true}; }
  ClauseRule operator()(const lang::Becomes&) const { return {in::causes, Shape::many, true}; }
  ClauseRule operator()(const lang::NeverWhen&) const { return {in::causes, Shape::many, true}; }
  ClauseRule operator()(const lang::PossibleOnly&) const { return {in::causes, Shape::many, true}; }
  ClauseRule operator()(const lang::Shows&) const {
    return {{Declared::cause, Declared::inside}, Shape::many, true};
  }
  ClauseRule operator()(const lang::ThenCauses&) const { return {in::causes, Shape::many, true}; }
  ClauseRule operator()(const lang::Grade&) const { return {in::findings, Shape::many}; }
  ClauseRule operator()(const lang::When&) const {
    return {{Declared::finding, Declared::distrust}};
  }
  ClauseRule operator()(const lang::Otherwise&) const {
    return {{Declared::finding, Declared::inside}, Shape::single, true};
  }
  ClauseRule operator()(const lang::Overall&) const { return {in::findings, Shape::single, true}; }
  ClauseRule operator()(const lang::CountsAs&) const {
    return {{Declared::event, Declared::check, Declared::repair}, Shape::many};
  }
  ClauseRule operator()(const lang::SetsAside&) const { return {in::distrusts, Shape::list}; }
  ClauseRule operator()(const lang::ExceptThese&) const { return {in::distrusts, Shape::list}; }
  ClauseRule operator()(const lang::JudgeOnly&) const { return {in::distrusts, Shape::list}; }
  ClauseRule operator()(const lang::NotJudged&) const { return {in::distrusts, Shape::list}; }
  ClauseRule operator()(const lang::Until&) const { return {in::distrusts, Shape::list}; }
  ClauseRule operator()(const lang::Takes&) const { return {in::work}; }
  ClauseRule operator()(const lang::Costs&) const { return {in::work}; }
  ClauseRule operator()(const lang::Needs&) const { return {in::work, Shape::list}; }
  ClauseRule operator()(const lang::Answers&) const { return {{Declared::check}, Shape::list}; }
  ClauseRule operator()(const lang::Flags&) const { return {{Declared::check}, Shape::many}; }
  ClauseRule operator()(const lang::Cautions&) const {
    return {{Declared::finding, Declared::check, Declared::access, Declared::repair}, Shape::list};
  }
  ClauseRule operator()(const lang::Cures&) const { return {{Declared::repair}, Shape::list}; }
  ClauseRule operator()(const lang::OnlyAfter&) const { return {in::steps, Shape::list}; }
  ClauseRule operator()(const lang::FollowWith&) const { return {in::steps, Shape::list}; }
  ClauseRule operator()(const lang::By&) const { return {in::layers}; }
  ClauseRule operator()(const lang::Dated&) const { return {in::layers}; }
  ClauseRule operator()(const lang::NoteLine&) const { return {in::layers}; }
  ClauseRule operator()(const lang::TrialJob&) const { return {in::trials}; }
  ClauseRule operator()(const lang::TrialOpened&) const { return {in::trials}; }
  ClauseRule operator()(const lang::TrialOdometer&) const { return {in::trials}; }
  ClauseRule operator()(const lang::TrialWith&) const { return {in::trials, Shape::many}; }
  ClauseRule operator()(const lang::Expect&) const { return {in::trials, Shape::many}; }
};

ClauseRule rule_of(const lang::Clause& clause) { return std::visit(RuleOf{}, clause.body); }

struct TargetOf {
  std::string operator()(const lang::Shows& line) const { return lang::print(line.what); }
  std::string operator()(const lang::ThenCauses& line) const { return lang::print(line.what); }
  std::string operator()(const lang::Flags& line) const { return lang::print(line.what); }
  std::string operator()(const lang::Grade& line) const { return line.name.text; }
  std::string operator()(const lang::CountsAs& line) const { return line.event.text; }
  // A multiplier or a restriction is about its condition: there may be several of them.
  std::string operator()(const lang::Becomes& line) const { return lang::print(line.when); }
  std::string operator()(const lang::NeverWhen& line) const { return lang::print(line.when); }
  std::string operator()(const lang::PossibleOnly& line) const { return lang::print(line.when); }
  template <class Other>
  std::string operator()(const Other&) const {
    return "";
  }
};

std::string text_of(const lang::Reference& entry) { return lang::print(entry); }
std::string text_of(const lang::Judged& entry) {
  return (entry.group ? "group " : "") + lang::print(entry.what);
}
std::string text_of(const lang::Cure& entry) { return lang::print(entry.what); }

template <class Entry>
std::vector<std::string> texts_of(const std::vector<Entry>& entries) {
  std::vector<std::string> texts;
  for (const Entry& entry : entries) texts.push_back(text_of(entry));
  return texts;
}

// Bodies that hold a list `what`, of whatever they hold.
template <class Body>
concept ListBody = requires(const Body& body) {
  texts_of(body.what);
};

struct EntriesOf {
  template <class Body>
  std::vector<std::string> operator()(const Body& body) const {
    if constexpr (ListBody<Body>) {
      return texts_of(body.what);
    } else {
      return {};
    }
  }
};

std::string hint_for_rate(Declared kind) {
  if (kind == Declared::finding) {
    return "for a finding write `overall in 1 of 20 jobs` (of all cars that come in) or `otherwise "
           "in 1 of 100 jobs` (of cars with none of the causes that show it)";
  }
  if (kind == Declared::inside) {
    return "for an inside write `otherwise in 1 of 100 jobs` (of cars with none of the causes that "
           "show it)";
  }
  if (kind == Declared::cause) return "for a cause write `found in 1 of 50 jobs`";
  return "";
}

std::string places_for(const lang::Clause& clause) {
  const DeclaredSet in = rule_of(clause).in;
  std::string text;
  for (unsigned i = 0; i <= static_cast<unsigned>(Declared::remove); ++i) {
    const auto kind = static_cast<Declared>(i);
    if (in.has(kind)) text += (text.empty() ? "" : ", ") + std::string(with_article(kind));
  }
  const std::size_t last = text.rfind(", ");
  return last == std::string::npos ? text : text.substr(0, last) + " or " + text.substr(last + 2);
}

}  // namespace

bool belongs_in(const lang::Clause& clause, Declared kind) { return rule_of(clause).in.has(kind); }
bool is_single(const lang::Clause& clause) { return rule_of(clause).shape == Shape::single; }
bool is_list(const lang::Clause& clause) { return rule_of(clause).shape == Shape::list; }
bool can_be_for_one_member(const lang::Clause& clause) { return rule_of(clause).for_one_member; }
bool is_about_layer(const lang::Clause& clause) {
  return std::holds_alternative<lang::By>(clause.body) ||
         std::holds_alternative<lang::Dated>(clause.body) ||
         std::holds_alternative<lang::NoteLine>(clause.body);
}

std::string hint_for(const lang::Clause& clause, Declared kind) {
  const bool rate = std::holds_alternative<lang::Found>(clause.body) ||
                    std::holds_alternative<lang::Overall>(clause.body) ||
                    std::holds_alternative<lang::Otherwise>(clause.body);
  std::string hint = fmt::format("`{}` belongs to {}", clause.first_word.text, places_for(clause));
  if (rate && !hint_for_rate(kind).empty()) return hint + "; " + hint_for_rate(kind);
  if (std::holds_alternative<lang::ThenCauses>(clause.body) && kind == Declared::inside) {
    return hint + "; what an inside leads to is written `shows`";
  }
  if (std::holds_alternative<lang::Shows>(clause.body) && kind == Declared::finding) {
    return hint + "; write it at the cause: it shows the finding, not the other way round";
  }
  if (std::holds_alternative<lang::When>(clause.body) && kind == Declared::cause) {
    return hint +
           "; for a cause write `becomes 3 times as likely when`, `never when` or "
           "`possible only when`";
  }
  if (std::holds_alternative<lang::NoteLine>(clause.body)) return hint + "; or write it behind `#`";
  return hint;
}

std::string_view with_article(Declared kind) {
  switch (kind) {
    case Declared::detail:
      return "a detail";
    case Declared::reading:
      return "a reading";
    case Declared::event:
      return "an event";
    case Declared::finding:
      return "a finding";
    case Declared::at_most_one:
      return "an `at most one`";
    case Declared::inside:
      return "an inside";
    case Declared::cause:
      return "a cause";
    case Declared::distrust:
      return "a distrust";
    case Declared::check:
      return "a check";
    case Declared::access:
      return "an access";
    case Declared::repair:
      return "a repair";
    case Declared::caution:
      return "a caution";
    case Declared::trial:
      return "a trial";
    case Declared::extend:
      return "an `extend`";
    case Declared::revise:
      return "a `revise`";
    case Declared::remove:
      return "a `remove`";
  }
  return "";
}

std::string target_of(const lang::Clause& clause) { return std::visit(TargetOf{}, clause.body); }

std::string first_line(const lang::Clause& clause) {
  const std::string target = target_of(clause);
  return clause.first_word.text + (target.empty() ? "" : " " + target);
}

bool same_line(const lang::Clause& a, const lang::Clause& b) {
  return a.body.index() == b.body.index() && target_of(a) == target_of(b);
}

std::vector<std::string> entries_of(const lang::Clause& clause) {
  return std::visit(EntriesOf{}, clause.body);
}

void take_out_entries(lang::Clause& clause, const std::vector<std::string>& entries) {
  const auto is_named = [&](const auto& entry) {
    return std::find(entries.begin(), entries.end(), text_of(entry)) != entries.end();
  };
  std::visit(
      [&](auto& body) {
        if constexpr (ListBody<std::remove_cvref_t<decltype(body)>>)
          std::erase_if(body.what, is_named);
      },
      clause.body);
}

}  // namespace slipcase::rulebase

// The lines of declarations.
#include <array>

#include "language/clauses.h"
#include "language/grammar.h"

namespace slipcase::language::grammar {

namespace {

constexpr std::string_view two_counts = "`in 14 of 20 bad, in 2 of 20 good`";

/// `in 8 of 10 jobs`, or nothing within `remove`.
struct CountsMayMiss : x3::parser<CountsMayMiss> {
  using attribute_type = x3::unused_type;
  [[maybe_unused]] static constexpr bool has_attribute = false;
  [[maybe_unused]] static constexpr bool handles_container = false;
  template <class AnyContext, class RuleValue, class Result>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& context, RuleValue& /*value*/,
             Result& /*result*/) const {
    if (!x3::get<SessionTag>(context).counts_may_miss) return false;
    // Where a count does start, it is read.
    const bool name_follows = first != last && first->kind == TokenKind::word && !first->reserved &&
                              !first->first_on_line;
    return first == last || (!first->is_word("in") && !name_follows);
  }
};
constexpr CountsMayMiss no_count{};

bool read_member_rate(Cursor& at, Session& session, MemberRate& out) {
  static const auto rules =
      +member[add<&MemberRate::members>] > kw("in") > count[set<&MemberRate::count>];
  return run(rules, at, session, out);
}
constexpr Phrase<MemberRate> member_rate{"members and a count such as `K3 in 1 of 20 jobs`",
                                         read_member_rate};

bool read_judged(Cursor& at, Session& session, Judged& out) {
  static const auto group = kw("group")[is<&Judged::group>];
  static const auto rules = (group > reference[set<&Judged::what>]) | reference[set<&Judged::what>];
  return run(rules, at, session, out);
}
constexpr Phrase<Judged> judged{"a cause, or `group` and its name", read_judged};

bool read_cure(Cursor& at, Session& session, Cure& out) {
  static const auto rules = reference[set<&Cure::what>] >> -(kw("in") > count[set<&Cure::count>]);
  return run(rules, at, session, out);
}
constexpr Phrase<Cure> cure{"a cause", read_cure};

/// One of the two counts of `flags`; its message shows both.
constexpr Phrase<CountPhrase> flag_count{two_counts, read_bare_count};
struct FlagWord : TokenParser<FlagWord, x3::unused_type> {
  std::string_view word;
  constexpr explicit FlagWord(std::string_view spelling) : word(spelling) {}
  bool read(const Token& token, x3::unused_type&) const { return token.is_word(word); }
  [[nodiscard]] std::string expected() const { return std::string(two_counts); }
};

// What stands behind the first words of each clause. `x3::expect` in front makes a message of it if
// not even its start is there.

template <class T, class Grammar>
bool run_clause(const Grammar& rules, Cursor& at, Session& session, ClauseBody& body) {
  T out{};
  if (!run(rules, at, session, out)) return false;
  body = std::move(out);
  return true;
}

template <class T, Text T::*Member>
bool read_text(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[text[set<Member>]];
  return run_clause<T>(rules, at, session, body);
}

template <class T, std::vector<Reference> T::*Member>
bool read_list(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules =
      x3::expect[reference[add<Member>]] >> *(sym(",") > reference[add<Member>]);
  return run_clause<T>(rules, at, session, body);
}

template <class T, std::vector<Judged> T::*Member>
bool read_judged_list(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[judged[add<Member>]] >> *(sym(",") > judged[add<Member>]);
  return run_clause<T>(rules, at, session, body);
}

template <class T, Condition T::*Member>
bool read_when(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[condition[set<Member>]];
  return run_clause<T>(rules, at, session, body);
}

template <class T, GradedCount T::*Member>
bool read_rate(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = no_count | x3::expect[graded_count[set<Member>]];
  return run_clause<T>(rules, at, session, body);
}

template <class T, Word T::*Member>
bool read_name(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[name[set<Member>]];
  return run_clause<T>(rules, at, session, body);
}

bool read_found(Cursor& at, Session& session, ClauseBody& body) {
  static const auto except = -sym(",") >> kw("except") > member_rate[add<&Found::except>] >>
                             *(sym(",") > member_rate[add<&Found::except>]);
  static const auto rules =
      no_count | (x3::expect[kw("in")] > count[set<&Found::count>] >> -except);
  return run_clause<Found>(rules, at, session, body);
}

bool read_becomes(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[number[set<&Becomes::times>]] > kw("times") > kw("as") >
                            kw("likely") > kw("when") > condition[set<&Becomes::when>];
  return run_clause<Becomes>(rules, at, session, body);
}

bool read_shows(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[reference[set<&Shows::what>]] >
                            (no_count | x3::expect[graded_count[set<&Shows::count>]]) >>
                            -(kw("because") > text[set<&Shows::because>]);
  return run_clause<Shows>(rules, at, session, body);
}

bool read_then_causes(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[reference[set<&ThenCauses::what>]] >
                            (no_count | (x3::expect[kw("in")] > count[set<&ThenCauses::count>])) >>
                            -(kw("because") > text[set<&ThenCauses::because>]);
  return run_clause<ThenCauses>(rules, at, session, body);
}

bool read_grade(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules =
      x3::expect[name[set<&Grade::name>]] >> -(kw("when") > condition[set<&Grade::when>]);
  return run_clause<Grade>(rules, at, session, body);
}

bool read_asks(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = -kw("driver")[is<&Asks::driver>] >> x3::expect[text[set<&Asks::text>]];
  return run_clause<Asks>(rules, at, session, body);
}

bool read_takes(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[quantity[set<&Takes::time>]];
  return run_clause<Takes>(rules, at, session, body);
}

bool read_costs(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[number[set<&Costs::money>]];
  return run_clause<Costs>(rules, at, session, body);
}

bool read_flags(Cursor& at, Session& session, ClauseBody& body) {
  static const auto counts = x3::expect[FlagWord("in")] > flag_count[set<&Flags::bad>] >
                             FlagWord("bad") > -sym(",") > FlagWord("in") >
                             flag_count[set<&Flags::good>] > FlagWord("good");
  static const auto rules = x3::expect[reference[set<&Flags::what>]] > (no_count | counts);
  return run_clause<Flags>(rules, at, session, body);
}

bool read_cures(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules =
      x3::expect[cure[add<&Cures::what>]] >> *(sym(",") > cure[add<&Cures::what>]);
  return run_clause<Cures>(rules, at, session, body);
}

bool read_dated(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[date[set<&Dated::date>]];
  return run_clause<Dated>(rules, at, session, body);
}

bool read_opened(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[date[set<&TrialOpened::date>]];
  return run_clause<TrialOpened>(rules, at, session, body);
}

bool read_odometer(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[quantity[set<&TrialOdometer::reading>]];
  return run_clause<TrialOdometer>(rules, at, session, body);
}

constexpr std::array rules_of_clauses{
    ClauseRule{"answers", read_list<Answers, &Answers::what>},
    ClauseRule{"asks", read_asks},
    ClauseRule{"because", read_text<Because, &Because::text>},
    ClauseRule{"becomes", read_becomes},
    ClauseRule{"by", read_text<By, &By::initials>},
    ClauseRule{"caution", read_list<Cautions, &Cautions::what>},
    ClauseRule{"costs", read_costs},
    ClauseRule{"counts as", read_name<CountsAs, &CountsAs::event>},
    ClauseRule{"cures", read_cures},
    ClauseRule{"dated", read_dated},
    ClauseRule{"except", read_list<ExceptThese, &ExceptThese::what>},
    ClauseRule{"expect", read_trial_expect},
    ClauseRule{"flags", read_flags},
    ClauseRule{"follow with", read_list<FollowWith, &FollowWith::what>},
    ClauseRule{"found", read_found},
    ClauseRule{"grade", read_grade},
    ClauseRule{"group", read_name<Group, &Group::name>},
    ClauseRule{"how", read_text<How, &How::text>},
    ClauseRule{"job", read_text<TrialJob, &TrialJob::path>},
    ClauseRule{"judge only", read_judged_list<JudgeOnly, &JudgeOnly::what>},
    ClauseRule{"needs", read_list<Needs, &Needs::what>},
    ClauseRule{"never when", read_when<NeverWhen, &NeverWhen::when>},
    ClauseRule{"not judged", read_judged_list<NotJudged, &NotJudged::what>},
    ClauseRule{"note", read_text<NoteLine, &NoteLine::text>},
    ClauseRule{"odometer", read_odometer},
    ClauseRule{"only after", read_list<OnlyAfter, &OnlyAfter::what>},
    ClauseRule{"opened", read_opened},
    ClauseRule{"otherwise", read_rate<Otherwise, &Otherwise::count>},
    ClauseRule{"overall", read_rate<Overall, &Overall::count>},
    ClauseRule{"possible only when", read_when<PossibleOnly, &PossibleOnly::when>},
    ClauseRule{"says", read_text<Says, &Says::text>},
    ClauseRule{"sets aside", read_list<SetsAside, &SetsAside::what>},
    ClauseRule{"shows", read_shows},
    ClauseRule{"source", read_text<SourceLine, &SourceLine::text>},
    ClauseRule{"takes", read_takes},
    ClauseRule{"then causes", read_then_causes},
    ClauseRule{"until", read_list<Until, &Until::what>},
    ClauseRule{"when", read_when<When, &When::condition>},
    ClauseRule{"with", read_trial_with},
};

}  // namespace

std::span<const ClauseRule> clause_rules() { return rules_of_clauses; }

std::optional<Failure> read_body(const ClauseRule& rule, Cursor& at, Session& session,
                                 ClauseBody& body) {
  return guarded([&] { return rule.read(at, session, body); }, at, "the rest of this line");
}

}  // namespace slipcase::language::grammar

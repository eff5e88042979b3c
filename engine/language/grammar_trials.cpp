// The lines of trials: what is known of a job, and what must come out.
#include "language/clauses.h"
#include "language/grammar.h"

namespace slipcase::language::grammar {

namespace {

// --- with --------------------------------------------------------------------------------------

bool read_stored(Cursor& at, Session& session, TrialFact& out) {
  static const auto start = kw("stored") | kw("pending")[is<&TrialFact::pending>];
  static const auto rules = -kw("no")[is<&TrialFact::no>] >> start > member[set<&TrialFact::code>];
  return run(rules, at, session, out);
}
constexpr Phrase<TrialFact> stored{"`stored` and a code", read_stored};

/// A word of choice; `yes` and `no` are answers too.
struct AnswerParser : TokenParser<AnswerParser, Word> {
  bool read(const Token& token, Word& word) const {
    const bool yes_no = token.is_word("yes") || token.is_word("no");
    if (!yes_no && !member.read(token, word)) return false;
    word = {std::string(token.spelling), token.place};
    return true;
  }
  [[nodiscard]] std::string expected() const { return "a word, an amount or a date"; }
};
constexpr AnswerParser answer{};

bool read_known(Cursor& at, Session& session, TrialFact& out) {
  static const auto hand =
      kw("us")[is<&TrialFact::by, Hand::us>] | kw("others")[is<&TrialFact::by, Hand::others>];
  static const auto held = kw("is") > (date[set<&TrialFact::is>] | quantity[set<&TrialFact::is>] |
                                       answer[set<&TrialFact::is>]);
  static const auto rules =
      -kw("no")[is<&TrialFact::no>] >> reference[set<&TrialFact::what>] >>
      -(held | name_on_line[set<&TrialFact::grade>]) >> -(kw("on") > date[set<&TrialFact::on>]) >>
      -(kw("at") >> !kw("most") > quantity[set<&TrialFact::at>]) >> -(kw("by") >> !text > hand);
  return run(rules, at, session, out);
}
constexpr Phrase<TrialFact> known{"what is known of the job", read_known};

bool read_fact(Cursor& at, Session& session, TrialFact& out) {
  static const auto rules = stored[whole_value] | known[whole_value];
  return run(rules, at, session, out);
}
constexpr Phrase<TrialFact> fact{"a name, or `no` and a name", read_fact};

// --- expect ------------------------------------------------------------------------------------

bool read_first(Cursor& at, Session& session, ExpectFirst& out) {
  static const auto rules = reference[set<&ExpectFirst::cause>] >> kw("first");
  return run(rules, at, session, out);
}
constexpr Phrase<ExpectFirst> first{"`first`", read_first};

bool read_among(Cursor& at, Session& session, ExpectAmong& out) {
  static const auto rules = reference[set<&ExpectAmong::cause>] >> kw("among") > kw("first") >
                            whole[set<&ExpectAmong::first>];
  return run(rules, at, session, out);
}
constexpr Phrase<ExpectAmong> among{"`among first 3`", read_among};

/// `jobs` may follow, unless it is the `job "..."` of the next line.
bool read_chance(Cursor& at, Session& session, ExpectChance& out) {
  static const auto side = kw("above") | kw("below")[is<&ExpectChance::above, false>];
  static const auto jobs = kw("jobs") | (kw("job") >> !text);
  static const auto rules =
      reference[set<&ExpectChance::cause>] >> side > bare_count[set<&ExpectChance::count>] >> -jobs;
  return run(rules, at, session, out);
}
constexpr Phrase<ExpectChance> chance{"`above` or `below` a count", read_chance};

bool read_before(Cursor& at, Session& session, ExpectBefore& out) {
  static const auto rules =
      reference[set<&ExpectBefore::cause>] >> kw("before") > reference[set<&ExpectBefore::other>];
  return run(rules, at, session, out);
}
constexpr Phrase<ExpectBefore> before{"`before` and a cause", read_before};

bool read_not_judged(Cursor& at, Session& session, ExpectNotJudged& out) {
  static const auto rules = reference[set<&ExpectNotJudged::cause>] >> kw("not") > kw("judged");
  return run(rules, at, session, out);
}
constexpr Phrase<ExpectNotJudged> not_judged{"`not judged`", read_not_judged};

bool read_next(Cursor& at, Session& session, ExpectNext& out) {
  static const auto rules = kw("next") > reference[set<&ExpectNext::check>];
  return run(rules, at, session, out);
}
constexpr Phrase<ExpectNext> next{"`next` and a check", read_next};

bool read_state(Cursor& at, Session& session, ExpectState& out) {
  using enum ExpectedState;
  static const auto state = kw("unknown")[is<&ExpectState::state, unknown>] |
                            (kw("set") >> kw("aside")[is<&ExpectState::state, set_aside>]) |
                            (kw("left") >> kw("out")[is<&ExpectState::state, left_out>]) |
                            (name_on_line[set<&ExpectState::grade>] >>
                             x3::eps[is<&ExpectState::state, ExpectedState::grade>]);
  static const auto missing =
      kw("no")[is<&ExpectState::state, absent>] > reference[set<&ExpectState::finding>];
  static const auto rules = missing | (reference[set<&ExpectState::finding>] >> -state);
  return run(rules, at, session, out);
}
constexpr Phrase<ExpectState> state{"a finding", read_state};

bool read_expect(Cursor& at, Session& session, Expect& out) {
  static const auto rules = next[node] | first[node] | among[node] | chance[node] | before[node] |
                            not_judged[node] | state[node];
  return run(rules, at, session, out);
}
constexpr Phrase<Expect> expect{"a cause, `next` and a check, or a finding", read_expect};

}  // namespace

bool read_trial_with(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules =
      x3::expect[fact[add<&TrialWith::facts>]] >> *(sym(",") > fact[add<&TrialWith::facts>]);
  TrialWith out;
  if (!run(rules, at, session, out)) return false;
  body = std::move(out);
  return true;
}

bool read_trial_expect(Cursor& at, Session& session, ClauseBody& body) {
  static const auto rules = x3::expect[expect[whole_value]];
  Expect out;
  if (!run(rules, at, session, out)) return false;
  body = std::move(out);
  return true;
}

}  // namespace slipcase::language::grammar

// The first line of declarations.
#include <fmt/core.h>

#include "language/clauses.h"
#include "language/grammar.h"
#include "language/messages.h"
#include "language/parse.h"

namespace slipcase::language::grammar {

namespace {

constexpr std::string_view naming =
    "names are small letters, digits and `_`, and start with a letter";

void report_name(const Place& place, std::string_view written, Session& session) {
  const std::string better = as_name(written);
  const bool usable = is_name(better) && !is_reserved(better);
  const std::string advice = usable ? fmt::format(": write `{}`", better) : "";
  session.reporter->error(name_shape, place, fmt::format("{}{}", naming, advice));
}

/// `lining worn` was meant to be one name.
void join_words(Cursor& at, Session& session, Word& out) {
  const Cursor begin = at - 1;
  Word next;
  while (name_on_line.read(*at, next)) {
    out.text += "_" + next.text;
    ++at;
  }
  if (at - begin == 1) return;
  out.place = session.span(begin, at);
  report_name(out.place, out.text, session);
}

/// The name that is being declared. A name of the wrong shape is reported and taken as it is, so
/// that the lines which use it are not reported as well.
bool read_new_name(Cursor& at, Session& session, Word& out) {
  if (at->kind == TokenKind::text) {
    out = {as_name(at->spelling), at->place};
    report_name(at->place, at->spelling, session);
    ++at;
    return true;
  }
  const bool missing = at->first_on_line || at->is_word("of");
  if (at->kind != TokenKind::word || (at->reserved && missing)) return false;
  out = {std::string(at->spelling), at->place};
  if (at->reserved) {
    session.reporter->error(
        reserved_name, at->place,
        fmt::format("`{}` is a word of the language and cannot be a name", at->spelling));
  } else if (!is_name(at->spelling)) {
    report_name(at->place, at->spelling, session);
  }
  ++at;
  return true;
}

bool read_new_name_of_words(Cursor& at, Session& session, Word& out) {
  if (!read_new_name(at, session, out)) return false;
  join_words(at, session, out);
  return true;
}

constexpr Phrase<Word> new_name{"a name", read_new_name};
constexpr Phrase<Word> new_name_of_words{"a name", read_new_name_of_words};

// --- types of details --------------------------------------------------------------------------

bool read_choice(Cursor& at, Session& session, ChoiceType& out) {
  static const auto rules = kw("one") > kw("of") > name[add<&ChoiceType::words>] >>
                            *(sym(",") > name[add<&ChoiceType::words>]);
  return run(rules, at, session, out);
}
constexpr Phrase<ChoiceType> choice{"`one of` and words", read_choice};

bool read_yes_no(Cursor& at, Session& session, YesNoType& out) {
  return run(kw("yes") > kw("or") > kw("no"), at, session, out);
}
constexpr Phrase<YesNoType> yes_no_type{"`yes or no`", read_yes_no};

bool read_date_type(Cursor& at, Session& session, DateType& out) {
  return run(kw("date"), at, session, out);
}
constexpr Phrase<DateType> date_type{"`date`", read_date_type};

/// One or more words on one line: `temperature difference`, `pressure per distance`.
bool read_dimension(Cursor& at, Session& session, DimensionType& out) {
  const Cursor begin = at;
  if (!name.read(*at, out.name)) return false;
  ++at;
  Word more;
  while (name_on_line.read(*at, more) || (at->is_word("per") && !at->first_on_line)) {
    out.name.text += " " + std::string(at->spelling);
    ++at;
  }
  out.name.place = session.span(begin, at);
  return true;
}
constexpr Phrase<DimensionType> dimension{"a dimension such as `pressure`", read_dimension};

bool read_type(Cursor& at, Session& session, DetailType& out) {
  static const auto rules = choice[whole_value] | yes_no_type[whole_value] |
                            date_type[whole_value] | dimension[whole_value];
  return run(rules, at, session, out);
}
constexpr Phrase<DetailType> type{
    "`yes or no`, `date`, `one of` with words, or a dimension such as `pressure`", read_type};

// --- headers -----------------------------------------------------------------------------------

const auto scope = -(kw("of") > name[set<&Declaration::of>]);

bool read_value_header(Cursor& at, Session& session, Declaration& out) {
  static const auto rules = x3::expect[new_name[set<&Declaration::name>]] >> scope > sym(":") >
                            type[set<&Declaration::type>];
  return run(rules, at, session, out);
}

bool read_reading_header(Cursor& at, Session& session, Declaration& out) {
  static const auto rules = x3::expect[new_name[set<&Declaration::name>]] >> scope > sym(":") >
                            dimension[set<&Declaration::type>];
  return run(rules, at, session, out);
}

bool read_at_most_one_header(Cursor& at, Session& session, Declaration& out) {
  static const auto rules = -(kw("per") > name[set<&Declaration::of>]) > kw("of") >
                            name[add<&Declaration::alternatives>] >>
                            *(sym(",") > name[add<&Declaration::alternatives>]);
  return run(rules, at, session, out);
}

struct NameOfTrial {
  template <class ActionContext>
  void operator()(ActionContext& context) const {
    const Text& title = x3::_attr(context);
    x3::_val(context).name = {title.text, title.place};
  }
};

bool read_trial_header(Cursor& at, Session& session, Declaration& out) {
  static const auto rules = x3::expect[text[NameOfTrial{}]];
  return run(rules, at, session, out);
}

/// `extend`, `revise` and `remove` use a name and may name a member.
bool read_layer_header(Cursor& at, Session& session, Declaration& out) {
  static const auto rules =
      x3::expect[name[set<&Declaration::name>]] >> -(kw("of") > member[set<&Declaration::of>]);
  return run(rules, at, session, out);
}

bool read_plain_header(Cursor& at, Session& session, Declaration& out) {
  static const auto rules = x3::expect[new_name_of_words[set<&Declaration::name>]] >> scope;
  return run(rules, at, session, out);
}

bool read_header_of(DeclarationKind kind, Cursor& at, Session& session, Declaration& out) {
  switch (kind) {
    case DeclarationKind::detail:
      return read_value_header(at, session, out);
    case DeclarationKind::reading:
      return read_reading_header(at, session, out);
    case DeclarationKind::at_most_one:
      return read_at_most_one_header(at, session, out);
    case DeclarationKind::trial:
      return read_trial_header(at, session, out);
    case DeclarationKind::extend:
    case DeclarationKind::revise:
    case DeclarationKind::remove:
      return read_layer_header(at, session, out);
    case DeclarationKind::event:
    case DeclarationKind::finding:
    case DeclarationKind::inside:
    case DeclarationKind::cause:
    case DeclarationKind::distrust:
    case DeclarationKind::check:
    case DeclarationKind::access:
    case DeclarationKind::repair:
    case DeclarationKind::caution:
      return read_plain_header(at, session, out);
  }
  return false;
}

}  // namespace

std::optional<Failure> read_header(Cursor& at, Session& session, Declaration& declaration) {
  return guarded([&] { return read_header_of(declaration.kind, at, session, declaration); }, at,
                 "a name");
}

std::optional<Failure> read_unit_name(Cursor& at, Session& session, Word& name_read) {
  static const auto rules = x3::expect[new_name[whole_value]];
  return guarded([&] { return run(rules, at, session, name_read); }, at, "a name");
}

}  // namespace slipcase::language::grammar

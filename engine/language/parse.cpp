// The loop over declarations and their lines, and how it goes on behind an error.
#include "language/parse.h"

#include <algorithm>
#include <limits>
#include <utility>

#include <fmt/core.h>

#include "language/clauses.h"
#include "language/explain.h"
#include "language/line_starts.h"
#include "language/messages.h"
#include "language/session.h"
#include "language/tokens.h"
#include "language/words.h"

namespace slipcase::language {

namespace {

using grammar::ClauseRule;

constexpr std::uint64_t language_number = 1;

bool is_at_most_one(Cursor at) {
  return at->is_word("at") && (at + 1)->is_word("most") && (at + 2)->is_word("one");
}

class FileReader {
 public:
  FileReader(Session session, SourceId source, bool trials)
      : session_(session), at_(session.begin), trials_(trials) {
    file_.source = source;
  }

  File read() {
    while (at_ != session_.end) read_one();
    return std::move(file_);
  }

 private:
  // --- what starts here ------------------------------------------------------------------------

  /// `caution NAME` is a line of a check or repair, and a declaration: the latter if it is not
  /// indented further than the declaration above it. Where no line is indented, the text of its own
  /// right behind the name decides.
  [[nodiscard]] bool declares_caution(Cursor at) const {
    if (!in_declaration_) return true;
    if (!at->first_on_line || at->column > declaration_column_) return false;
    const bool indents = !current().clauses.empty() && clause_column_ > declaration_column_;
    return indents || ((at + 1) != session_.end && (at + 2)->is_word("says"));
  }

  [[nodiscard]] const DeclarationWord* declaration_at(Cursor at) const {
    if (at->kind != TokenKind::word || !at->reserved) return nullptr;
    for (const DeclarationWord& entry : declaration_words()) {
      if (!at->is_word(entry.word)) continue;
      if (entry.kind == DeclarationKind::at_most_one && !is_at_most_one(at)) return nullptr;
      if (entry.kind == DeclarationKind::caution && !declares_caution(at)) return nullptr;
      return &entry;
    }
    return nullptr;
  }

  [[nodiscard]] bool file_line_at(Cursor at) const {
    return at->is_word("language") || at->is_word("unit");
  }

  // --- the file --------------------------------------------------------------------------------

  void read_one() {
    in_declaration_ = false;
    if (file_line_at(at_)) return read_file_line();
    if (const DeclarationWord* entry = declaration_at(at_)) {
      if (entry->kind == DeclarationKind::trial && !trials_) return pass_over();
      return read_declaration(entry->kind);
    }
    report_outside();
  }

  void pass_over() {
    ++at_;
    skip_to_declaration();
  }

  void read_file_line() {
    const Cursor first = at_++;
    if (first->is_word("language")) return read_language(first);
    Word name;
    if (const auto failure = grammar::read_unit_name(at_, session_, name)) {
      explain(*failure, "unit", session_);
      return recover(first, failure->where);
    }
    if (file_.unit) {
      session_.reporter->error(expected_other, session_.span(first, at_),
                               "`unit` is written once in a file",
                               Note{file_.unit->place, "first here"});
    }
    file_.unit = std::move(name);
  }

  void read_language(Cursor first) {
    const bool number = at_->kind == TokenKind::word && is_digits(at_->spelling);
    if (!number) {
      explain({at_, "the number of the language, as in `language 1`"}, "language", session_);
      return recover(first, at_);
    }
    if (at_->spelling != "1") {
      session_.reporter->error(language_version, at_->place,
                               fmt::format("this program reads `language {}`", language_number));
    } else if (file_.language) {
      session_.reporter->error(expected_other, session_.span(first, at_ + 1),
                               "`language` is written once in a file",
                               Note{file_.language->place, "first here"});
    }
    file_.language = Whole{language_number, at_->place};
    ++at_;
  }

  // --- declarations ----------------------------------------------------------------------------

  void read_declaration(DeclarationKind kind) {
    const Cursor first = at_;
    at_ += kind == DeclarationKind::at_most_one ? 3 : 1;
    Declaration declaration{};
    declaration.kind = kind;
    declaration_column_ = first->column;
    clause_column_ = std::numeric_limits<std::uint32_t>::max();
    session_.counts_may_miss = kind == DeclarationKind::remove;
    const auto failure = grammar::read_header(at_, session_, declaration);
    if (failure) {
      explain(*failure, first->spelling, session_);
      declaration.broken = true;
      declaration.header_broken = true;
      lose(first);
      recover(first, failure->where);
    }
    declaration.place = session_.span(first, failure ? std::max(failure->where, first + 1) : at_);
    file_.declarations.push_back(std::move(declaration));
    read_clauses();
  }

  [[nodiscard]] Declaration& current() { return file_.declarations.back(); }
  [[nodiscard]] const Declaration& current() const { return file_.declarations.back(); }

  void read_clauses() {
    in_declaration_ = true;
    while (at_ != session_.end) {
      if (file_line_at(at_) || declaration_at(at_) != nullptr) return;
      if (const ClauseRule* rule = clause_at(at_)) {
        read_clause(*rule, true);
      } else if (!read_misspelt()) {
        return;
      }
    }
  }

  // `loud`: its failure is worth a message; not where the first word was reported already.
  void read_clause(const ClauseRule& rule, bool loud) {
    const Cursor first = at_++;
    if (first->first_on_line) clause_column_ = std::min(clause_column_, first->column);
    session_.open_parentheses = 0;
    Clause clause;
    auto failure = read_more_words(rule);
    if (!failure) failure = grammar::read_body(rule, at_, session_, clause.body);
    if (failure) {
      if (loud) explain(*failure, rule.words, session_);
      current().broken = true;
      return recover(first, failure->where);
    }
    // What a wrong sign was meant to be is a guess: good for reading on, not for building on.
    if (std::any_of(first, at_, [](const Token& token) { return token.guessed; })) {
      current().broken = true;
      return;
    }
    clause.place = session_.span(first, at_);
    clause.first_word = {std::string(rule.words), first->place};
    current().clauses.push_back(std::move(clause));
  }

  /// `causes` behind `then`
  std::optional<Failure> read_more_words(const ClauseRule& rule) {
    std::string_view rest = rule.words;
    for (std::size_t blank = rest.find(' '); blank != std::string_view::npos;
         blank = rest.find(' ')) {
      rest.remove_prefix(blank + 1);
      const auto word = rest.substr(0, rest.find(' '));
      if (!at_->is_word(word)) return Failure{at_, fmt::format("`{}`", word)};
      ++at_;
    }
    return std::nullopt;
  }

  // --- errors ----------------------------------------------------------------------------------

  void report_outside() {
    const Cursor first = at_;
    if (clause_at(at_) != nullptr) {
      session_.reporter->error(
          outside_declaration, at_->place,
          fmt::format(
              "`{}` belongs to a declaration such as `cause` or `finding`; none is open here",
              at_->spelling));
      ++at_;
      return skip_to_declaration();
    }
    if (const auto kind = misspelt_declaration(at_)) return read_misspelt_declaration(*kind);
    if (!report_shape(at_, session_)) {
      session_.reporter->error(
          unknown_word, at_->place,
          fmt::format("expected a declaration such as `cause` or `finding`, found {}",
                      describe(*at_)));
    }
    lose(first);
    at_ = first + 1;
    skip_to_declaration();
  }

  /// Keeps the words of a line that might have declared something.
  void lose(Cursor first) {
    for (Cursor at = first; at != session_.end && (at == first || !at->first_on_line); ++at) {
      if (is_free_word(*at) && is_name(at->spelling)) file_.lost.emplace_back(at->spelling);
    }
  }

  /// Nothing that stands here can start a line. True: go on with the lines of this declaration.
  bool read_misspelt() {
    const bool outdented = at_->first_on_line && at_->column <= declaration_column_;
    const bool indents = clause_column_ > declaration_column_;
    const auto kind = misspelt_declaration(at_);
    const ClauseRule* rule = misspelt_clause(at_);
    if (kind && (outdented || rule == nullptr) && at_->first_on_line) return false;
    // Where lines are indented, an unknown word further left starts an unknown declaration.
    if (rule == nullptr && outdented && indents) return false;
    current().broken = true;
    if (rule != nullptr) {
      session_.reporter->error(
          unknown_word, at_->place,
          fmt::format("`{}` starts no line, did you mean `{}`?", at_->spelling, rule->words));
      read_clause(*rule, false);
      return true;
    }
    report_unexpected();
    if (!at_->first_on_line) drop_last_clause();
    recover(at_, at_ + 1);
    return true;
  }

  /// A line that goes on with something else does not say what its first part says.
  void drop_last_clause() {
    auto& clauses = current().clauses;
    const Place before = (at_ - 1)->place;
    if (!clauses.empty() && clauses.back().place.end == before.end) clauses.pop_back();
  }

  void report_unexpected() {
    if (report_shape(at_, session_)) return;
    if (at_->first_on_line) {
      lose(at_);
      session_.reporter->error(
          unknown_word, at_->place,
          fmt::format("expected a word that starts a line, such as `says` or `shows`, found {}",
                      describe(*at_)));
      return;
    }
    if (report_missing_of(at_, session_) || report_answer()) return;
    const bool words = is_free_word(*at_) && is_free_word(*(at_ - 1));
    const std::string_view hint =
        words ? "; is `of`, `and`, `at least` or a `,` missing in front of it?" : "";
    session_.reporter->error(
        expected_other, at_->place,
        fmt::format("expected the end of the line, found {}{}", describe(*at_), hint));
  }

  /// `with burnt_smell yes`
  bool report_answer() {
    const bool no = at_->is_word("no");
    if (current().kind != DeclarationKind::trial || (!no && !at_->is_word("yes"))) return false;
    if (!is_free_word(*(at_ - 1))) return false;
    const std::string_view name = (at_ - 1)->spelling;
    session_.reporter->error(
        expected_other, at_->place,
        no ? fmt::format("what is not there has `no` in front: write `no {}`", name)
           : fmt::format("leave out `yes`: `{}` alone says that it is there", name));
    return true;
  }

  void read_misspelt_declaration(DeclarationKind kind) {
    const auto entries = declaration_words();
    const auto entry =
        std::find_if(entries.begin(), entries.end(),
                     [kind](const DeclarationWord& each) { return each.kind == kind; });
    session_.reporter->error(
        unknown_word, at_->place,
        fmt::format("`{}` is no declaration, did you mean `{}`?", at_->spelling, entry->word));
    const std::size_t index = file_.declarations.size();
    read_declaration(kind);
    file_.declarations[index].broken = true;
  }

  // --- going on --------------------------------------------------------------------------------

  /// In wrong text line breaks are the hint: goes to the next word that is first on its line and
  /// starts something. A misspelt one counts if it is not indented further than the failed line.
  void recover(Cursor failed, Cursor where) {
    at_ = std::max(where, failed + 1);
    while (at_ != session_.end && !starts_something(at_, failed)) ++at_;
  }

  [[nodiscard]] bool starts_something(Cursor at, Cursor failed) const {
    if (!at->first_on_line || at->kind != TokenKind::word) return false;
    if (file_line_at(at) || declaration_at(at) != nullptr) return true;
    if (clause_at(at) != nullptr)
      return starts_line_only(at->spelling) || starts_clause_for_sure(at);
    if (at->column > failed->column && at->column > declaration_column_) return false;
    return misspelt_clause(at) != nullptr || misspelt_declaration(at).has_value();
  }

  /// Words that are also used within conditions.
  [[nodiscard]] bool starts_clause_for_sure(Cursor at) const {
    if (at->is_word("not")) return (at + 1)->is_word("judged");
    if (at->is_word("by")) return (at + 1)->kind == TokenKind::text;
    return !file_.declarations.empty() && file_.declarations.back().kind == DeclarationKind::trial;
  }

  void skip_to_declaration() {
    while (at_ != session_.end && !starts_declaration(at_)) ++at_;
  }

  [[nodiscard]] bool starts_declaration(Cursor at) const {
    if (!at->first_on_line) return false;
    return file_line_at(at) || declaration_at(at) != nullptr ||
           (at->column == 1 && is_free_word(*at)) || misspelt_declaration(at).has_value();
  }

  Session session_;
  Cursor at_;
  bool trials_;
  File file_;
  std::uint32_t declaration_column_ = 1;
  std::uint32_t clause_column_ = 1;  // the leftmost line of the declaration
  bool in_declaration_ = false;
};

}  // namespace

File parse(const SourceSet& sources, SourceId source, Diagnostics& diagnostics, bool trials) {
  Reporter reporter;
  const std::string_view text = sources.text(source);
  Tokens tokens = read_tokens(text, source, reporter);
  Session session;
  session.text = text;
  session.begin = tokens.list.data();
  session.end = session.begin + (tokens.list.size() - end_tokens);
  session.reporter = &reporter;
  File file = FileReader(session, source, trials).read();
  file.origin = sources.origin(source);
  file.comments = std::move(tokens.comments);
  diagnostics.append(reporter.take());
  return file;
}

}  // namespace slipcase::language

#include "language/words.h"

#include <algorithm>
#include <array>
#include <cstdint>

#include "language/parse.h"

namespace slipcase::language {

namespace {

constexpr std::array declaration_table{
    DeclarationWord{"detail", DeclarationKind::detail},
    DeclarationWord{"reading", DeclarationKind::reading},
    DeclarationWord{"event", DeclarationKind::event},
    DeclarationWord{"finding", DeclarationKind::finding},
    DeclarationWord{"at", DeclarationKind::at_most_one},
    DeclarationWord{"inside", DeclarationKind::inside},
    DeclarationWord{"cause", DeclarationKind::cause},
    DeclarationWord{"distrust", DeclarationKind::distrust},
    DeclarationWord{"check", DeclarationKind::check},
    DeclarationWord{"access", DeclarationKind::access},
    DeclarationWord{"repair", DeclarationKind::repair},
    DeclarationWord{"caution", DeclarationKind::caution},
    DeclarationWord{"trial", DeclarationKind::trial},
    DeclarationWord{"extend", DeclarationKind::extend},
    DeclarationWord{"revise", DeclarationKind::revise},
    DeclarationWord{"remove", DeclarationKind::remove},
};

// Sorted, for the search by first letter. Left out on purpose are the words that only mean
// something where no name can stand: `odometer`, `opened` and `job` (a clause of a trial each, and
// details of the job), `time`, `distance`, `jobs`, `together`, `times`, `likely`, `card`, `us`,
// `others`, `bad`, `good`.
const std::vector<std::string> reserved{
    "above",    "access",  "after",   "among",     "and",     "answers", "any",      "asks",
    "at",       "because", "becomes", "before",    "below",   "between", "by",       "cause",
    "causes",   "caution", "check",   "costs",     "counts",  "cures",   "dated",    "detail",
    "distrust", "each",    "event",   "every",     "except",  "expect",  "extend",   "finding",
    "first",    "flags",   "follow",  "found",     "grade",   "group",   "happened", "how",
    "in",       "inside",  "is",      "judge",     "judged",  "known",   "language", "minus",
    "needs",    "never",   "next",    "no",        "not",     "note",    "of",       "on",
    "only",     "or",      "other",   "otherwise", "overall", "pending", "per",      "possible",
    "reading",  "remove",  "repair",  "revise",    "says",    "sets",    "shows",    "since",
    "source",   "stored",  "takes",   "that",      "then",    "to",      "trial",    "unit",
    "unknown",  "until",   "when",    "with",      "within",  "yes",     "zero",
};

// The first words of clauses, without `not` and `by`, which conditions use as well.
constexpr std::array<std::string_view, 34> clause_starts{
    "answers", "asks",   "because", "becomes", "caution",   "costs",   "counts",   "cures", "dated",
    "except",  "expect", "flags",   "follow",  "found",     "grade",   "group",    "how",   "judge",
    "needs",   "never",  "note",    "only",    "otherwise", "overall", "possible", "says",  "sets",
    "shows",   "source", "takes",   "then",    "until",     "when",    "with",
};

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_small_letter(char c) { return c >= 'a' && c <= 'z'; }

std::string_view digits_at_start(std::string_view text) {
  const auto end = std::find_if_not(text.begin(), text.end(), is_digit);
  return text.substr(0, static_cast<std::size_t>(end - text.begin()));
}

/// Where the reserved words of each letter begin; the last entry is where all of them end.
std::array<std::uint8_t, 27> reserved_by_letter() {
  std::array<std::uint8_t, 27> begins{};
  for (std::size_t letter = 0; letter < begins.size(); ++letter) {
    const std::string first(1, static_cast<char>('a' + letter));
    const auto found = std::lower_bound(reserved.begin(), reserved.end(), first);
    begins[letter] = static_cast<std::uint8_t>(found - reserved.begin());
  }
  return begins;
}

}  // namespace

const std::vector<std::string>& reserved_words() { return reserved; }

// Asked for every word of every file, so only words with the same first letter are compared.
bool is_reserved(std::string_view word) {
  static const std::array<std::uint8_t, 27> by_letter = reserved_by_letter();
  if (word.empty() || !is_small_letter(word.front())) return false;
  const auto letter = static_cast<std::size_t>(word.front() - 'a');
  return std::find(reserved.begin() + by_letter[letter], reserved.begin() + by_letter[letter + 1],
                   word) != reserved.begin() + by_letter[letter + 1];
}

bool is_name(std::string_view word) {
  if (word.empty() || !is_small_letter(word.front())) return false;
  return std::all_of(word.begin(), word.end(),
                     [](char c) { return is_small_letter(c) || is_digit(c) || c == '_'; });
}

std::span<const DeclarationWord> declaration_words() { return declaration_table; }

bool starts_line_only(std::string_view word) {
  const bool clause =
      std::find(clause_starts.begin(), clause_starts.end(), word) != clause_starts.end();
  return clause || (word != "at" && std::any_of(declaration_table.begin(), declaration_table.end(),
                                                [word](const DeclarationWord& entry) {
                                                  return entry.word == word;
                                                }));
}

bool takes_text(std::string_view word) {
  constexpr std::array<std::string_view, 9> words{"asks", "because", "by",     "how",  "job",
                                                  "note", "says",    "source", "trial"};
  return std::find(words.begin(), words.end(), word) != words.end();
}

bool is_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), is_digit);
}

bool is_number_shaped(std::string_view text) {
  if (!text.empty() && text.front() == '-') text.remove_prefix(1);
  const std::string_view whole = digits_at_start(text);
  if (whole.empty()) return false;
  text.remove_prefix(whole.size());
  if (!text.empty() && text.front() == '.') {
    text.remove_prefix(1);
    const std::string_view fraction = digits_at_start(text);
    if (fraction.empty()) return false;
    text.remove_prefix(fraction.size());
  }
  if (text.empty()) return true;
  if (text.front() != 'e' && text.front() != 'E') return false;
  text.remove_prefix(1);
  if (!text.empty() && text.front() == '-') text.remove_prefix(1);
  return is_digits(text);
}

bool is_date_shaped(std::string_view text) {
  return text.size() == 10 && is_digits(text.substr(0, 4)) && text[4] == '-' &&
         is_digits(text.substr(5, 2)) && text[7] == '-' && is_digits(text.substr(8, 2));
}

std::string as_name(std::string_view text) {
  std::string name;
  for (const char c : text) {
    const bool capital = c >= 'A' && c <= 'Z';
    const char small = capital ? static_cast<char>(c - 'A' + 'a') : c;
    if (is_small_letter(small) || is_digit(small)) {
      name += small;
    } else if (static_cast<unsigned char>(c) < 0x80 && !name.empty() && name.back() != '_') {
      name += '_';
    }
  }
  while (!name.empty() && name.back() == '_') name.pop_back();
  return name;
}

}  // namespace slipcase::language

// References (`lining_worn of K2`) and entries (`flare: { 2-3: always }`).
#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include <fmt/core.h>

#include "facts/card_messages.h"
#include "facts/card_reader.h"
#include "facts/document_messages.h"
#include "support/suggest.h"
#include "support/utf8.h"

namespace slipcase::facts {

namespace {

bool is_small(char c) { return c >= 'a' && c <= 'z'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_word_part(char c) {
  return is_small(c) || is_digit(c) || c == '_' || (c >= 'A' && c <= 'Z');
}

bool is_name(std::string_view text) {
  return !text.empty() && is_small(text.front()) &&
         std::all_of(text.begin(), text.end(),
                     [](char c) { return is_small(c) || is_digit(c) || c == '_'; });
}

// `K3`, `2-3`, `R`: as in the rule language, dashes and points stand inside only.
bool is_member(std::string_view text) {
  bool after_part = false;
  for (const char c : text) {
    const bool part = is_word_part(c);
    if (!part && (!after_part || (c != '-' && c != '.'))) return false;
    after_part = part;
  }
  return after_part;
}

// What phones and word processors put in place of `-`, a blank and quotes.
std::string_view plain_form(char32_t code) {
  if ((code >= 0x2010 && code <= 0x2015) || code == 0x2212) return "-";
  if (code == 0x00A0 || code == 0x202F || code == 0x2009) return " ";
  if (code >= 0x2018 && code <= 0x201F) return "'";
  return {};
}

struct Word {
  std::string text;
  std::size_t begin = 0;  // offsets in the text as written
  std::size_t end = 0;
};

std::vector<Word> words_of(std::string_view text) {
  std::vector<Word> words;
  bool inside = false;
  for (std::size_t at = 0; at < text.size();) {
    const Character character = decode(text.substr(at));
    std::string_view form = plain_form(character.code);
    if (form.empty()) form = text.substr(at, character.length);
    const bool blank = form == " " || form == "\t" || form == "\n" || form == "\r" || form == "'";
    if (!blank && !inside) words.push_back({{}, at, at});
    if (!blank) words.back().text += form;
    at += character.length;
    if (!blank) words.back().end = at;
    inside = !blank;
  }
  return words;
}

// The place of one word, where the text stands in the file as it is (no escapes, no folded lines).
Place place_of(const Word& word, const Node& node) {
  const std::size_t length = node.place.end - node.place.begin;
  const std::size_t quotes = node.quoted ? 1 : 0;
  if (length != node.text.size() + 2 * quotes) return node.place;
  const auto offset = [&](std::size_t at) {
    return node.place.begin + static_cast<std::uint32_t>(quotes + at);
  };
  return {node.place.source, offset(word.begin), offset(word.end)};
}

Scalar scalar_of(const Word& word, const Node& node) { return {word.text, place_of(word, node)}; }

Scalar checked_name(Scalar name, Diagnostics& diagnostics) {
  if (is_name(name.text)) return name;
  diagnostics.add(name_shape, name.place,
                  fmt::format("`{}` is no name: names are small letters, digits and `_`, such as "
                              "`lining_worn`",
                              name.text));
  return faulty_at(name.place);
}

Scalar checked_member(Scalar member, Diagnostics& diagnostics) {
  if (is_member(member.text)) return member;
  diagnostics.add(
      member_shape, member.place,
      fmt::format("`{}` cannot be the name of a part of the unit: such names look like `K3`, "
                  "`2-3` or `R`",
                  member.text));
  return faulty_at(member.place);
}

CardReference faulty_reference(const Place& place) {
  return {faulty_at(place), std::nullopt, place};
}

CardReference reference_in(const Node& node, Diagnostics& diagnostics) {
  const std::vector<Word> words = words_of(node.text);
  const bool with_member = words.size() == 3 && words[1].text == "of";
  if (words.size() != 1 && !with_member) {
    diagnostics.add(reference_shape, node.place,
                    fmt::format("`{}` cannot be read: write a name, or a name of a part, such as "
                                "`lining_worn of K2`",
                                node.text));
    return faulty_reference(node.place);
  }
  CardReference reference{checked_name(scalar_of(words.front(), node), diagnostics), std::nullopt,
                          node.place};
  if (with_member) reference.member = checked_member(scalar_of(words.back(), node), diagnostics);
  return reference;
}

Scalar member_in(const Node& node, Diagnostics& diagnostics) {
  const std::vector<Word> words = words_of(node.text);
  const bool one = words.size() == 1;
  return checked_member(one ? scalar_of(words.front(), node) : Scalar{node.text, node.place},
                        diagnostics);
}

CardReference entry_name(const Node& key, EntryNames names, Diagnostics& diagnostics) {
  const std::vector<Word> words = words_of(key.text);
  if (names == EntryNames::names_or_members && words.size() == 1 && is_member(words[0].text)) {
    return CardReference{scalar_of(words.front(), key), std::nullopt, key.place};
  }
  return reference_in(key, diagnostics);
}

using MemberValues = std::vector<std::pair<Scalar, Scalar>>;

Scalar value_in(const Node& node, std::string_view what, Diagnostics& diagnostics) {
  return read_scalar(node, what, diagnostics).value_or(faulty_at(node.place));
}

MemberValues member_values(const Node& map, std::string_view name, Diagnostics& diagnostics) {
  MemberValues values;
  for (const auto& [key, value] : map.entries) {
    values.emplace_back(member_in(key, diagnostics),
                        value_in(value, fmt::format("`{}` of `{}`", name, key.text), diagnostics));
  }
  return values;
}

}  // namespace

CardReference read_reference(const Node& node, std::string_view what, Diagnostics& diagnostics) {
  if (!read_scalar(node, what, diagnostics)) return faulty_reference(node.place);
  return reference_in(node, diagnostics);
}

std::vector<CardReference> read_references(const Node& node, std::string_view what,
                                           Diagnostics& diagnostics) {
  std::vector<CardReference> references;
  for (const Node* item : read_list(node, what, true, diagnostics)) {
    references.push_back(read_reference(*item, fmt::format("an entry of {}", what), diagnostics));
  }
  return references;
}

void read_entry(const Node& key, const Node& value, EntryNames names, std::vector<Entry>& entries,
                Diagnostics& diagnostics) {
  CardReference name = entry_name(key, names, diagnostics);
  if (value.kind == NodeKind::map && !name.member) {
    MemberValues values =
        member_values(value, name.name.faulty ? key.text : name.name.text, diagnostics);
    entries.push_back({std::move(name.name), std::move(values)});
    return;
  }
  Scalar scalar = value_in(value, fmt::format("`{}`", key.text), diagnostics);
  if (name.member) {
    MemberValues values{{std::move(*name.member), std::move(scalar)}};
    entries.push_back({std::move(name.name), std::move(values)});
  } else {
    entries.push_back({std::move(name.name), std::move(scalar)});
  }
}

void refuse_repeated(std::vector<Entry>& entries, Diagnostics& diagnostics) {
  std::map<std::pair<std::string, std::string>, Place> seen;
  const auto repeats = [&](const Scalar& name, const Scalar& part) {
    if (name.faulty || part.faulty) return false;
    const auto [first, is_new] = seen.try_emplace({name.text, part.text}, part.place);
    if (is_new) return false;
    const std::string what =
        part.text.empty() ? name.text : fmt::format("{} of {}", name.text, part.text);
    diagnostics
        .add(duplicate_key, part.place,
             fmt::format("`{}` is written twice: keep one of the two", what))
        .notes.push_back({first->second, "the first is here"});
    return true;
  };
  std::vector<Entry> kept;
  for (Entry& entry : entries) {
    auto* values = std::get_if<MemberValues>(&entry.value);
    if (values != nullptr) {
      std::erase_if(*values, [&](const auto& value) { return repeats(entry.name, value.first); });
    } else if (repeats(entry.name, {{}, entry.name.place})) {
      continue;
    }
    kept.push_back(std::move(entry));
  }
  entries = std::move(kept);
}

std::vector<Entry> read_entries(const Node& node, std::string_view what, EntryNames names,
                                Diagnostics& diagnostics) {
  std::vector<Entry> entries;
  if (!MapReader::of(node, std::string(what), diagnostics)) return entries;
  for (const auto& [key, value] : node.entries) read_entry(key, value, names, entries, diagnostics);
  refuse_repeated(entries, diagnostics);
  return entries;
}

std::optional<std::size_t> read_choice(const Node& node, std::string_view what,
                                       const std::vector<std::string>& words,
                                       Diagnostics& diagnostics) {
  const auto scalar = read_scalar(node, what, diagnostics);
  if (!scalar) return std::nullopt;
  const auto found = std::find(words.begin(), words.end(), scalar->text);
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  const std::string meant = did_you_mean(scalar->text, words);
  diagnostics.add(word_unknown, scalar->place,
                  fmt::format("`{}` is not known for {}{}", scalar->text, what,
                              meant.empty() ? ": write " + quoted_list(words) : meant));
  return std::nullopt;
}

}  // namespace slipcase::facts

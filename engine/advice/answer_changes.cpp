// What an answer writes on a card: pure text and keys; whether the values are right shows when the
// changed card is read.
#include <algorithm>

#include <fmt/core.h>

#include "facts/job_card.h"
#include "slipcase/ask.h"
#include "support/ascii.h"

namespace slipcase {

namespace {

using Changes = std::vector<CardChange>;
using Path = std::vector<std::string>;

constexpr std::string_view of = " of ";

std::string trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(blanks) - first + 1));
}

/// The choice that a key, a word or a value stands for.
const AnswerChoice* chosen(const Question& question, const std::string& typed) {
  const std::string small = in_small_letters(typed);
  const auto is_it = [&small](const AnswerChoice& choice) {
    return small == choice.key || (!choice.word.empty() && small == choice.word) ||
           small == choice.value;
  };
  const auto at = std::find_if(question.choices.begin(), question.choices.end(), is_it);
  return at == question.choices.end() ? nullptr : &*at;
}

std::string choices_text(const Question& question) {
  std::string text;
  for (const AnswerChoice& choice : question.choices)
    text += (text.empty() ? "" : ", ") + choice.key + " (" + choice.says + ")";
  return text;
}

std::optional<facts::Node> tree_of(std::string_view card_text) {
  SourceSet sources;
  Diagnostics ignored;
  const SourceId source = sources.add("card", std::string(card_text));
  return facts::read_document(sources, source, facts::card_limits, ignored);
}

/// Where the value of a named thing stands on this card, or is to stand: `flare of 2-3: always` if
/// it is written so, else `flare: { 2-3: always }`.
Path path_of(std::string_view section, const std::string& id, std::string_view card_text) {
  const std::size_t split = id.find(of);
  if (split == std::string::npos) return {std::string(section), id};
  const auto root = tree_of(card_text);
  const facts::Node* list = root ? root->find(section) : nullptr;
  if (list != nullptr && list->kind == facts::NodeKind::map && list->find(id) != nullptr)
    return {std::string(section), id};
  return {std::string(section), id.substr(0, split), id.substr(split + of.size())};
}

CardChange put(Path path, std::string value) {
  return {CardChange::Kind::put, std::move(path), CardValue::of(std::move(value))};
}
CardChange add(Path path, CardValue item) {
  return {CardChange::Kind::add, std::move(path), std::move(item)};
}

/// "what" an event was, which check or repair was "done".
const char* name_key(const Question& question) {
  return question.list == "events" ? "what" : "done";
}

Changes event_changes(const Question& question, const std::string& value) {
  const bool our_work = question.list != "events";
  // What was not done by now may be done tomorrow.
  if (our_work && value != "yes") return {};
  if (value == "no") return {add({"never"}, CardValue::of(question.id))};
  if (value == "not sure") return {add({"not_known"}, CardValue::of(question.id))};
  return {add({question.list}, CardValue::map({{name_key(question), CardValue::of(question.id)}}))};
}

std::variant<Changes, std::string> code_changes(const Question& question, const std::string& typed,
                                                std::string_view card_text) {
  const std::string controller = question.id.substr(question.id.find(of) + of.size());
  const std::string small = in_small_letters(typed);
  for (const char* word : {"n", "no", "y", "yes"})
    if (small == word) return fmt::format("write the codes, or `none`; `{}` is neither", typed);
  const auto root = tree_of(card_text);
  const facts::Node* codes = root ? root->find("codes") : nullptr;
  Changes changes;
  // A plain list speaks of the unit's own controller only; a second one asks for names.
  if (codes != nullptr && codes->kind != facts::NodeKind::map)
    changes.push_back({CardChange::Kind::name, {"codes"}, CardValue::of(question.own_controller)});
  if (small == "none") {
    changes.push_back(put({"codes", controller}, "none"));
    return changes;
  }
  std::vector<CardValue> list;
  std::string word;
  for (const char c : typed + " ") {
    const bool between = c == ' ' || c == ',' || c == ';' || c == '\t';
    if (!between) word += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    if (between && !word.empty()) list.push_back(CardValue::of(std::exchange(word, {})));
  }
  changes.push_back(
      {CardChange::Kind::put, {"codes", controller}, CardValue::list(std::move(list))});
  return changes;
}

std::variant<Changes, std::string> finding_changes(const Question& question,
                                                   const std::string& value,
                                                   const GivenAnswer& given,
                                                   std::string_view card_text) {
  Changes changes{put(path_of("answers", question.id, card_text), value)};
  if (!given.others) return changes;
  if (value != "no") return "only `no` can be given for all that are not named";
  const std::string name = question.id.substr(0, question.id.find(of));
  changes.push_back(put({"answers", name, "others"}, "no"));
  return changes;
}

}  // namespace

std::variant<Changes, std::string> changes_for(const Question& question, const GivenAnswer& given,
                                               std::string_view card_text) {
  const std::string typed = trimmed(given.answer);
  if (typed.empty()) return "nothing was answered";
  if (question.kind == QuestionKind::codes) return code_changes(question, typed, card_text);
  std::string value = typed;
  if (!question.choices.empty()) {
    const AnswerChoice* choice = chosen(question, typed);
    // Of a graded finding a plain yes says: at least the weakest.
    const std::string small = in_small_letters(typed);
    const bool plain_yes =
        question.kind == QuestionKind::finding && (small == "y" || small == "yes");
    if (choice == nullptr && plain_yes) return finding_changes(question, "yes", given, card_text);
    if (choice == nullptr)
      return fmt::format("`{}` is no answer here: {}", typed, choices_text(question));
    value = choice->value;
  }
  switch (question.kind) {
    case QuestionKind::event:
      return event_changes(question, value);
    case QuestionKind::finding:
      return finding_changes(question, value, given, card_text);
    case QuestionKind::complaint:
      if (question.choices.empty())
        return Changes{add({"complaint", "findings"}, CardValue::of(typed))};
      return value == "yes" ? Changes{add({"complaint", "findings"}, CardValue::of(question.id))}
                            : Changes{};
    case QuestionKind::detail:
    case QuestionKind::codes:
      break;
  }
  return Changes{put(path_of("details", question.id, card_text), value)};
}

std::variant<Changes, std::string> changes_for_time(const Question& question,
                                                    const GivenTime& given,
                                                    std::string_view card_text) {
  const auto root = tree_of(card_text);
  const facts::Node* list = root ? root->find(question.list) : nullptr;
  const std::string when = trimmed(given.when);
  std::optional<std::size_t> last;
  for (std::size_t i = 0; list != nullptr && i < list->items.size(); ++i) {
    const facts::Node& item = list->items[i];
    const facts::Node* name = item.find(name_key(question));
    const bool timed = item.find("date") != nullptr || item.find("odometer") != nullptr;
    const bool open =
        !(timed && !when.empty()) && !(item.find("by") != nullptr && !given.by.empty());
    if (name != nullptr && name->text == question.id && open) last = i;
  }
  if (!last) return fmt::format("`{}` that lacks this is not on the card any more", question.id);
  const auto item = [&](const char* key) {
    return Path{question.list, "[" + std::to_string(*last) + "]", key};
  };
  Changes changes;
  // A day has dashes in it, an odometer a unit.
  const bool is_day = when.find_first_of("-/") != std::string::npos;
  if (!when.empty()) changes.push_back(put(item(is_day ? "date" : "odometer"), when));
  if (!given.by.empty()) changes.push_back(put(item("by"), given.by));
  return changes;
}

}  // namespace slipcase

#include "book/card_account.h"

#include <algorithm>
#include <optional>

#include <fmt/core.h>

#include "facts/scalar.h"
#include "units/quantity.h"

namespace slipcase::book {

namespace {

using facts::Node;
using facts::NodeEntry;
using facts::NodeKind;
using grounding::GroundRules;

std::string joined(const std::vector<std::string>& parts) {
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : ", ") + part;
  return text;
}

/// A value on one line: "K1 40 mbar, K2 210 mbar".
std::string flat(const Node& node) {
  std::vector<std::string> parts;
  for (const NodeEntry& entry : node.entries)
    parts.push_back(entry.key.text + " " + flat(entry.value));
  for (const Node& item : node.items) parts.push_back(flat(item));
  return node.kind == NodeKind::scalar ? node.text : joined(parts);
}

std::string text_at(const Node& map, std::string_view key) {
  const Node* value = map.find(key);
  return value == nullptr ? std::string() : flat(*value);
}

const std::vector<Node>& items_at(const Node& root, std::string_view key) {
  static const std::vector<Node> none;
  const Node* list = root.find(key);
  return list == nullptr ? none : list->items;
}

class Names {
 public:
  explicit Names(const GroundRules& ground) : ground_(ground) {}

  std::string finding(const std::string& name) const {
    const auto found = ground_.find_finding(name);
    return found ? ground_.says(*found) : name;
  }
  std::string cause(const std::string& name) const {
    const auto found = ground_.find_cause(name);
    return found ? ground_.says(*found) : name;
  }
  /// Of an event, or of a check or repair that was done.
  std::string event(const std::string& name) const {
    for (std::uint32_t e = 0; e < ground_.events.size(); ++e)
      if (ground_.name_of(grounding::GroundEvent{e}) == name)
        return ground_.says(grounding::GroundEvent{e});
    return name;
  }

 private:
  const GroundRules& ground_;
};

void add_answer(const std::string& says, const std::string& value, CardAccount& account) {
  if (facts::says_no(value))
    account.not_seen.push_back(says);
  else if (value == "not sure" || value == "unknown")
    account.not_sure.push_back(says);
  else
    account.seen.push_back(facts::says_yes(value) ? says : fmt::format("{} ({})", says, value));
}

void add_answers(const Node& answers, const Names& names, CardAccount& account) {
  for (const NodeEntry& entry : answers.entries) {
    const std::string& name = entry.key.text;
    if (entry.value.kind == NodeKind::scalar)
      add_answer(names.finding(name), entry.value.text, account);
    for (const NodeEntry& one : entry.value.entries) {
      const bool others = one.key.text == "others";
      add_answer(others ? name + " of all others" : names.finding(name + " of " + one.key.text),
                 one.value.text, account);
    }
  }
}

std::string code_text(const Node& code) {
  if (code.kind == NodeKind::scalar) return code.text;
  const std::string state = text_at(code, "state");
  return text_at(code, "code") + (state.empty() ? "" : " (" + state + ")");
}

std::string codes_text(const Node& codes) {
  if (codes.kind != NodeKind::list) return codes.text;
  std::vector<std::string> parts;
  for (const Node& code : codes.items) parts.push_back(code_text(code));
  return parts.empty() ? "none" : joined(parts);
}

void add_codes(const Node& codes, const std::string& own_controller, CardAccount& account) {
  if (codes.kind != NodeKind::map) {
    account.codes.push_back(own_controller + ": " + codes_text(codes));
    return;
  }
  for (const NodeEntry& entry : codes.entries)
    account.codes.push_back(entry.key.text + ": " + codes_text(entry.value));
}

std::string complaint_word(const std::string& complaint) {
  if (complaint == "gone") return "; the complaint was gone";
  if (complaint == "same") return "; the complaint stayed";
  return complaint == "back" ? "; the complaint came back" : "";
}

std::string reading_text(const Node& reading) {
  std::vector<std::string> parts;
  for (const NodeEntry& entry : reading.entries) {
    const std::string& key = entry.key.text;
    if (key == "date" || key == "odometer" || key == "after") continue;
    parts.push_back(key + ": " + flat(entry.value));
  }
  std::string text = "Read:";
  for (std::size_t i = 0; i < parts.size(); ++i) text += (i > 0 ? "; " : " ") + parts[i];
  return text;
}

std::string event_text(const Node& event, const Names& names) {
  const std::string by = text_at(event, "by");
  return names.event(text_at(event, "what")) + (by.empty() ? "" : " (by " + by + ")");
}

std::string check_text(const Node& check, const Names& names) {
  const std::string found = text_at(check, "found");
  return names.event(text_at(check, "done")) + (found.empty() ? "" : "; found: " + found);
}

std::string repair_text(const Node& repair, const Names& names) {
  const std::string after = text_at(repair, "after");
  return names.event(text_at(repair, "done")) + complaint_word(text_at(repair, "complaint")) +
         (after.empty() ? "" : " after " + after);
}

/// What has no day stands where its odometer puts it, else at the end.
class Timeline {
 public:
  void add(const Node& entry, std::string what) {
    Line line;
    line.day = text_at(entry, "date");
    const std::string odometer = text_at(entry, "odometer");
    const std::string after = text_at(entry, "after");
    if (const auto quantity = units::parse_quantity(odometer).quantity)
      line.odometer = quantity->value;
    std::vector<std::string> parts;
    if (!line.day.empty()) parts.push_back(line.day);
    if (!odometer.empty()) parts.push_back(odometer);
    // Behind a repair `after` is how long it held; behind the others, what they came after.
    if (!after.empty() && entry.find("complaint") == nullptr) parts.push_back("after " + after);
    line.told = {joined(parts), std::move(what)};
    lines_.push_back(std::move(line));
  }

  std::vector<AccountLine> take() {
    std::stable_sort(lines_.begin(), lines_.end(), [](const Line& a, const Line& b) {
      if (a.day.empty() || b.day.empty()) return !a.day.empty() && b.day.empty();
      return a.day.substr(0, day_length) < b.day.substr(0, day_length);
    });
    place_by_odometer();
    std::vector<AccountLine> result;
    for (Line& line : lines_) result.push_back(std::move(line.told));
    return result;
  }

 private:
  static constexpr std::size_t day_length = 10;  // without the time of day
  struct Line {
    std::string day;
    std::optional<double> odometer;
    AccountLine told;
  };

  void place_by_odometer() {
    for (auto line = lines_.begin(); line != lines_.end(); ++line) {
      if (!line->day.empty() || !line->odometer) continue;
      const double odometer = *line->odometer;
      const auto later = std::find_if(lines_.begin(), line, [odometer](const Line& other) {
        return other.odometer && *other.odometer > odometer;
      });
      std::rotate(later, line, line + 1);
    }
  }

  std::vector<Line> lines_;
};

void add_lines(const Node& root, const Names& names, CardAccount& account) {
  Timeline timeline;
  for (const Node& one : items_at(root, "readings")) timeline.add(one, reading_text(one));
  for (const Node& one : items_at(root, "events")) timeline.add(one, event_text(one, names));
  for (const Node& one : items_at(root, "checks")) timeline.add(one, check_text(one, names));
  for (const Node& one : items_at(root, "repairs")) timeline.add(one, repair_text(one, names));
  account.lines = timeline.take();
}

void add_outcome(const Node& outcome, const Names& names, CardAccount& account) {
  for (std::string& cause : account.head.confirmed) cause = names.cause(cause);
  if (const Node* sound = outcome.find("sound")) {
    if (sound->kind == NodeKind::scalar) account.sound.push_back(names.cause(sound->text));
    for (const Node& cause : sound->items) account.sound.push_back(names.cause(cause.text));
  }
  account.note = text_at(outcome, "note");
}

}  // namespace

CardAccount account(const Node& root, BookCard head, const GroundRules& ground) {
  const Names names(ground);
  CardAccount account;
  account.head = std::move(head);
  for (std::string& finding : account.head.findings) finding = names.finding(finding);
  if (const Node* details = root.find("details"))
    for (const NodeEntry& entry : details->entries)
      account.details.push_back(entry.key.text + ": " + flat(entry.value));
  if (const Node* answers = root.find("answers")) add_answers(*answers, names, account);
  if (const Node* codes = root.find("codes"))
    add_codes(*codes, ground.profile->own_controller, account);
  add_lines(root, names, account);
  if (const Node* outcome = root.find("outcome")) add_outcome(*outcome, names, account);
  return account;
}

}  // namespace slipcase::book

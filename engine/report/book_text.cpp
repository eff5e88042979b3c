// The job book on screen and as JSON: a list, one card, what cards say against each other.
#include <algorithm>

#include <fmt/core.h>

#include "report/json_parts.h"
#include "report/lines.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::joined;
using report::Json;
using report::list_json;
using report::wrapped;

std::string what_for(const BookCard& card) {
  if (!card.complaint.empty()) return card.complaint;
  return card.findings.empty() ? "(no complaint on the card)" : joined(card.findings);
}

/// Two lines a job: who and when, then what for and what came of it.
std::string list_entry(const BookCard& card, std::size_t width) {
  const std::string job = card.job.empty() ? card.file.filename().string() : card.job;
  const std::string state = card.is_closed() ? "closed " + card.closed : "open";
  std::string out =
      report::two_sided(fmt::format("{}  {}{}{}", card.opened.empty() ? "(no day)  " : card.opened,
                                    job, card.vehicle.empty() ? "" : ", ", card.vehicle),
                        state, width, 1, 2);
  std::string text = what_for(card);
  if (!card.confirmed.empty()) text += "; it was: " + joined(card.confirmed);
  return out + wrapped(text, width, 5, 2);
}

Json card_json(const BookCard& card) {
  return Json{{"file", card.file.string()},  {"job", card.job},           {"unit", card.unit},
              {"vehicle", card.vehicle},     {"odometer", card.odometer}, {"opened", card.opened},
              {"complaint", card.complaint}, {"findings", card.findings}, {"closed", card.closed},
              {"confirmed", card.confirmed}};
}

std::string listed(std::string_view title, const std::vector<std::string>& texts,
                   const TextStyle& style) {
  if (texts.empty()) return {};
  std::string out = "\n" + report::heading(title, style);
  for (const std::string& text : texts)
    out += wrapped("- " + text, report::usable_width(style), 1, 2);
  return out;
}

}  // namespace

std::string to_text(const BookList& list, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out;
  for (const BookCard& card : list.cards) out += list_entry(card, width);
  if (!list.cards.empty()) out += "\n";
  out += fmt::format("{} of {} cards\n", list.cards.size(), list.in_book);
  if (!list.unread.empty()) {
    out += wrapped(
        fmt::format("{} could not be read; `slipcase book check` says why:", list.unread.size()),
        width, 0, 2);
    constexpr std::size_t most_listed = 10;
    for (std::size_t i = 0; i < std::min(list.unread.size(), most_listed); ++i)
      out += "  " + list.unread[i].string() + "\n";
    if (list.unread.size() > most_listed) out += "  ...\n";
  }
  return out;
}

std::string to_json(const BookList& list) {
  return report::dumped(
      {{"cards", list_json(list.cards, card_json)},
       {"in_book", list.in_book},
       {"others", list.others},
       {"unread", list_json(list.unread, [](const auto& file) { return Json(file.string()); })}});
}

std::string to_text(const CardAccount& account, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  const BookCard& head = account.head;
  std::string out = report::heading(
      fmt::format("Job {}", head.job.empty() ? head.file.string() : head.job), style);
  std::vector<std::string> facts;
  if (!head.vehicle.empty()) facts.push_back("vehicle " + head.vehicle);
  if (!head.odometer.empty()) facts.push_back(head.odometer);
  if (!head.opened.empty()) facts.push_back("opened " + head.opened);
  facts.push_back(head.is_closed() ? "closed " + head.closed : "open");
  out += wrapped(joined(facts), width, 1, 2);
  if (!head.complaint.empty()) out += wrapped("\"" + head.complaint + "\"", width, 1, 2);
  out += listed("COMPLAINT", head.findings, style);
  out += listed("DETAILS", account.details, style);
  out += listed("SEEN", account.seen, style);
  out += listed("LOOKED, NOT THERE", account.not_seen, style);
  out += listed("NOT SURE", account.not_sure, style);
  out += listed("CODES", account.codes, style);
  if (!account.lines.empty()) out += "\n" + report::heading("WHAT HAPPENED", style);
  for (const AccountLine& line : account.lines)
    out += wrapped(line.when.empty() ? "- " + line.what : "- " + line.when + ": " + line.what,
                   width, 1, 2);
  out += listed("IT WAS", head.confirmed, style);
  out += listed("LOOKED AT AND SOUND", account.sound, style);
  if (!account.note.empty()) out += "\n" + wrapped(account.note, width, 1, 0);
  return out;
}

std::string to_json(const CardAccount& account) {
  Json json = card_json(account.head);
  json["details"] = account.details;
  json["seen"] = account.seen;
  json["not_seen"] = account.not_seen;
  json["not_sure"] = account.not_sure;
  json["codes"] = account.codes;
  json["happened"] = list_json(account.lines, [](const AccountLine& line) {
    return Json{{"when", line.when}, {"what", line.what}};
  });
  json["sound"] = account.sound;
  json["note"] = account.note;
  return report::dumped(json);
}

std::string to_text(const BookCheck& check, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out;
  for (const BookDoubt& doubt : check.doubts) {
    out += wrapped(doubt.text, width, 0, 2);
    for (const auto& file : doubt.files) out += "  " + file.string() + "\n";
  }
  out += fmt::format("{} cards read, {} with errors, {} with warnings", check.cards,
                     check.with_errors, check.with_warnings);
  if (check.others > 0)
    out += fmt::format("; {} other file{}", check.others, check.others == 1 ? "" : "s");
  return out + "\n";
}

}  // namespace slipcase

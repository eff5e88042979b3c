// Readings that were put onto a card, on screen and as JSON.
#include <algorithm>

#include <fmt/core.h>

#include "report/json_parts.h"
#include "report/lines.h"
#include "report/trend_words.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::Json;
using report::list_json;

std::string session_line(const AddedSession& session) {
  std::vector<std::string> parts;
  if (!session.date.empty()) parts.push_back(session.date);
  if (!session.odometer.empty()) parts.push_back(session.odometer);
  if (!session.software.empty()) parts.push_back("software " + session.software);
  if (!session.fluid_temperature.empty()) parts.push_back("fluid at " + session.fluid_temperature);
  return report::joined(parts);
}

std::string range_words(const AddedValue& value) {
  std::string text;
  if (value.range != ReadingRange::inside)
    text = fmt::format("{} its {} of {}", value.at_bound ? "at" : "beyond",
                       value.range == ReadingRange::beyond_limit ? "limit" : "watch line",
                       value.bound);
  if (!value.looks_like.empty())
    text += fmt::format("; looks like {} shown without its sign", value.looks_like);
  return text;
}

/// Values stand below each other, and what is to be said of them behind.
std::string values_text(const std::vector<AddedValue>& values, bool on_card, std::size_t width) {
  std::size_t names = 0;
  std::size_t numbers = 0;
  for (const AddedValue& value : values) {
    if (value.on_card != on_card) continue;
    names = std::max(names, report::columns(value.id));
    numbers = std::max(numbers, report::columns(value.value));
  }
  std::string out;
  for (const AddedValue& value : values) {
    if (value.on_card != on_card) continue;
    std::string lead = "   " + value.id;
    lead.append(names + 5 + numbers - report::columns(value.id) - report::columns(value.value),
                ' ');
    lead += value.value;
    const std::string words = range_words(value);
    out += words.empty() ? lead + "\n" : report::led(lead, report::columns(lead) + 2, words, width);
  }
  return out;
}

bool has_on_card(const AddedSession& session) {
  return std::ranges::any_of(session.values, &AddedValue::on_card);
}

Json value_json(const AddedValue& value) {
  Json json{{"id", value.id}, {"value", value.value}};
  json["number"] = value.number ? report::number(*value.number) : Json(nullptr);
  json["added"] = !value.on_card;
  json["range"] = report::name_of(value.range);
  json["bound"] = value.bound;
  json["looks_like"] = value.looks_like;
  return json;
}

Json session_json(const AddedSession& session) {
  return Json{{"date", session.date},
              {"odometer", session.odometer},
              {"software", session.software},
              {"fluid_temperature", session.fluid_temperature},
              {"values", list_json(session.values, value_json)}};
}

}  // namespace

std::string to_text(const AddedReadings& added, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  const std::string job = added.job.empty() ? added.card : "job " + added.job;
  std::string out;
  for (const AddedSession& session : added.sessions) {
    if (!out.empty()) out += "\n";
    if (session.is_new()) {
      out += report::heading("Added to " + job, style);
      out += report::wrapped(session_line(session), width, 1, 2);
      out += values_text(session.values, false, width);
    }
    if (!has_on_card(session)) continue;
    out += session.is_new() ? "\n" : "";
    out += report::heading("Already on the card of " + job + ", not written again", style);
    out += report::wrapped(session_line(session), width, 1, 2);
    out += values_text(session.values, true, width);
  }
  return out;
}

std::string to_json(const AddedReadings& added) {
  return report::dumped({{"job", added.job},
                         {"card", added.card},
                         {"written", std::ranges::any_of(added.sessions, &AddedSession::is_new)},
                         {"sessions", list_json(added.sessions, session_json)}});
}

}  // namespace slipcase

#include "support/card_text.h"

#include <fmt/core.h>

namespace slipcase::test {

namespace {

using namespace slipcase::facts;

std::string text_of(const std::optional<Scalar>& scalar) { return scalar ? scalar->text : "-"; }

std::string text_of(const std::optional<units::Quantity>& quantity) {
  if (!quantity) return "-";
  return fmt::format("{} {}", quantity->value, units::describe(quantity->dimension));
}

std::string text_of(const std::optional<units::Date>& date) { return date ? date->text() : "-"; }

std::string text_of(const CardReference& reference) {
  return fmt::format("{}({})", reference.name.text, text_of(reference.member));
}

std::string text_of(const std::vector<CardReference>& references) {
  std::string text;
  for (const CardReference& reference : references) text += text_of(reference) + " ";
  return text;
}

std::string text_of(const std::vector<Entry>& entries) {
  std::string text;
  for (const Entry& entry : entries) {
    text += entry.name.text + "=";
    if (const auto* scalar = std::get_if<Scalar>(&entry.value)) {
      text += scalar->text;
    } else {
      const auto& values = std::get<1>(entry.value);
      for (const auto& [member, value] : values)
        text += fmt::format("[{}={}]", member.text, value.text);
    }
    text += "; ";
  }
  return text;
}

std::string text_of(const CardTime& time) {
  return fmt::format("{} at {} after {}", time.moment ? time.moment->text() : "-",
                     text_of(time.odometer), time.after ? text_of(*time.after) : "-");
}

std::string text_of(const std::vector<ControllerCodes>& controllers) {
  std::string text;
  for (const ControllerCodes& read : controllers) {
    text += fmt::format("  {}:\n", text_of(read.controller));
    for (const CardCode& code : read.codes) {
      text +=
          fmt::format("    {} {} {} {} {}\n", code.code.text(), code.pending ? "pending" : "stored",
                      text_of(code.temperature), text_of(code.odometer), text_of(code.date));
    }
  }
  return text;
}

std::string history_of(const JobCard& card) {
  std::string text;
  for (const Snapshot& reading : card.readings) {
    text += fmt::format("reading {} software {} fluid {}: {}\n", text_of(reading.when),
                        text_of(reading.software), text_of(reading.fluid_temperature),
                        text_of(reading.values));
  }
  for (const CardEvent& event : card.events) {
    text += fmt::format("event {} {} by {}\n", text_of(event.what), text_of(event.when),
                        static_cast<int>(event.by));
  }
  for (const DoneCheck& check : card.checks) {
    text += fmt::format("check {} {} found {} {}\n", text_of(check.done), text_of(check.when),
                        text_of(check.answer), text_of(check.found));
  }
  for (const DoneRepair& repair : card.repairs) {
    text += fmt::format(
        "repair {} {} complaint {} after {}\n", text_of(repair.done), text_of(repair.when),
        repair.complaint ? static_cast<int>(*repair.complaint) : -1, text_of(repair.after));
  }
  return text;
}

std::string text_of(const Outcome& outcome) {
  return fmt::format("closed {} confirmed {} sound {} note {}\n", text_of(outcome.closed),
                     text_of(outcome.confirmed), text_of(outcome.sound), outcome.note);
}

}  // namespace

std::string text_of(const JobCard& card) {
  std::string text =
      fmt::format("job {} unit {} vehicle {} {} opened {}\n", text_of(card.job), text_of(card.unit),
                  text_of(card.vehicle.ref), text_of(card.vehicle.odometer), text_of(card.opened));
  text += fmt::format("complaint {}: {}\n", card.complaint_text, text_of(card.complaint_findings));
  text += fmt::format("details {}\nanswers {}\n", text_of(card.details), text_of(card.answers));
  text += card.codes ? "codes\n" + text_of(*card.codes) : "codes not read\n";
  text += history_of(card);
  text += fmt::format("history complete {} never {}\n", card.history_complete, text_of(card.never));
  if (card.outcome) text += text_of(*card.outcome);
  return text;
}

}  // namespace slipcase::test

#include "reference/trial_card.h"

#include <map>
#include <stdexcept>
#include <vector>

#include <fmt/core.h>

#include "units/quantity.h"

namespace reference {

namespace {

using slipcase::rulebase::DetailId;
using slipcase::rulebase::EventId;
using slipcase::rulebase::EventUse;
using slipcase::rulebase::FindingId;
using slipcase::rulebase::Header;
using slipcase::rulebase::MemberId;
using slipcase::rulebase::ReadingId;
using slipcase::rulebase::Rulebase;
using slipcase::rulebase::Term;
using slipcase::rulebase::Trial;
using slipcase::rulebase::TrialFact;

std::string member_of(const Header& header, const Term& term, const Rulebase& rules) {
  const auto* member = std::get_if<MemberId>(&term);
  if (member == nullptr || !header.scope) return {};
  return rules.unit.scope(*header.scope).members.at(member->at());
}

/// Entries of one section; those of a scoped thing stand under its members.
class Section {
 public:
  void add(const std::string& name, const std::string& member, const std::string& value) {
    values_[name].emplace_back(member, value);
  }

  [[nodiscard]] std::string text(std::string_view title, std::string_view indent = "  ") const {
    std::string text = values_.empty() || title.empty() ? "" : fmt::format("{}:\n", title);
    for (const auto& [name, entries] : values_) {
      text += fmt::format("{}{}: {}\n", indent, name, in_braces(entries));
    }
    return text;
  }
  [[nodiscard]] bool empty() const { return values_.empty(); }

 private:
  using Entries = std::vector<std::pair<std::string, std::string>>;

  static std::string in_braces(const Entries& entries) {
    if (entries.front().first.empty()) return entries.front().second;
    std::string text;
    for (const auto& [member, value] : entries) {
      text += fmt::format("{}{}: {}", text.empty() ? "{ " : ", ", member, value);
    }
    return text + " }";
  }

  std::map<std::string, Entries> values_;
};

struct Card {
  Section answers, details, readings;
  std::string codes, events, never;
};

std::string value_text(const TrialFact& fact, const std::vector<std::string>& words) {
  if (const auto* yes = std::get_if<bool>(&fact.is)) return *yes ? "yes" : "no";
  if (const auto* word = std::get_if<std::uint32_t>(&fact.is)) return words.at(*word);
  if (const auto* quantity = std::get_if<slipcase::units::Quantity>(&fact.is)) {
    return slipcase::units::to_text(*quantity);
  }
  if (const auto* date = std::get_if<slipcase::units::Date>(&fact.is)) return date->text();
  return fact.no ? "no" : "yes";
}

std::string answer_text(const TrialFact& fact, const slipcase::rulebase::Finding& finding) {
  if (fact.no) return "no";
  return fact.grade == 0 ? "yes" : finding.grades.at(fact.grade - 1).name;
}

std::string event_text(const TrialFact& fact, const std::string& name) {
  std::string text = fmt::format("  - what: {}\n", name);
  if (fact.on) text += fmt::format("    date: {}\n", fact.on->text());
  if (fact.at) text += fmt::format("    odometer: {}\n", slipcase::units::to_text(*fact.at));
  if (fact.by != EventUse::Hand::anyone) {
    text += fmt::format("    by: {}\n", fact.by == EventUse::Hand::us ? "us" : "others");
  }
  return text;
}

void add(const TrialFact& fact, const Rulebase& rules, Card& card) {
  if (fact.code) {
    card.codes += fmt::format("  - {{ code: {}, state: {} }}\n", fact.code->text(),
                              fact.pending ? "pending" : "stored");
  } else if (const auto* id = std::get_if<FindingId>(&fact.what)) {
    const auto& finding = rules.findings.at(id->at());
    card.answers.add(finding.header.name, member_of(finding.header, fact.member, rules),
                     answer_text(fact, finding));
  } else if (const auto* detail_id = std::get_if<DetailId>(&fact.what)) {
    const auto& detail = rules.details.at(detail_id->at());
    card.details.add(detail.header.name, member_of(detail.header, fact.member, rules),
                     value_text(fact, detail.words));
  } else if (const auto* reading_id = std::get_if<ReadingId>(&fact.what)) {
    const auto& reading = rules.readings.at(reading_id->at());
    card.readings.add(reading.header.name, member_of(reading.header, fact.member, rules),
                      value_text(fact, {}));
  } else if (const auto* event_id = std::get_if<EventId>(&fact.what)) {
    const std::string name = name_of(rules.events.at(event_id->at()).header, fact.member, rules);
    (fact.no ? card.never : card.events) +=
        fact.no ? fmt::format("  - {}\n", name) : event_text(fact, name);
  } else {
    throw std::logic_error("a fact about nothing");
  }
}

}  // namespace

std::string name_of(const Header& header, const Term& member, const Rulebase& rules) {
  const std::string of = member_of(header, member, rules);
  return of.empty() ? header.name : header.name + " of " + of;
}

std::string card_of(const Trial& trial, const Rulebase& rules) {
  Card card;
  for (const TrialFact& fact : trial.facts) add(fact, rules, card);
  if (!trial.opened) throw std::runtime_error("the trial has neither a job nor a day");
  const std::string opened = trial.opened->text();
  std::string text = fmt::format("job: trial\nunit: {}\nopened: {}\n", rules.unit.unit, opened);
  if (trial.odometer) {
    text += fmt::format("vehicle: {{ odometer: {} }}\n", slipcase::units::to_text(*trial.odometer));
  }
  text += card.answers.text("answers") + card.details.text("details");
  if (!card.readings.empty()) {
    text += fmt::format("readings:\n  - date: {}\n{}", opened, card.readings.text("", "    "));
  }
  if (!card.codes.empty()) text += "codes:\n" + card.codes;
  if (!card.events.empty()) text += "events:\n" + card.events;
  if (!card.never.empty()) text += "never:\n" + card.never;
  return text;
}

}  // namespace reference

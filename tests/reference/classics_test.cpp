// Worked examples from textbooks and papers, stated as rules and answered on job cards.
// Sources: named in each record of tests/data/reference/classics.json.

#include <cmath>
#include <fstream>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include "reference/rule_text.h"
#include "reference/whole_tool.h"

namespace {

using nlohmann::json;
using reference::Share;

constexpr double classics_tolerance = 1e-9;

Share share(const json& text) { return reference::share_from_fraction(text.get<std::string>()); }

std::string as_rules(const json& record) {
  reference::RuleText rules;
  for (const auto& [cause, found] : record.at("causes").items()) {
    std::vector<std::pair<std::string, Share>> shows;
    for (const auto& [finding, counts] : record.at("findings").items()) {
      const json& links = counts.at("shows");
      if (links.contains(cause)) shows.emplace_back(finding, share(links.at(cause)));
    }
    rules.cause(cause, share(found), shows);
  }
  for (const auto& [finding, counts] : record.at("findings").items()) {
    rules.finding(finding, share(counts.at("otherwise")));
  }
  const json checks = record.value("checks", json::object());
  for (const auto& [check, flags] : checks.items()) {
    const auto flag = flags.begin();
    rules.check(check, flag.key(), share(flag->at(0)), share(flag->at(1)));
  }
  return rules.text();
}

std::string as_card(const json& record, bool with_asked) {
  reference::Answers answers;
  const json checks = record.value("checks", json::object());
  for (const auto& [name, state] : record.at("evidence").items()) {
    auto& list = checks.contains(name) ? answers.checks : answers.findings;
    list.emplace_back(name, state == "yes");
  }
  if (with_asked) answers.findings.emplace_back(record.at("asked").get<std::string>(), true);
  return reference::card_text(answers);
}

}  // namespace

TEST_CASE("worked examples from textbooks come out as printed") {
  std::ifstream file(std::string(SLIPCASE_TEST_DATA) + "/reference/classics.json");
  REQUIRE(file.good());
  const json document = json::parse(file);
  CHECK(document.at("cases").size() == 37);
  for (const json& record : document.at("cases")) {
    const std::string id = record.at("id");
    CAPTURE(id);
    const reference::WholeTool tool(as_rules(record));
    const reference::Answer answer = tool.rank(as_card(record, false));
    for (const auto& [cause, chance] : record.at("chance").items()) {
      CHECK(std::abs(answer.chance.at(cause) - chance.get<double>()) < classics_tolerance);
    }
    if (record.contains("ln_evidence")) {
      CHECK(std::abs(answer.log_evidence - record.at("ln_evidence").get<double>()) <
            classics_tolerance);
    }
    // A row of a table: the chance of one more finding is the ratio of two chances of evidence.
    if (record.contains("asked")) {
      const reference::Answer both = tool.rank(as_card(record, true));
      const double asked = std::exp(both.log_evidence - answer.log_evidence);
      CHECK(std::abs(asked - record.at("asked_chance").get<double>()) < classics_tolerance);
    }
  }
}

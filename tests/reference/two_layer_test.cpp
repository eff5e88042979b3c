// Networks of causes and findings from outside, stated as rules and answered on job cards: rule
// text, card, grounding, evaluation and inference together must give the published or computed
// answers. Sources: tests/data/reference/README.md.

#include <fstream>
#include <optional>
#include <sstream>

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include "reference/rule_text.h"
#include "reference/whole_tool.h"

namespace {

using nlohmann::json;
using reference::Share;

constexpr double largest_difference = 1e-9;

struct Finding {
  Share otherwise;
  std::vector<std::pair<std::string, Share>> links;  // cause, "this cause alone produces it"
};

struct TwoLayer {
  std::vector<std::pair<std::string, Share>> causes;
  std::vector<std::pair<std::string, Finding>> findings;
};

std::string as_rules(const TwoLayer& network) {
  std::map<std::string, std::vector<std::pair<std::string, Share>>> shows;
  for (const auto& [name, finding] : network.findings) {
    for (const auto& [cause, link] : finding.links) {
      shows[cause].emplace_back(name, reference::with_otherwise(finding.otherwise, link));
    }
  }
  reference::RuleText rules;
  for (const auto& [name, found] : network.causes) rules.cause(name, found, shows[name]);
  for (const auto& [name, finding] : network.findings) rules.finding(name, finding.otherwise);
  return rules.text();
}

json read_json(const std::string& name) {
  std::ifstream file(std::string(SLIPCASE_TEST_DATA) + "/reference/" + name);
  REQUIRE_MESSAGE(file.good(), name);
  return json::parse(file);
}

/// The rows of a comma-separated file without its header.
std::vector<std::vector<std::string>> read_rows(const std::string& name) {
  std::ifstream file(std::string(SLIPCASE_TEST_DATA) + "/reference/" + name);
  REQUIRE_MESSAGE(file.good(), name);
  std::vector<std::vector<std::string>> rows;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    if (!line.empty() && line.back() == '\r') line.pop_back();
    std::istringstream cells(line);
    rows.emplace_back();
    for (std::string cell; std::getline(cells, cell, ',');) rows.back().push_back(cell);
  }
  return rows;
}

TwoLayer from_json(const json& network) {
  TwoLayer two_layer;
  for (const json& cause : network.at("causes")) {
    two_layer.causes.emplace_back(cause.at("id"), reference::share_from(cause.at("prior")));
  }
  for (const json& row : network.at("findings")) {
    Finding finding{reference::share_from(row.at("leak")), {}};
    for (const auto& [cause, link] : row.at("links").items()) {
      finding.links.emplace_back(cause, reference::share_from(link));
    }
    two_layer.findings.emplace_back(row.at("id"), finding);
  }
  return two_layer;
}

TwoLayer from_tables(const std::string& size) {
  TwoLayer two_layer;
  for (const auto& row : read_rows(fmt::format("qmr_{}_causes.csv", size))) {
    two_layer.causes.emplace_back(reference::as_name(row.at(0)),
                                  reference::share_from_decimal(row.at(1)));
  }
  std::map<std::string, std::size_t> index;
  for (const auto& row : read_rows(fmt::format("qmr_{}_findings.csv", size))) {
    index.emplace(row.at(0), two_layer.findings.size());
    two_layer.findings.emplace_back(reference::as_name(row.at(0)),
                                    Finding{reference::share_from_decimal(row.at(1)), {}});
  }
  for (const auto& row : read_rows(fmt::format("qmr_{}_links.csv", size))) {
    two_layer.findings.at(index.at(row.at(1)))
        .second.links.emplace_back(reference::as_name(row.at(0)),
                                   reference::share_from_decimal(row.at(2)));
  }
  return two_layer;
}

void check_answer(const json& expected, const reference::Answer& answer) {
  const std::string id = expected.at("id");
  CHECK_MESSAGE(
      answer.log_evidence ==
          doctest::Approx(expected.at("ln_p_evidence").get<double>()).epsilon(largest_difference),
      id);
  REQUIRE_MESSAGE(answer.chance.size() == expected.at("posterior").size(), id);
  double worst = 0.0;
  for (const auto& [cause, chance] : expected.at("posterior").items()) {
    const double found = answer.chance.at(reference::as_name(cause));
    worst = std::max(worst, std::abs(found - chance.get<double>()));
  }
  CHECK_MESSAGE(worst < largest_difference, id);
}

void check_tables(const std::string& size) {
  const reference::WholeTool tool(as_rules(from_tables(size)));
  const json document = read_json(fmt::format("qmr_{}_cases.json", size));
  CHECK(document.at("cases").size() == 6);
  for (const json& expected : document.at("cases")) {
    reference::Answers answers;
    for (const json& id : expected.at("present")) {
      answers.findings.emplace_back(reference::as_name(id.get<std::string>()), true);
    }
    for (const json& id : expected.at("absent")) {
      answers.findings.emplace_back(reference::as_name(id.get<std::string>()), false);
    }
    check_answer(expected, tool.rank(reference::card_text(answers)));
  }
}

}  // namespace

TEST_CASE("80 small random networks give their exact answers through rules and a card") {
  // Source: bn2o_open.json, exact rational inclusion-exclusion; also bayesjs 0.6.5, webppl.
  const json document = read_json("bn2o_open.json");
  std::size_t cases = 0;
  for (const json& network : document.at("networks")) {
    const reference::WholeTool tool(as_rules(from_json(network)));
    for (const json& expected : network.at("cases")) {
      reference::Answers answers;
      for (const auto& [finding, state] : expected.at("evidence").items()) {
        answers.findings.emplace_back(finding, state == "present");
      }
      check_answer(expected, tool.rank(reference::card_text(answers)));
      ++cases;
    }
  }
  CHECK(cases == 80);
}

TEST_CASE("a network of 120 causes and 400 findings gives its exact answers") {
  // Source: qmr_mid_*, 160-digit decimals and an independent method.
  check_tables("mid");
}

TEST_CASE("a network of 570 causes and 4075 findings gives its exact answers") {
  // Source: qmr_big_*, 160-digit decimals and an independent method.
  check_tables("big");
}

TEST_CASE("a count that states a link exactly is made of whole numbers") {
  const Share share = reference::with_otherwise({226, 10'000}, {27, 100});
  CHECK(reference::in_words(share) == "286498 of 1000000");  // 1 - 0.9774 * 0.73
  CHECK(reference::in_words(reference::share_from(0.0000575)) == "575 of 10000000");
  CHECK_THROWS((void)reference::share_from_decimal("1e-19"));
}

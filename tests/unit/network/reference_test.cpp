// Two-layer networks with exact answers from outside; sources: tests/data/reference/README.md.
#include <cmath>
#include <fstream>
#include <functional>
#include <map>
#include <string>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include "network/solver.h"
#include "support/two_layer_files.h"

namespace slipcase::network {
namespace {

using nlohmann::json;

const std::string folder = SLIPCASE_TEST_DATA "/reference/";

json read_json(const std::string& name) {
  std::ifstream file(folder + name);
  REQUIRE_MESSAGE(file.good(), name);
  return json::parse(file);
}

struct Named {
  Network net;
  std::map<std::string, HiddenId> causes;
  std::map<std::string, FindingId> findings;
};

Named as_network(const json& stored) {
  Named result;
  for (const json& cause : stored["causes"]) {
    result.causes[cause["id"]] = HiddenId{static_cast<std::uint32_t>(result.net.hidden.size())};
    result.net.hidden.push_back({.own = test::probability(cause["prior"]), .parents = {}});
  }
  for (const json& stored_finding : stored["findings"]) {
    result.findings[stored_finding["id"]] =
        FindingId{static_cast<std::uint32_t>(result.net.findings.size())};
    Finding finding{.leak = {test::probability(stored_finding["leak"])}, .parents = {}};
    for (const auto& [cause, link] : stored_finding["links"].items())
      finding.parents.push_back({result.causes.at(cause), {test::probability(link)}});
    result.net.findings.push_back(std::move(finding));
  }
  return result;
}

void check_answer(const json& expected, const Outcome& outcome,
                  const std::function<std::size_t(const std::string&)>& place) {
  REQUIRE(std::holds_alternative<Posterior>(outcome));
  const auto& posterior = std::get<Posterior>(outcome);
  CHECK(std::abs(posterior.log_evidence - expected["ln_p_evidence"].get<double>()) <= 1e-9);
  for (const auto& entry : expected["posterior"].items()) {
    const std::string& cause = entry.key();
    const json& chance = entry.value();
    CAPTURE(cause);
    CHECK(std::abs(posterior.hidden[place(cause)].value() - chance.get<double>()) <= 1e-9);
  }
}

TEST_CASE("80 cases on 20 open networks have their exact rational answers") {
  std::size_t cases = 0;
  const json file = read_json("bn2o_open.json");
  for (const json& stored : file["networks"]) {
    const Named named = as_network(stored);
    Solver solver(named.net);
    for (const json& one : stored["cases"]) {
      INFO(one["id"].get<std::string>());
      Evidence evidence;
      for (const auto& [finding, state] : one["evidence"].items()) {
        const std::uint32_t grade = state == "present" ? 1 : 0;
        evidence.findings.push_back({named.findings.at(finding), grade, grade});
      }
      check_answer(one, solver.solve(evidence),
                   [&](const std::string& cause) { return named.causes.at(cause).at(); });
      ++cases;
    }
  }
  CHECK(cases == 80);
}

void check_large(const std::string& name, std::size_t expected_cases) {
  Solver solver(test::read_two_layer(folder + name));
  const json stored = read_json(name + "_cases.json");
  CHECK(stored["cases"].size() == expected_cases);
  for (const json& one : stored["cases"]) {
    INFO(one["id"].get<std::string>());
    Evidence evidence;
    for (const std::string finding : one["present"])
      evidence.findings.push_back({FindingId{test::place_of(finding)}, 1, 1});
    for (const std::string finding : one["absent"])
      evidence.findings.push_back({FindingId{test::place_of(finding)}, 0, 0});
    check_answer(one, solver.solve(evidence),
                 [](const std::string& cause) { return std::size_t{test::place_of(cause)}; });
  }
}

TEST_CASE("120 causes and 400 findings have the answers of 160-digit arithmetic") {
  check_large("qmr_mid", 6);
}

TEST_CASE("570 causes and 4075 findings have the answers of 160-digit arithmetic") {
  check_large("qmr_big", 6);
}

}  // namespace
}  // namespace slipcase::network

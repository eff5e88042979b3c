// The two-layer networks of tests/data/reference/qmr_*.csv as networks (sources: README.md there).
#pragma once

#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "network/network.h"

namespace slipcase::test {

/// Names are a letter and a number from 1 in file order: D1, F1.
inline std::uint32_t place_of(const std::string& name) {
  return static_cast<std::uint32_t>(std::stoul(name.substr(1)) - 1);
}

inline std::vector<std::vector<std::string>> read_rows(const std::string& path) {
  std::ifstream file(path);
  if (!file) throw std::runtime_error("cannot read " + path);
  std::vector<std::vector<std::string>> rows;
  std::string line;
  std::getline(file, line);  // the header
  while (std::getline(file, line)) {
    std::vector<std::string> row{""};
    for (const char c : line) {
      if (c == ',') row.emplace_back();
      if (c != ',' && c != '\r') row.back() += c;
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

inline Probability probability(double p) { return Probability::from(p).value(); }

/// `prefix`: path up to "_causes.csv".
inline network::Network read_two_layer(const std::string& prefix) {
  network::Network net;
  for (const auto& row : read_rows(prefix + "_causes.csv"))
    net.hidden.push_back({.own = probability(std::stod(row[1])), .parents = {}});
  for (const auto& row : read_rows(prefix + "_findings.csv"))
    net.findings.push_back({.leak = {probability(std::stod(row[1]))}, .parents = {}});
  for (const auto& row : read_rows(prefix + "_links.csv"))
    net.findings[place_of(row[1])].parents.push_back(
        {network::HiddenId{place_of(row[0])}, {probability(std::stod(row[2]))}});
  return net;
}

}  // namespace slipcase::test

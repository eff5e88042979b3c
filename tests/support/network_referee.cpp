#include "support/network_referee.h"

namespace slipcase::test {
namespace {

using network::Evidence;
using network::Network;
using network::Observation;

bool has(std::size_t setting, network::HiddenId h) { return (setting >> h.at() & 1U) != 0; }

mpq_class hidden_factor(const Network& network, std::size_t h, std::size_t setting) {
  const network::Hidden& node = network.hidden[h];
  mpq_class absent = node.own.complement();
  for (const network::HiddenLink& link : node.parents) {
    if (!has(setting, link.parent)) continue;
    if (link.blocks) return (setting >> h & 1U) != 0 ? 0 : 1;
    absent *= mpq_class(link.fire.complement());
  }
  return (setting >> h & 1U) != 0 ? mpq_class(1 - absent) : absent;
}

/// P(below the grade) with grades counted from 1; below 0 is impossible, below the last + 1
/// certain.
mpq_class below(const network::Finding& finding, std::size_t grade, std::size_t setting) {
  if (grade == 0) return 0;
  if (grade > finding.leak.size()) return 1;
  mpq_class result = finding.leak[grade - 1].complement();
  for (const network::FindingLink& link : finding.parents)
    if (has(setting, link.parent)) result *= mpq_class(link.fire[grade - 1].complement());
  return result;
}

}  // namespace

mpq_class Enumeration::present(std::size_t hidden) const {
  mpq_class sum = 0;
  for (std::size_t s = 0; s < setting.size(); ++s)
    if ((s >> hidden & 1U) != 0) sum += setting[s];
  return sum;
}

mpq_class Enumeration::none_of(std::size_t mask) const {
  mpq_class sum = 0;
  for (std::size_t s = 0; s < setting.size(); ++s)
    if ((s & mask) == 0) sum += setting[s];
  return sum;
}

std::vector<mpq_class> Enumeration::exactly(std::size_t mask) const {
  std::vector<mpq_class> result(setting.size());
  for (std::size_t s = 0; s < setting.size(); ++s) result[s & mask] += setting[s];
  return result;
}

Enumeration enumerate(const Network& network, const Evidence& evidence) {
  Enumeration result;
  result.setting.resize(std::size_t{1} << network.hidden.size());
  for (std::size_t s = 0; s < result.setting.size(); ++s) {
    mpq_class weight = 1;
    for (const network::Held& held : evidence.held)
      if (has(s, held.hidden) != held.present) weight = 0;
    for (std::size_t h = 0; h < network.hidden.size() && weight != 0; ++h)
      weight *= hidden_factor(network, h, s);
    for (const Observation& seen : evidence.findings) {
      if (weight == 0) break;
      const network::Finding& finding = network.findings[seen.finding.at()];
      weight *= below(finding, seen.at_most + 1, s) - below(finding, seen.at_least, s);
    }
    result.evidence += weight;
    result.setting[s] = weight;
  }
  return result;
}

}  // namespace slipcase::test

#include "network/wiring.h"

#include <stdexcept>

namespace slipcase::network {
namespace {

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(what);
}

void append(std::vector<double>& yes, std::vector<double>& no, Probability p) {
  yes.push_back(p.value());
  no.push_back(p.complement());
}

void lay_out_hidden(const Network& network, Wiring& wiring) {
  wiring.parent_begin.push_back(0);
  for (std::size_t h = 0; h < network.hidden.size(); ++h) {
    std::size_t blocking = 0;
    for (const HiddenLink& link : network.hidden[h].parents) {
      require(link.parent.at() < h, "hidden nodes must be stored parents first");
      wiring.parent.push_back(link.parent.index);
      wiring.blocks.push_back(link.blocks);
      if (link.blocks) ++blocking;
    }
    require(blocking <= 1, "a hidden node can be blocked by one other only");
    wiring.any_blocks = wiring.any_blocks || blocking > 0;
    wiring.is_cause.push_back(network.hidden[h].is_cause);
    wiring.parent_begin.push_back(size32(wiring.parent.size()));
  }
}

void lay_out_findings(const Network& network, Wiring& wiring) {
  wiring.link_begin.push_back(0);
  std::size_t leaks = 0;
  std::size_t numbers = 0;
  for (const Finding& finding : network.findings) {
    require(!finding.leak.empty(), "a finding needs at least one grade");
    for (const FindingLink& link : finding.parents) {
      require(link.parent.at() < network.hidden.size(),
              "a finding names a parent that is not there");
      require(link.fire.size() == finding.leak.size(), "a link needs one number per grade");
      wiring.link_parent.push_back(link.parent.index);
    }
    wiring.grades.push_back(size32(finding.leak.size()));
    wiring.link_begin.push_back(size32(wiring.link_parent.size()));
    wiring.leak_begin.push_back(leaks);
    wiring.number_begin.push_back(numbers);
    leaks += finding.leak.size();
    numbers += finding.leak.size() * finding.parents.size();
  }
}

bool same_shape(const Wiring& wiring, const Network& network) {
  if (network.hidden.size() != wiring.hidden_count()) return false;
  if (network.findings.size() != wiring.finding_count()) return false;
  for (std::size_t h = 0; h < network.hidden.size(); ++h) {
    const auto parents = wiring.parents_of_hidden(h);
    if (network.hidden[h].parents.size() != parents.size()) return false;
    for (std::size_t i = 0; i < parents.size(); ++i) {
      const HiddenLink& link = network.hidden[h].parents[i];
      if (link.parent.index != parents[i]) return false;
      if (link.blocks != wiring.blocks[wiring.parent_begin[h] + i]) return false;
    }
  }
  for (std::size_t f = 0; f < network.findings.size(); ++f) {
    const Finding& finding = network.findings[f];
    const auto parents = wiring.parents_of_finding(f);
    if (finding.leak.size() != wiring.grades[f] || finding.parents.size() != parents.size())
      return false;
    for (std::size_t i = 0; i < parents.size(); ++i) {
      const FindingLink& link = finding.parents[i];
      if (link.parent.index != parents[i] || link.fire.size() != wiring.grades[f]) return false;
    }
  }
  return true;
}

}  // namespace

Wiring lay_out(const Network& network) {
  Wiring wiring;
  lay_out_hidden(network, wiring);
  lay_out_findings(network, wiring);
  return wiring;
}

Numbers read_numbers(const Wiring& wiring, const Network& network) {
  require(same_shape(wiring, network), "the networks of one solver must have the same shape");
  Numbers numbers;
  for (const Hidden& hidden : network.hidden) {
    append(numbers.own_yes, numbers.own_no, hidden.own);
    for (const HiddenLink& link : hidden.parents)
      append(numbers.hidden_fire, numbers.hidden_pass, link.fire);
  }
  for (const Finding& finding : network.findings) {
    for (std::size_t g = 0; g < finding.leak.size(); ++g) {
      append(numbers.leak_yes, numbers.leak_no, finding.leak[g]);
      for (const FindingLink& link : finding.parents)
        append(numbers.link_fire, numbers.link_pass, link.fire[g]);
    }
  }
  return numbers;
}

}  // namespace slipcase::network

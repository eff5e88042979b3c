#include "support/network_maker.h"

#include <algorithm>
#include <numeric>

namespace slipcase::test {
namespace {

using namespace network;
using Random = std::mt19937_64;

bool happens(Random& random, double chance) { return std::bernoulli_distribution(chance)(random); }

std::size_t up_to(Random& random, std::size_t most) {
  return std::uniform_int_distribution<std::size_t>(0, most)(random);
}

Probability number(Random& random, const NetworkShape& shape, unsigned most) {
  if (happens(random, shape.chance_of_extremes))
    return happens(random, 0.5) ? Probability::never() : Probability::certain();
  return Probability::from_count(1 + up_to(random, most - 1), 4096).value_or(Probability::never());
}

/// One number per grade, never rising.
std::vector<Probability> grades(Random& random, const NetworkShape& shape, std::size_t count,
                                unsigned most) {
  std::vector<Probability> result;
  for (std::size_t g = 0; g < count; ++g) result.push_back(number(random, shape, most));
  std::ranges::sort(result, std::greater{}, &Probability::value);
  return result;
}

/// Some of the first `count` hidden nodes, in any order.
std::vector<HiddenId> some_of(Random& random, std::size_t count, std::size_t most) {
  std::vector<std::uint32_t> all(count);
  std::iota(all.begin(), all.end(), 0U);
  std::ranges::shuffle(all, random);
  all.resize(std::min(count, up_to(random, most)));
  std::vector<HiddenId> result;
  for (const std::uint32_t h : all) result.push_back(HiddenId{h});
  return result;
}

}  // namespace

Network make_network(Random& random, const NetworkShape& shape) {
  Network network;
  for (std::size_t h = 0; h < shape.hidden; ++h) {
    Hidden node;
    node.own = number(random, shape, 1200);
    node.is_cause = !happens(random, shape.chance_of_inside);
    if (happens(random, shape.chance_of_parents))
      for (const HiddenId parent : some_of(random, h, shape.parents))
        node.parents.push_back({parent, number(random, shape, 4000)});
    if (!node.parents.empty() && happens(random, shape.chance_of_block))
      node.parents[up_to(random, node.parents.size() - 1)].blocks = true;
    network.hidden.push_back(std::move(node));
  }
  for (std::size_t f = 0; f < shape.findings; ++f) {
    const std::size_t count = 1 + up_to(random, shape.grades - 1);
    network::Finding finding;
    finding.leak = grades(random, shape, count, 400);
    for (const HiddenId parent : some_of(random, shape.hidden, shape.finding_parents))
      finding.parents.push_back({parent, grades(random, shape, count, 4000)});
    network.findings.push_back(std::move(finding));
  }
  return network;
}

Evidence make_evidence(Random& random, const Network& network, const EvidenceShape& shape) {
  Evidence evidence;
  for (std::uint32_t f = 0; f < network.findings.size(); ++f) {
    if (!happens(random, shape.observed)) continue;
    const auto top = static_cast<std::uint32_t>(network.findings[f].leak.size());
    Observation seen{network::FindingId{f}, 0, 0};
    if (happens(random, shape.positive)) {
      seen.at_least = 1 + static_cast<std::uint32_t>(up_to(random, top - 1));
      seen.at_most = seen.at_least + static_cast<std::uint32_t>(up_to(random, top - seen.at_least));
    } else {
      seen.at_most = static_cast<std::uint32_t>(up_to(random, top));
    }
    evidence.findings.push_back(seen);
  }
  for (std::uint32_t h = 0; h < network.hidden.size(); ++h)
    if (happens(random, shape.held)) evidence.held.push_back({HiddenId{h}, happens(random, 0.5)});
  std::ranges::shuffle(evidence.findings, random);
  return evidence;
}

}  // namespace slipcase::test

#include "network/cure.h"

#include <algorithm>

namespace slipcase::network {

CureQuestion ended_by(const Network& network, std::span<const Observation> observations,
                      std::span<const Cure> cures, std::span<const FindingId> complaint) {
  std::vector<bool> complains(network.findings.size(), false);
  for (const Observation& seen : observations)
    if (seen.at_least > 0 && std::ranges::find(complaint, seen.finding) != complaint.end())
      complains[seen.finding.at()] = true;

  CureQuestion question;
  CureSplitter splitter(network, cures, complains);
  question.network = splitter.with_complaint_cured(network);
  question.likeness = splitter.likeness();
  question.evidence.findings.assign(observations.begin(), observations.end());
  // Their copies that only what is left fires stand last, in the same order.
  for (std::size_t f = network.findings.size(); f < question.network.findings.size(); ++f)
    question.evidence.findings.push_back({FindingId{static_cast<std::uint32_t>(f)}, 0, 0});
  return question;
}

}  // namespace slipcase::network

#include "advice/complaint.h"

namespace slipcase::advice {

using grounding::GroundFinding;

std::vector<network::FindingId> Complaint::ids() const {
  std::vector<network::FindingId> result;
  for (const GroundFinding finding : findings) result.push_back(network::FindingId{finding.index});
  return result;
}

Complaint complaint_of(const grounding::GroundRules& ground, const evaluation::Evaluation& states,
                       const evaluation::JobFacts& facts) {
  const auto present = [&](GroundFinding finding) {
    return states.findings.at(finding.at()).state == evaluation::State::present;
  };
  Complaint complaint;
  for (const GroundFinding finding : facts.complaint)
    if (present(finding)) complaint.findings.push_back(finding);
  if (!complaint.findings.empty()) return complaint;
  complaint.assumed = true;
  for (std::uint32_t f = 0; f < ground.findings.size(); ++f) {
    const GroundFinding finding{f};
    if (present(finding) && !ground.asks(finding).empty()) complaint.findings.push_back(finding);
  }
  return complaint;
}

}  // namespace slipcase::advice

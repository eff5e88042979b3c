#include "advice/outlook.h"

#include <algorithm>
#include <cmath>

namespace slipcase::advice {

using network::Posterior;

namespace {

/// "Yes" needs no second sweep: P(x | yes) = (P(x) - P(no) P(x | no)) / P(yes).
Outlook outlook_from(const Posterior& now, const Posterior& no) {
  const double chance_no = std::min(1.0, std::exp(no.log_evidence - now.log_evidence));
  Outlook ahead{*Probability::from_weights(1.0 - chance_no, chance_no), {}, no.hidden};
  for (std::size_t h = 0; h < now.hidden.size(); ++h) {
    // Rounding may leave a hair below zero where the two are equal.
    const double present = std::max(0.0, now.hidden[h].value() - chance_no * no.hidden[h].value());
    const double absent =
        std::max(0.0, now.hidden[h].complement() - chance_no * no.hidden[h].complement());
    ahead.if_yes.push_back(Probability::from_weights(present, absent).value_or(now.hidden[h]));
  }
  return ahead;
}

}  // namespace

bool is_open(const JobModel& job, GroundFinding finding) {
  const auto& state = job.states().findings.at(finding.at());
  return state.state == evaluation::State::unknown && state.at_least == 0;
}

std::vector<std::optional<Outlook>> outlooks(JobModel& job, const Posterior& now,
                                             std::span<const GroundFinding> findings) {
  std::vector<network::Evidence> if_no;
  for (const GroundFinding finding : findings) {
    network::Evidence evidence = job.evidence();
    std::erase_if(evidence.findings,
                  [&](const auto& o) { return o.finding.index == finding.index; });
    evidence.findings.push_back({network::FindingId{finding.index}, 0, 0});
    if_no.push_back(std::move(evidence));
  }
  std::vector<std::optional<Outlook>> result;
  for (const network::Outcome& outcome : job.solver().solve_batch(if_no)) {
    const auto* no = std::get_if<Posterior>(&outcome);
    result.push_back(no != nullptr ? std::optional(outlook_from(now, *no)) : std::nullopt);
  }
  return result;
}

double entropy_bits(Probability p) {
  const auto term = [](double x) { return x > 0.0 ? -x * std::log2(x) : 0.0; };
  return term(p.value()) + term(p.complement());
}

double information(std::span<const network::HiddenId> about, const Posterior& now,
                   const Outlook& ahead) {
  double bits = 0.0;
  for (const network::HiddenId node : about) {
    const std::size_t h = node.at();
    bits += entropy_bits(now.hidden[h]) - ahead.yes.value() * entropy_bits(ahead.if_yes[h]) -
            ahead.yes.complement() * entropy_bits(ahead.if_no[h]);
  }
  return bits;
}

}  // namespace slipcase::advice

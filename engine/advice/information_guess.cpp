#include "advice/information_guess.h"

#include <algorithm>

#include "advice/outlook.h"

namespace slipcase::advice {

using network::Posterior;

namespace {

/// The causes in question and every inside or later cause that they can make.
std::vector<bool> touched_by(const JobModel& job, const std::vector<GroundCause>& causes) {
  const auto& hidden = job.rules().numbers.hidden;
  std::vector<bool> touched(hidden.size(), false);
  for (const GroundCause cause : causes) touched[job.hidden(cause).at()] = true;
  for (std::size_t h = 0; h < hidden.size(); ++h) {
    for (const auto& link : hidden[h].parents) touched[h] = touched[h] || touched[link.parent.at()];
  }
  return touched;
}

/// The chances of all hidden nodes; an inside with nothing known below is not in the sweep, and its
/// chance is taken from its makers as if they were independent.
std::vector<Probability> estimated_chances(const JobModel& job, const Posterior& now) {
  std::vector<Probability> chances = now.hidden;
  for (const network::HiddenId id : now.skipped) {
    const network::Hidden& inside = job.rules().numbers.hidden.at(id.at());
    double absent = inside.own.complement();
    for (const auto& link : inside.parents) {
      absent *= 1.0 - chances.at(link.parent.at()).value() * link.fire.value();
    }
    chances.at(id.at()) =
        Probability::from(std::clamp(1.0 - absent, 0.0, 1.0)).value_or(inside.own);
  }
  return chances;
}

}  // namespace

std::vector<GroundCause> causes_in_question(const JobModel& job, const Posterior& before,
                                            const Posterior& now) {
  std::vector<GroundCause> list;
  for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c) {
    const GroundCause cause{c};
    const bool raised = is_raised(job.chance(before, cause), job.chance(now, cause));
    if (job.states().judged.at(c) && raised) list.push_back(cause);
  }
  return list;
}

InformationGuess::InformationGuess(const JobModel& job, const Posterior& now,
                                   const std::vector<GroundCause>& causes)
    : job_(job), touched_(touched_by(job, causes)), chances_(estimated_chances(job, now)) {}

double InformationGuess::about(GroundFinding finding) const {
  const network::Finding& numbers = job_.rules().numbers.findings.at(finding.at());
  double absent = numbers.leak.front().complement();
  for (const auto& link : numbers.parents) {
    absent *= 1.0 - chances_.at(link.parent.at()).value() * link.fire.front().value();
  }
  const auto entropy = [](double p) {
    return entropy_bits(Probability::from(std::clamp(p, 0.0, 1.0)).value_or(Probability::never()));
  };
  double bits = 0.0;
  for (const auto& link : numbers.parents) {
    if (!touched_.at(link.parent.at())) continue;
    const Probability parent = chances_.at(link.parent.at());
    const double without = absent / (1.0 - parent.value() * link.fire.front().value());
    bits += entropy(absent) - parent.complement() * entropy(without) -
            parent.value() * entropy(without * link.fire.front().complement());
  }
  return bits;
}

}  // namespace slipcase::advice

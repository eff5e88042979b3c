#include "self_check/draw_job.h"

#include <algorithm>

#include <boost/random/bernoulli_distribution.hpp>
#include <boost/random/uniform_01.hpp>

namespace self_check {

namespace {

using slipcase::Probability;
using slipcase::network::Finding;
using slipcase::network::FindingLink;
using slipcase::network::Hidden;
using slipcase::network::HiddenId;
using slipcase::network::HiddenLink;
using slipcase::network::Network;

bool draw_hidden(const Hidden& hidden, const std::vector<bool>& present, Random& random) {
  const auto is_there = [&](const HiddenLink& link) { return present.at(link.parent.at()); };
  for (const HiddenLink& link : hidden.parents)
    if (link.blocks && is_there(link)) return false;
  bool made = happens(hidden.own.value(), random);
  for (const HiddenLink& link : hidden.parents)
    if (!link.blocks && is_there(link) && happens(link.fire.value(), random)) made = true;
  return made;
}

/// One throw decides how strongly one maker shows it: `fire` counts "this grade or stronger".
std::uint32_t draw_grade(const std::vector<Probability>& fire, Random& random) {
  const double thrown = boost::random::uniform_01<double>()(random);
  std::uint32_t grade = 0;
  while (grade < fire.size() && thrown < fire[grade].value()) ++grade;
  return grade;
}

std::uint32_t draw_finding(const Finding& finding, const std::vector<bool>& present,
                           Random& random) {
  std::uint32_t grade = draw_grade(finding.leak, random);
  for (const FindingLink& link : finding.parents)
    if (present.at(link.parent.at())) grade = std::max(grade, draw_grade(link.fire, random));
  return grade;
}

DrawnJob draw(const Network& network, std::optional<HiddenId> only, Random& random) {
  DrawnJob job;
  job.present.resize(network.hidden.size(), false);
  for (std::uint32_t h = 0; h < network.hidden.size(); ++h) {
    const Hidden& hidden = network.hidden[h];
    job.present[h] =
        only && hidden.is_cause ? only == HiddenId{h} : draw_hidden(hidden, job.present, random);
  }
  for (const Finding& finding : network.findings)
    job.grades.push_back(draw_finding(finding, job.present, random));
  return job;
}

}  // namespace

bool happens(double chance, Random& random) {
  return boost::random::bernoulli_distribution<double>(chance)(random);
}

DrawnJob draw_job(const Network& network, Random& random) {
  return draw(network, std::nullopt, random);
}

DrawnJob draw_job_with_only(const Network& network, HiddenId cause, Random& random) {
  return draw(network, cause, random);
}

}  // namespace self_check

#include "self_check/what_is_known.h"

#include <stdexcept>

#include <boost/random/uniform_int_distribution.hpp>

namespace self_check {

namespace {

double share_of(Kind kind) {
  for (const KnownShare& entry : known_shares)
    if (entry.kind == kind) return entry.share;
  throw std::logic_error("a kind of finding of which nobody said how often it is known");
}

/// What comes all together or not at all.
struct ScanTool {
  bool codes = false;
  bool values = false;
  bool earlier_values = false;
  bool log = false;
};

ScanTool draw_scan_tool(Random& random) {
  ScanTool tool;
  tool.codes = happens(share_of(Kind::codes), random);
  tool.values = happens(share_of(Kind::values), random);
  tool.earlier_values =
      tool.values && happens(share_of(Kind::earlier_values) / share_of(Kind::values), random);
  tool.log = happens(share_of(Kind::log), random);
  return tool;
}

bool known_in_a_shop(Kind kind, const ScanTool& tool, Random& random) {
  switch (kind) {
    case Kind::codes:
      return tool.codes;
    case Kind::values:
      return tool.values;
    case Kind::earlier_values:
      return tool.earlier_values;
    case Kind::log:
      return tool.log;
    case Kind::told_of_all:
    case Kind::told_of_one:
    case Kind::seen:
    case Kind::on_lift:
    case Kind::opened:
    case Kind::check_result:
      break;
  }
  return happens(share_of(kind), random);
}

}  // namespace

std::vector<bool> draw_known(const std::vector<std::optional<Kind>>& kinds, Setting setting,
                             const History& history, Random& random) {
  using slipcase::evaluation::State;
  std::vector<bool> known(kinds.size(), false);
  const ScanTool tool = draw_scan_tool(random);
  for (std::size_t f = 0; f < kinds.size(); ++f) {
    if (!kinds[f]) continue;
    switch (setting) {
      case Setting::as_in_a_shop:
        // Values that this history sets aside are not used, whoever reads them.
        known[f] = known_in_a_shop(*kinds[f], tool, random) &&
                   history.states.findings[f].state != State::set_aside;
        break;
      case Setting::every_second:
        known[f] = happens(0.5, random);
        break;
      case Setting::everything:
        known[f] = true;
        break;
    }
  }
  return known;
}

bool name_one_of_each_list(const GroundRules& ground, const DrawnJob& job, std::vector<bool>& known,
                           Random& random) {
  bool two = false;
  for (const auto& list : ground.at_most_one) {
    std::vector<std::size_t> present;
    for (const GroundFinding finding : list.findings)
      if (known[finding.at()] && job.grades[finding.at()] > 0) present.push_back(finding.at());
    if (present.empty()) continue;
    std::size_t named = 0;
    if (present.size() > 1) {
      two = true;
      named = boost::random::uniform_int_distribution<std::size_t>(0, present.size() - 1)(random);
    }
    for (const GroundFinding finding : list.findings)
      if (finding.at() != present[named]) known[finding.at()] = false;
  }
  return two;
}

std::vector<Observation> observations(const DrawnJob& job, const std::vector<bool>& known) {
  std::vector<Observation> list;
  for (std::uint32_t f = 0; f < known.size(); ++f)
    if (known[f]) list.push_back({slipcase::network::FindingId{f}, job.grades[f], job.grades[f]});
  return list;
}

}  // namespace self_check

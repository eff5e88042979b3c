#include "service/gear_ratios.h"

#include <algorithm>
#include <cmath>

namespace slipcase::service {

namespace {

using profile::Gear;
using profile::Profile;
using rulebase::MemberId;

const std::string& element_name(const Profile& unit, MemberId element) {
  return unit.vocabulary.scope(unit.element_scope).members[element.at()];
}

/// The forward gear with the next smaller ratio.
std::optional<double> step_from(const Gear& gear, const std::vector<Gear>& gears) {
  const Gear* next = nullptr;
  for (const Gear& other : gears) {
    const bool higher = other.ratio > 0.0 && other.ratio < gear.ratio;
    if (higher && (next == nullptr || other.ratio > next->ratio)) next = &other;
  }
  if (next == nullptr) return std::nullopt;
  return gear.ratio / next->ratio;
}

double span_of(const std::vector<Gear>& gears) {
  double largest = 0.0;
  double smallest = 0.0;
  for (const Gear& gear : gears) {
    if (gear.ratio <= 0.0) continue;
    largest = std::max(largest, gear.ratio);
    smallest = smallest == 0.0 ? gear.ratio : std::min(smallest, gear.ratio);
  }
  return smallest == 0.0 ? 0.0 : largest / smallest;
}

GearLine line_of(const Profile& unit, const Gear& gear, const Speeds& speeds) {
  GearLine line;
  line.gear = gear.name;
  line.ratio = gear.ratio;
  line.step = step_from(gear, unit.gears);
  for (const Gear::SlipFormula& slip : gear.slip) {
    line.loads.push_back({element_name(unit, slip.element), gear.torque_share[slip.element.at()],
                          slip.turbine, slip.output});
  }
  if (speeds.turbine && speeds.output) {
    line.turbine_error = *speeds.turbine - gear.ratio * *speeds.output;
  }
  return line;
}

bool carries(const Gear& gear, MemberId element) { return gear.torque_share[element.at()] > 0.0; }

/// Slip there as well would be this element's; the more it carries there, the sooner it slips.
std::vector<GearWithShare> tells_in(const Profile& unit, const Gear& asked, MemberId element) {
  std::vector<GearWithShare> gears;
  for (const Gear& gear : unit.gears) {
    const bool alone =
        std::none_of(asked.slip.begin(), asked.slip.end(), [&](const Gear::SlipFormula& other) {
          return other.element != element && carries(gear, other.element);
        });
    if (alone && carries(gear, element))
      gears.push_back({gear.name, gear.torque_share[element.at()]});
  }
  std::stable_sort(gears.begin(), gears.end(), [](const GearWithShare& a, const GearWithShare& b) {
    return a.torque_share > b.torque_share;
  });
  return gears;
}

std::vector<SlipSuspect> suspects_in(const Profile& unit, const Gear& gear, double turbine,
                                     double output) {
  std::vector<SlipSuspect> suspects;
  for (const Gear::SlipFormula& slip : gear.slip) {
    suspects.push_back({element_name(unit, slip.element),
                        slip.turbine * turbine + slip.output * output,
                        gear.torque_share[slip.element.at()], tells_in(unit, gear, slip.element)});
  }
  return suspects;
}

bool is_noise(const Profile& unit, double turbine_error) {
  return unit.slip_noise && std::abs(turbine_error) <= unit.slip_noise->value;
}

GearAtSpeed at_speed(const Profile& unit, const Gear& gear, const Speeds& speeds) {
  GearAtSpeed result;
  result.gear = gear.name;
  if (speeds.output) result.expected_turbine = gear.ratio * *speeds.output;
  if (speeds.turbine) result.expected_output = *speeds.turbine / gear.ratio;
  if (!speeds.turbine || !speeds.output) return result;
  const double error = *speeds.turbine - *result.expected_turbine;
  result.turbine_error = error;
  result.within_noise = is_noise(unit, error);
  for (const Gear& other : unit.gears) {
    const bool fits = is_noise(unit, *speeds.turbine - other.ratio * *speeds.output);
    if (fits && !result.within_noise) result.fits_instead.push_back(other.name);
  }
  result.suspects = suspects_in(unit, gear, *speeds.turbine, *speeds.output);
  return result;
}

}  // namespace

GearRatios gear_ratios(const Profile& unit, std::optional<MemberId> gear, const Speeds& speeds) {
  GearRatios result;
  result.unit = unit.name;
  result.title = unit.title;
  for (const Gear& one : unit.gears) result.gears.push_back(line_of(unit, one, speeds));
  result.span = span_of(unit.gears);
  if (unit.slip_noise) result.slip_noise = unit.slip_noise->value;
  result.turbine = speeds.turbine;
  result.output = speeds.output;
  if (gear) result.asked = at_speed(unit, unit.gears[gear->at()], speeds);
  return result;
}

}  // namespace slipcase::service

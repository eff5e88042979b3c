// Gears, and what two speeds say about one, on screen.
#include <cmath>

#include <fmt/core.h>

#include "report/lines.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::heading;
using report::joined;
using report::led;
using report::wrapped;

std::string rpm(double speed) { return fmt::format("{} rpm", std::lround(speed)); }

std::string loads_text(const std::vector<GearLoad>& loads) {
  std::vector<std::string> texts;
  for (const GearLoad& load : loads)
    texts.push_back(fmt::format("{} {:.2f}", load.element, load.torque_share));
  return joined(texts);
}

std::string table(const GearRatios& ratios, const TextStyle& style, std::size_t width) {
  const bool with_speeds = ratios.turbine && ratios.output;
  std::string out = heading(fmt::format(" {:<6}{:>8}{:>8}{}  {}", "gear", "ratio", "step",
                                        with_speeds ? "  turbine off" : "", "holds, and carries"),
                            style);
  for (const GearLine& line : ratios.gears) {
    std::string lead = fmt::format(" {:<6}{:>8.3f}{:>8}", line.gear, line.ratio,
                                   line.step ? fmt::format("{:.3f}", *line.step) : "");
    if (line.turbine_error)
      lead += fmt::format("{:>13}", fmt::format("{:+} rpm", std::lround(*line.turbine_error)));
    out += led(lead, report::columns(lead) + 2, loads_text(line.loads), width);
  }
  return out +
         wrapped(fmt::format("Ratio: turbine over output. Step: to the next gear up; all forward "
                             "gears span {:.2f}. Carries: torque in the element for each unit of "
                             "torque at the turbine, losses left out.",
                             ratios.span),
                 width, 1, 0);
}

const GearLine& line_of(const GearRatios& ratios, const std::string& gear) {
  for (const GearLine& line : ratios.gears) {
    if (line.gear == gear) return line;
  }
  return ratios.gears.front();
}

std::vector<std::string> elements_of(const GearLine& line) {
  std::vector<std::string> names;
  for (const GearLoad& load : line.loads) names.push_back(load.element);
  return names;
}

std::string others_hold(const GearLine& line, const std::string& element) {
  std::vector<std::string> others;
  for (const std::string& name : elements_of(line)) {
    if (name != element) others.push_back(name);
  }
  if (others.empty()) return {};
  return fmt::format(", if {} {}", joined(others, "and"), others.size() == 1 ? "holds" : "hold");
}

std::string formulas(const GearLine& line, std::size_t width) {
  std::string out;
  for (const GearLoad& load : line.loads) {
    out += wrapped(fmt::format("{} slips by {:.3f} x turbine {} {:.3f} x output{}", load.element,
                               load.turbine_factor, load.output_factor < 0.0 ? "-" : "+",
                               std::abs(load.output_factor), others_hold(line, load.element)),
                   width, 1, 2);
  }
  return out;
}

/// Gears that ask alike of the element stand together, as far as two decimals tell.
std::string tells_line(const SlipSuspect& suspect) {
  std::vector<std::string> gears;
  std::vector<std::string> most;
  const auto two_decimals = [](double share) { return fmt::format("{:.2f}", share); };
  for (const GearWithShare& gear : suspect.tells_in) {
    gears.push_back(gear.gear);
    const bool as_much =
        two_decimals(gear.torque_share) == two_decimals(suspect.tells_in.front().torque_share);
    if (as_much) most.push_back(gear.gear);
  }
  if (gears.empty()) {
    return fmt::format("{}: no other gear needs it without the rest of this one", suspect.element);
  }
  const double share = suspect.tells_in.front().torque_share;
  std::string text = fmt::format(
      "{}: slips in {} as well; {} {} most of it ({} of the turbine's torque, here {})",
      suspect.element, joined(gears, "or"), joined(most, "and"), most.size() == 1 ? "asks" : "ask",
      two_decimals(share), two_decimals(suspect.torque_share));
  const bool as_much = two_decimals(share) == two_decimals(suspect.torque_share);
  if (!as_much && share < suspect.torque_share) text += ", so no slip there does not clear it";
  return text;
}

std::string which_one(const GearAtSpeed& asked, const GearLine& line, std::size_t width) {
  std::string out;
  for (const SlipSuspect& suspect : asked.suspects) {
    out += wrapped(fmt::format("{} slips by {}{}", suspect.element, rpm(std::abs(suspect.slip)),
                               others_hold(line, suspect.element)),
                   width, 3, 2);
  }
  if (asked.suspects.size() < 2) return out;
  out += wrapped(fmt::format("Two speeds alone can never say whether it is {}. A second gear can:",
                             joined(elements_of(line), "or")),
                 width, 1, 0);
  for (const SlipSuspect& suspect : asked.suspects) {
    out += wrapped(tells_line(suspect), width, 3, 2);
  }
  return out + wrapped(
                   "Slip in every gear is no single element: line pressure, level, fluid or a "
                   "speed sensor.",
                   width, 1, 0);
}

std::string verdict(const GearRatios& ratios, const GearAtSpeed& asked, std::size_t width) {
  const double error = *asked.turbine_error;
  const std::string noise =
      ratios.slip_noise ? fmt::format(" Up to {} is noise.", rpm(*ratios.slip_noise)) : "";
  std::string text = fmt::format("The turbine turns {} {} than that.", rpm(std::abs(error)),
                                 error < 0.0 ? "slower" : "faster");
  if (asked.within_noise) return wrapped(text + noise + " No slip shows here.", width, 1, 0);
  text += noise;
  if (!asked.fits_instead.empty())
    text += fmt::format(" The speeds are those of {}: was the car in {}?",
                        joined(asked.fits_instead, "or"), asked.gear);
  if (error < 0.0)
    text +=
        " Slip under power makes it turn faster: the car was coasting, a speed is wrong, or it "
        "was another gear.";
  return wrapped(text, width, 1, 0);
}

std::string asked_gear(const GearRatios& ratios, const TextStyle& style, std::size_t width) {
  const GearAtSpeed& asked = *ratios.asked;
  const GearLine& line = line_of(ratios, asked.gear);
  std::string title = "GEAR " + asked.gear;
  if (ratios.turbine) title += ", turbine " + rpm(*ratios.turbine);
  if (ratios.output) title += ", output " + rpm(*ratios.output);
  std::string out = heading(title, style);
  out += wrapped(
      fmt::format("Ratio {:.3f}; held by {}.", line.ratio, joined(elements_of(line), "and")), width,
      1, 0);
  if (asked.expected_turbine)
    out += wrapped(
        fmt::format("For this output the turbine should turn at {}.", rpm(*asked.expected_turbine)),
        width, 1, 0);
  else if (asked.expected_output)
    out += wrapped(
        fmt::format("For this turbine the output should turn at {}.", rpm(*asked.expected_output)),
        width, 1, 0);
  if (!asked.turbine_error) return out + formulas(line, width);
  out += verdict(ratios, asked, width);
  if (!asked.within_noise) out += which_one(asked, line, width);
  return out + wrapped(
                   "Good only for both speeds read at one moment of steady driving, over some "
                   "seconds, without spinning wheels.",
                   width, 1, 0);
}

}  // namespace

std::string to_text(const GearRatios& ratios, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  const std::string title = wrapped(ratios.title, width, 0, 2) + "\n";
  return title + (ratios.asked ? asked_gear(ratios, style, width) : table(ratios, style, width));
}

}  // namespace slipcase

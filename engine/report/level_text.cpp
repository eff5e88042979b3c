// What a level is worth that was set at another temperature, on screen.
#include <cmath>

#include <fmt/core.h>

#include "report/lines.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::heading;
using report::wrapped;

std::string celsius(double value) { return fmt::format("{:.4g} °C", value); }
std::string litres(double millilitres) { return fmt::format("{:.2f} l", millilitres / 1000.0); }

/// Half a hundredth of a litre is less than anyone can see.
bool is_nothing(double millilitres) { return std::abs(millilitres) < 5.0; }

std::string amount(double millilitres, std::string_view above, std::string_view below) {
  return fmt::format("{} {}", litres(std::abs(millilitres)), millilitres > 0.0 ? above : below);
}

std::string level_line(const FluidLevel& level, const LevelAt& at, std::size_t width) {
  const std::string lead = "at " + celsius(at.temperature) + ": ";
  if (is_nothing(at.too_much)) return wrapped(lead + "right", width, 1, 2);
  return wrapped(fmt::format("{}{}; a fill right there stands {} at {}", lead,
                             amount(at.too_much, "too much", "too little"),
                             amount(at.reads_off, "high", "low"), celsius(level.set_at)),
                 width, 1, 2);
}

std::string window_line(const FluidLevel& level, std::size_t width) {
  if (!level.window_low) return {};
  const std::string window =
      fmt::format("{:.4g} to {}", *level.window_low, celsius(*level.window_high));
  if (level.set_in_window()) {
    return wrapped(fmt::format("{} is within the {} of this unit: the level stands.",
                               celsius(level.set_at), window),
                   width, 0, 0);
  }
  return wrapped(fmt::format("{} is not within the {} of this unit: set the level again there.",
                             celsius(level.set_at), window),
                 width, 0, 0);
}

}  // namespace

std::string to_text(const FluidLevel& level, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out = wrapped(level.title, width, 0, 2) + "\n";
  out += heading("LEVEL SET RIGHT AT " + celsius(level.set_at), style);
  for (const LevelAt& at : level.at) out += level_line(level, at, width);
  out += window_line(level, width);
  out += "\n";
  return out +
         wrapped(fmt::format("Reckoned for {} in the unit when the level is right, {:.4g} kg/m3 at "
                             "15 °C, as ASTM D1250 (API MPMS 11.1) does for lubricating oils, all "
                             "of it at one temperature. Left out: air in the fluid, and what runs "
                             "back from converter and cooler with the engine off, which can be "
                             "far more.",
                             litres(level.fill), level.density),
                 width, 0, 0);
}

}  // namespace slipcase

#include "service/fluid_level.h"

#include <cmath>
#include <fstream>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using slipcase::FluidLevel;
using namespace slipcase::service;

namespace {

nlohmann::json reference() {
  std::ifstream file(SLIPCASE_TEST_DATA "/reference/fluid_volume.json");
  return nlohmann::json::parse(file);
}

}  // namespace

TEST_CASE("volume corrections agree with the standard's formula and with its customary form") {
  // ASTM D1250 / API MPMS chapter 11.1, lubricating oils; see the file for what could not be read.
  const auto table = reference();
  for (const auto& row : table.at("correction").at("rows")) {
    CAPTURE(row);
    const double found = volume_correction(row[0].get<double>(), row[1].get<double>());
    CHECK(std::abs(found - row[2].get<double>()) <= 1e-12);
    // The standard's rounding allows 1e-4.
    CHECK(std::abs(found - row[3].get<double>()) <= 2e-5);
  }
}

TEST_CASE("a fill of one mass takes the litres of the formula at every temperature") {
  const auto table = reference();
  for (const auto& row : table.at("fill").at("rows")) {
    CAPTURE(row);
    const double litres = row[1].get<double>();
    const FluidLevel level = fluid_level(1000.0 * litres, row[0].get<double>(),
                                         row[2].get<double>(), {row[3].get<double>()});
    CHECK(level.at[0].too_much / 1000.0 ==
          doctest::Approx(row[4].get<double>() - litres).epsilon(1e-9));
  }
}

TEST_CASE("a level set too cold is too much when warm, one set too hot too little") {
  // Computed from the formula for 9 litres at 845 kg/m3; see the file.
  const auto table = reference();
  const auto& rows = table.at("level");
  for (std::size_t i = 0; i < rows.at("set_at").size(); ++i) {
    CAPTURE(i);
    const FluidLevel level = fluid_level(9000.0, 845.0, rows["set_at"][i].get<double>(), {40.0});
    CHECK(std::lround(level.at[0].too_much) == rows["over"][i].get<long>());
  }
}

TEST_CASE("what is too much in one direction is too little in the other") {
  const FluidLevel level = fluid_level(9000.0, 845.0, 20.0, {45.0});
  const double there = 1.0 + level.at[0].too_much / 9000.0;
  const double back = 1.0 + level.at[0].reads_off / 9000.0;
  CHECK(there * back == doctest::Approx(1.0).epsilon(1e-12));
  CHECK(level.at[0].reads_off < 0.0);
}

TEST_CASE("a level asked about at the temperature where it was set is right") {
  const FluidLevel level = fluid_level(9000.0, 845.0, 45.0, {45.0});
  CHECK(level.at[0].too_much == 0.0);
  CHECK(level.at[0].reads_off == 0.0);
}

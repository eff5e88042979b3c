#include "service/gear_ratios.h"

#include <cmath>

#include <nlohmann/json.hpp>

#include "unit/service/units_under_test.h"

using namespace slipcase;
using namespace slipcase::test;
using service::Speeds;

namespace {

GearRatios asked(const profile::Profile& unit, std::string_view gear, const Speeds& speeds) {
  const auto member = unit.vocabulary.find_member(unit.gear_scope, gear);
  REQUIRE(member);
  return service::gear_ratios(unit, member, speeds);
}

const GearLine& line(const GearRatios& ratios, const std::string& gear) {
  for (const GearLine& one : ratios.gears) {
    if (one.gear == gear) return one;
  }
  FAIL("no gear ", gear);
  return ratios.gears.front();
}

std::string names(const std::vector<GearWithShare>& gears) {
  std::string text;
  for (const GearWithShare& gear : gears) text += (text.empty() ? "" : " ") + gear.gear;
  return text;
}

struct SlipRow {
  const char* gear;
  const char* element;
  double turbine;
  double output;
};

}  // namespace

TEST_CASE("the six-speed's slip formulas are those worked by hand for its layout") {
  // Willis equations of the layout solved by hand with k = 66/100, a = 83/32, b = 83/37 (teeth
  // invented), printed with three decimals, some cut instead of rounded.
  const std::vector<SlipRow> sheet{
      {"1", "K1", 0.660, -2.594}, {"1", "B2", -0.414, 1.628}, {"2", "K1", 0.660, -1.491},
      {"2", "B1", -1.343, 3.035}, {"3", "K1", 0.984, -1.491}, {"3", "K2", 2.003, -3.035},
      {"4", "K1", 2.254, -2.594}, {"4", "K3", 1.414, -1.628}, {"5", "K2", -2.583, 2.243},
      {"5", "K3", 0.796, -0.692}, {"6", "B1", 3.243, -2.243}, {"6", "K3", 1.000, -0.692},
      {"R", "K2", 0.660, 2.243},  {"R", "B2", 0.203, 0.692}};
  const GearRatios ratios = service::gear_ratios(six_speed(), std::nullopt, {});
  for (const SlipRow& row : sheet) {
    bool found = false;
    for (const GearLoad& load : line(ratios, row.gear).loads) {
      if (load.element != row.element) continue;
      found = true;
      CAPTURE(row.gear);
      CAPTURE(row.element);
      // Which of the two sides is taken first is a matter of sign alone.
      const double sign = load.turbine_factor * row.turbine < 0.0 ? -1.0 : 1.0;
      CHECK(std::abs(sign * load.turbine_factor - row.turbine) <= 0.0006);
      CHECK(std::abs(sign * load.output_factor - row.output) <= 0.0006);
    }
    CHECK(found);
  }
}

TEST_CASE("ratios, steps and span of the six-speed are those worked by hand") {
  // As above; invented teeth.
  const GearRatios ratios = service::gear_ratios(six_speed(), std::nullopt, {});
  const std::vector<std::pair<std::string, double>> steps{
      {"1", 1.739}, {"2", 1.491}, {"3", 1.317}, {"4", 1.325}, {"5", 1.255}};
  for (const auto& entry : steps) {
    const std::string& gear = entry.first;
    const double step = entry.second;
    CAPTURE(gear);
    REQUIRE(line(ratios, gear).step);
    CHECK(std::abs(*line(ratios, gear).step - step) <= 0.00051);
  }
  CHECK_FALSE(line(ratios, "6").step);
  CHECK(std::abs(ratios.span - 5.68) <= 0.005);
  CHECK(std::abs(line(ratios, "R").ratio + 3.399) <= 0.00051);
}

TEST_CASE("published six-speed gear sets of this layout come out through a profile") {
  // Ratios as published, sources beside each set in the file.
  std::ifstream file(SLIPCASE_TEST_DATA "/reference/gear_sets.json");
  const auto sets = nlohmann::json::parse(file)["sets"];
  unsigned checked = 0;
  for (const auto& set : sets) {
    const bool same_layout =
        set["meshes"].size() == 3 && set["cases"].size() == 7 && set["meshes"][0]["sun"] == "case";
    if (!same_layout) continue;
    const auto teeth = [&](std::size_t mesh) { return set["meshes"][mesh]["teeth"]; };
    std::string text =
        replaced(shipped_text(), "{ sun: 34, ring: 66 }",
                 "{ sun: " + teeth(0)[0].dump() + ", ring: " + teeth(0)[1].dump() + " }");
    text = replaced(text, "{ small_sun: 32, large_sun: 37, ring: 83 }",
                    "{ small_sun: " + teeth(1)[0].dump() + ", large_sun: " + teeth(2)[0].dump() +
                        ", ring: " + teeth(1)[1].dump() + " }");
    text = replaced(text, "ratios: {", "# ratios: {");
    const GearRatios ratios = service::gear_ratios(unit_of(text), std::nullopt, {});
    for (const auto& gear : set["cases"]) {
      const double published = gear["published"].get<double>();
      CAPTURE(set["name"].get<std::string>());
      CAPTURE(published);
      CHECK(std::abs(line(ratios, gear["name"]).ratio - published) <=
            set["published_tolerance"].get<double>());
      ++checked;
    }
  }
  CHECK(checked == 14);
}

TEST_CASE("in 4th 64 rpm too many at the turbine are 144 rpm at K1 or 90 at K3") {
  // Worked by hand, invented teeth: at output 1500 the turbine should turn at 1726.
  const GearRatios ratios = asked(six_speed(), "4", {1790.0, 1500.0});
  REQUIRE(ratios.asked);
  const GearAtSpeed& gear = *ratios.asked;
  CHECK(std::lround(*gear.expected_turbine) == 1726);
  CHECK(std::lround(*gear.turbine_error) == 64);
  CHECK_FALSE(gear.within_noise);
  REQUIRE(gear.suspects.size() == 2);
  CHECK(gear.suspects[0].element == "K1");
  CHECK(std::lround(std::abs(gear.suspects[0].slip)) == 144);
  CHECK(gear.suspects[1].element == "K3");
  CHECK(std::lround(std::abs(gear.suspects[1].slip)) == 90);
}

TEST_CASE("the gear that tells is one with the element and without the other, by what it carries") {
  const GearRatios ratios = asked(six_speed(), "4", {1790.0, 1500.0});
  CHECK(names(ratios.asked->suspects[0].tells_in) == "1 2 3");
  CHECK(names(ratios.asked->suspects[1].tells_in) == "5 6");
  const GearRatios reverse = asked(six_speed(), "R", {1400.0, -400.0});
  CHECK(reverse.asked->suspects[0].element == "K2");
  CHECK(names(reverse.asked->suspects[0].tells_in) == "3 5");
  CHECK(names(reverse.asked->suspects[1].tells_in) == "1");
}

TEST_CASE("slip times what the element carries is what the turbine gains, in every gear") {
  // Virtual work: in a train without losses what the slip takes is what the turbine gives.
  const profile::Profile unit = six_speed();
  for (const profile::Gear& gear : unit.gears) {
    for (const double off : {-35.0, 12.0, 250.0}) {
      const double output = gear.ratio < 0.0 ? -310.0 : 1234.0;
      const double turbine = gear.ratio * output + off;
      const GearRatios ratios = asked(unit, gear.name, {turbine, output});
      for (const SlipSuspect& suspect : ratios.asked->suspects) {
        CAPTURE(gear.name);
        CAPTURE(suspect.element);
        CHECK(std::abs(suspect.slip) * suspect.torque_share ==
              doctest::Approx(std::abs(off)).epsilon(1e-9));
      }
    }
  }
}

TEST_CASE("what the profile calls noise shows no slip, and one rpm more does") {
  const profile::Profile unit = six_speed();
  REQUIRE(unit.slip_noise);
  const double at_rest = 1500.0 / 0.66;  // 3rd turns as one block behind the front set
  CHECK(asked(unit, "3", {at_rest + unit.slip_noise->value - 0.5, 1500.0}).asked->within_noise);
  CHECK_FALSE(asked(unit, "3", {at_rest + unit.slip_noise->value + 1, 1500.0}).asked->within_noise);
}

TEST_CASE("without a noise limit in the profile nothing counts as noise") {
  const profile::Profile unit = unit_of(replaced(shipped_text(), "slip_noise:", "# slip_noise:"));
  const GearRatios ratios = asked(unit, "3", {1500.0 / 0.66, 1500.0});
  CHECK_FALSE(ratios.slip_noise);
  CHECK_FALSE(ratios.asked->within_noise);
}

TEST_CASE("speeds of another gear are told as such") {
  const GearRatios ratios = asked(six_speed(), "4", {1500.0 / 0.66, 1500.0});
  CHECK(ratios.asked->fits_instead == std::vector<std::string>{"3"});
  CHECK(asked(six_speed(), "3", {1500.0 / 0.66, 1500.0}).asked->fits_instead.empty());
}

TEST_CASE("one speed gives the other, and no slip") {
  const GearRatios of_output = asked(six_speed(), "4", {std::nullopt, 1500.0});
  CHECK(std::lround(*of_output.asked->expected_turbine) == 1726);
  CHECK_FALSE(of_output.asked->expected_output);
  CHECK(of_output.asked->suspects.empty());
  const GearRatios of_turbine = asked(six_speed(), "4", {1726.0, std::nullopt});
  CHECK(std::lround(*of_turbine.asked->expected_output) == 1500);
  CHECK_FALSE(of_turbine.asked->turbine_error);
}

TEST_CASE("speeds without a gear are held against every gear") {
  const GearRatios ratios = service::gear_ratios(six_speed(), std::nullopt, {1790.0, 1500.0});
  CHECK_FALSE(ratios.asked);
  CHECK(std::lround(*line(ratios, "4").turbine_error) == 64);
  CHECK(std::lround(*line(ratios, "3").turbine_error) == -483);
}

TEST_CASE("a brake beside a one-way clutch is no suspect in the gear that the clutch carries") {
  const profile::Profile unit =
      unit_of(replaced(shipped_text(), "one_way_clutch: no }", "one_way_clutch: yes }"));
  const GearRatios first = asked(unit, "1", {4000.0, 1000.0});
  REQUIRE(first.asked->suspects.size() == 1);
  CHECK(first.asked->suspects[0].element == "K1");
  CHECK(asked(unit, "R", {1400.0, -400.0}).asked->suspects.size() == 2);
}

// The calculators as a program that uses Slipcase sees them: questions as texts.
#include "slipcase/service.h"

#include <fstream>
#include <iterator>
#include <string>

#include <doctest/doctest.h>

using namespace slipcase;

namespace {

struct LoadedUnit {
  std::shared_ptr<SourceSet> sources = std::make_shared<SourceSet>();
  Diagnostics diagnostics;
  std::optional<Unit> unit;

  LoadedUnit() {
    RulePaths paths;
    paths.shipped = SLIPCASE_RULES "/six_speed";
    unit = load_unit(paths, sources, diagnostics).unit;
    REQUIRE(unit);
  }

  /// "--turbine: value-unit-missing: `1790`" for what was said; the text of the first.
  [[nodiscard]] std::string said() const {
    std::string text;
    for (const Diagnostic& one : diagnostics.list()) {
      if (!text.empty()) text += "; ";
      if (one.place) text += std::string(sources->name(one.place->source)) + ": ";
      text += one.name;
    }
    return text;
  }
  [[nodiscard]] std::string first_text() const {
    return diagnostics.empty() ? "" : diagnostics.list().front().text;
  }
};

std::string said_of(const RatioQuestion& question) {
  LoadedUnit loaded;
  const bool answered = gear_ratios(*loaded.unit, question, loaded.diagnostics).has_value();
  CHECK(answered == loaded.diagnostics.empty());
  return loaded.said();
}

std::string said_of(const LevelQuestion& question) {
  LoadedUnit loaded;
  const bool answered = fluid_level(*loaded.unit, question, loaded.diagnostics).has_value();
  CHECK(answered == loaded.diagnostics.empty());
  return loaded.said();
}

/// The shipped unit with these lines of its profile out of use.
Unit unit_without(const std::vector<std::string>& lines) {
  std::ifstream file(SLIPCASE_RULES "/six_speed/profile.yaml");
  std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  for (const std::string& line : lines) {
    const std::size_t at = text.find("\n" + line);
    REQUIRE(at != std::string::npos);
    text.replace(at, 1, "\n# ");
  }
  const auto path = std::filesystem::temp_directory_path() /
                    ("slipcase_unit_without_" + std::to_string(text.size()) + ".yaml");
  std::ofstream(path) << text;
  RulePaths paths;
  paths.profile = path;
  Diagnostics diagnostics;
  const UnitLoad load = load_unit(paths, std::make_shared<SourceSet>(), diagnostics);
  std::filesystem::remove(path);
  REQUIRE(load.unit);
  return *load.unit;
}

LevelQuestion at(const std::string& set_at) { return {set_at, {}, {}, {}}; }

}  // namespace

TEST_CASE("speeds are read with their unit and answered for the gear") {
  LoadedUnit loaded;
  const auto ratios =
      gear_ratios(*loaded.unit, {"4", "1790 rpm", "1500 1/min"}, loaded.diagnostics);
  REQUIRE(ratios);
  REQUIRE(ratios->asked);
  CHECK(ratios->asked->suspects.size() == 2);
  CHECK(ratios->unit == "six_speed");
}

TEST_CASE("everything wrong with a question about ratios is said in one run") {
  CHECK(said_of(RatioQuestion{"7", "1790", "fast"}) ==
        "--gear: unknown-gear; --turbine: value-unit-missing; --output: value-number-shape");
}

TEST_CASE("an unknown gear is answered with those that there are") {
  LoadedUnit loaded;
  CHECK_FALSE(gear_ratios(*loaded.unit, {"8", {}, {}}, loaded.diagnostics));
  CHECK(loaded.first_text() ==
        "`six_speed` has no gear `8`; write `R`, `1`, `2`, `3`, `4`, `5` or `6`");
}

TEST_CASE("in reverse the output turns backwards, in the other gears forwards") {
  CHECK(said_of(RatioQuestion{"R", "1400 rpm", "400 rpm"}) == "--output: speed-direction");
  CHECK(said_of(RatioQuestion{"R", "1400 rpm", "-400 rpm"}).empty());
  CHECK(said_of(RatioQuestion{"4", "1400 rpm", "-400 rpm"}) == "--output: speed-direction");
  LoadedUnit loaded;
  CHECK_FALSE(gear_ratios(*loaded.unit, {"R", {}, "400 rpm"}, loaded.diagnostics));
  CHECK(loaded.first_text() == "in gear `R` the output turns backwards: write `-400 rpm`");
}

TEST_CASE("speeds that the profile calls impossible are refused") {
  // Turbine 0 to 9000 rpm, output -3000 to 12000 rpm.
  CHECK(said_of(RatioQuestion{"4", "9001 rpm", "12001 rpm"}) ==
        "--turbine: speed-impossible; --output: speed-impossible");
  CHECK(said_of(RatioQuestion{{}, "9000 rpm", "12000 rpm"}).empty());
}

TEST_CASE("the level is reckoned for the profile's window, or for what is asked") {
  LoadedUnit loaded;
  const auto window = fluid_level(*loaded.unit, at("20 C"), loaded.diagnostics);
  REQUIRE(window);
  REQUIRE(window->at.size() == 3);
  CHECK(window->at[1].temperature == 45.0);
  CHECK(window->fill == 9000.0);
  CHECK_FALSE(window->set_in_window());
  const auto asked =
      fluid_level(*loaded.unit, {"68 F", "104 F", "9.5 quarts", "0.85 kg/l"}, loaded.diagnostics);
  REQUIRE(asked);
  REQUIRE(asked->at.size() == 1);
  CHECK(asked->set_at == 20.0);
  CHECK(asked->at[0].temperature == 40.0);
  CHECK(asked->density == 850.0);
  CHECK(asked->fill == doctest::Approx(9.5 * 946.352946));
}

TEST_CASE("both ends of the window are in it") {
  LoadedUnit loaded;
  for (const auto& [set_at, inside] : {std::pair{"40 C", true}, std::pair{"50 C", true},
                                       std::pair{"39.9 C", false}, std::pair{"50.1 C", false}}) {
    const auto level = fluid_level(*loaded.unit, at(set_at), loaded.diagnostics);
    REQUIRE(level);
    CHECK(level->set_in_window() == inside);
  }
}

TEST_CASE("outside of what the formula was made for nothing is reckoned") {
  CHECK(said_of(at("-20 C")).empty());
  CHECK(said_of(at("150 C")).empty());
  CHECK(said_of(at("-21 C")) == "--set-at: outside-standard");
  CHECK(said_of(LevelQuestion{"20 C", "151 C", {}, "790 kg/m3"}) ==
        "--at: outside-standard; --density: outside-standard");
  CHECK(said_of(LevelQuestion{"20 bar", {}, "0 l", {}}) ==
        "--set-at: value-unit-wrong; --fill: amount-impossible");
}

TEST_CASE("a turbine that turns backwards is refused by any unit") {
  const Unit unit = unit_without({"turbine_speed: turbine_speed"});
  Diagnostics diagnostics;
  CHECK_FALSE(gear_ratios(unit, {{}, "-5 rpm", {}}, diagnostics));
  REQUIRE(diagnostics.list().size() == 1);
  CHECK(diagnostics.list().front().name == "speed-direction");
  diagnostics = {};
  CHECK(gear_ratios(unit, {{}, "20000 rpm", {}}, diagnostics));
}

TEST_CASE("a profile without fluid data says what to give") {
  const Unit unit = unit_without({"fluid:", "level_temperature:"});
  Diagnostics diagnostics;
  CHECK_FALSE(fluid_level(unit, at("20 C"), diagnostics));
  REQUIRE(diagnostics.list().size() == 3);
  for (const Diagnostic& one : diagnostics.list()) CHECK(one.name == "fluid-not-described");
  diagnostics = {};
  CHECK(fluid_level(unit, {"20 C", "45 C", "9 l", "845 kg/m3"}, diagnostics));
}

TEST_CASE("codes are read from words, two bytes in quotes or not") {
  LoadedUnit loaded;
  const auto codes =
      explain_codes(*loaded.unit, {"p0733", "07", "34", "07 35", "0x0729"}, loaded.diagnostics);
  REQUIRE(codes);
  REQUIRE(codes->codes.size() == 4);
  CHECK(codes->codes[3].code == "P0729");
  CHECK_FALSE(explain_codes(*loaded.unit, {"P0733", "P73", " "}, loaded.diagnostics));
  CHECK(loaded.said() == "CODE: no-code; CODE: no-code");
}

TEST_CASE("a profile that cannot be read gives no unit and says why") {
  Diagnostics diagnostics;
  const UnitLoad none = load_unit({}, std::make_shared<SourceSet>(), diagnostics);
  CHECK_FALSE(none.unit);
  CHECK(none.outcome == Loaded::input_errors);
  REQUIRE(diagnostics.list().size() == 1);
  CHECK(diagnostics.list().front().name == "no-profile");
}

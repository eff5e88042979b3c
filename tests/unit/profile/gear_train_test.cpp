#include "profile/gear_train.h"

#include <cmath>
#include <fstream>
#include <map>
#include <string>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace slipcase::profile;
using nlohmann::json;

namespace {

/// Shafts by name; `case` comes first.
class Shafts {
 public:
  ShaftId operator[](const std::string& name) {
    return ids_.try_emplace(name, ShaftId{static_cast<std::uint32_t>(ids_.size())}).first->second;
  }
  [[nodiscard]] std::size_t size() const { return ids_.size(); }

 private:
  std::map<std::string, ShaftId> ids_;
};

Mesh read_mesh(const json& mesh, Shafts& shafts) {
  const ShaftId sun = shafts[mesh["sun"]];
  const ShaftId ring = shafts[mesh["ring"]];
  const ShaftId carrier = shafts[mesh["carrier"]];
  const double ratio = mesh["teeth"][1].get<double>() / mesh["teeth"][0].get<double>();
  return mesh["kind"] == "single" ? single_planet_mesh(sun, ring, carrier, ratio)
                                  : double_planet_mesh(sun, ring, carrier, ratio);
}

/// The invented six-speed: front sun 34 and ring 66, rear suns 32 and 37, ring 83.
struct SixSpeed {
  static constexpr ShaftId housing{0}, turbine{1}, output{2}, front_carrier{3}, small_sun{4},
      large_sun{5}, rear_carrier{6};
  static constexpr Joint k1{front_carrier, small_sun}, k2{front_carrier, large_sun},
      k3{turbine, rear_carrier}, b1{large_sun, housing}, b2{rear_carrier, housing};

  GearTrain train{7,
                  housing,
                  turbine,
                  output,
                  {single_planet_mesh(housing, turbine, front_carrier, 66.0 / 34.0),
                   double_planet_mesh(small_sun, output, rear_carrier, 83.0 / 32.0),
                   single_planet_mesh(large_sun, output, rear_carrier, 83.0 / 37.0)}};

  [[nodiscard]] Speed slip(Joint slipping, Joint holding) const {
    const auto found = train.slip(std::array{slipping, holding}, 0);
    REQUIRE(found.has_value());
    return *found;
  }
};

}  // namespace

TEST_CASE("published gear sets come out to their stated tolerance") {
  // Sources and status stand beside each set in the file.
  std::ifstream file(SLIPCASE_TEST_DATA "/reference/gear_sets.json");
  REQUIRE(file.good());
  const json sets = json::parse(file)["sets"];
  CHECK(sets.size() == 7);
  for (const json& set : sets) {
    for (const json& gear : set["cases"]) {
      CAPTURE(set["name"].get<std::string>());
      CAPTURE(gear["name"].get<std::string>());
      Shafts shafts;
      const ShaftId housing = shafts["case"];
      const ShaftId input = shafts[gear["input"]];
      const ShaftId output = shafts[gear["output"]];
      std::vector<Mesh> meshes;
      for (const json& mesh : set["meshes"]) meshes.push_back(read_mesh(mesh, shafts));
      std::vector<Joint> held;
      for (const json& joint : gear["joints"]) held.push_back({shafts[joint[0]], shafts[joint[1]]});

      const Motion motion = GearTrain(shafts.size(), housing, input, output, meshes).motion(held);
      REQUIRE(motion.hold == Hold::one_ratio);
      CHECK(std::abs(motion.ratio - gear["ratio"].get<double>()) < 1e-12);
      if (gear.contains("published")) {
        CHECK(std::abs(motion.ratio - gear["published"].get<double>()) <=
              set["published_tolerance"].get<double>());
      }
      for (const auto& entry : gear["speeds"].items()) {
        const std::string& shaft = entry.key();
        const auto& speed = entry.value();
        CAPTURE(shaft);
        const auto found = motion.speeds.at(shafts[shaft].at());
        REQUIRE(found.has_value());
        CHECK(std::abs(found->turbine - speed.get<double>()) < 1e-12);
      }
    }
  }
}

TEST_CASE("the closed formulas of the layout give the ratios of the invented six-speed") {
  // Willis equations solved by hand for this layout.
  const double k = 66.0 / 100.0;
  const double a = 83.0 / 32.0;
  const double b = 83.0 / 37.0;
  const SixSpeed unit;
  using U = SixSpeed;
  const auto ratio = [&](Joint one, Joint other) {
    return unit.train.motion(std::array{one, other}).ratio;
  };
  CHECK(ratio(U::k1, U::b2) == doctest::Approx(a / k).epsilon(1e-12));
  CHECK(ratio(U::k1, U::b1) == doctest::Approx((a + b) / (k * (1 + b))).epsilon(1e-12));
  CHECK(ratio(U::k1, U::k2) == doctest::Approx(1 / k).epsilon(1e-12));
  CHECK(ratio(U::k1, U::k3) == doctest::Approx(1 / (1 - (1 - k) / a)).epsilon(1e-12));
  CHECK(ratio(U::k2, U::k3) == doctest::Approx(1 / (1 + (1 - k) / b)).epsilon(1e-12));
  CHECK(ratio(U::b1, U::k3) == doctest::Approx(b / (1 + b)).epsilon(1e-12));
  CHECK(ratio(U::k2, U::b2) == doctest::Approx(-b / k).epsilon(1e-12));
}

TEST_CASE("slip of one element follows from turbine and output speed") {
  // 4th gear, output 1500: the turbine should be at 1726. At 1790 either K1 slips 144 rpm or K3 90.
  const SixSpeed unit;
  const Speed k1 = unit.slip(SixSpeed::k1, SixSpeed::k3);
  const Speed k3 = unit.slip(SixSpeed::k3, SixSpeed::k1);
  CHECK(k1.turbine * 1790 + k1.output * 1500 == doctest::Approx(144).epsilon(0.005));
  CHECK(k3.turbine * 1790 + k3.output * 1500 == doctest::Approx(90).epsilon(0.01));
}

TEST_CASE("torque shares balance: what the case does not hold leaves through the output") {
  // All torques on the whole unit add up to zero: turbine + case = output, per unit of turbine
  // torque. The front sun stands on the case; it holds back 34/66 of the ring's torque.
  const SixSpeed unit;
  using U = SixSpeed;
  const auto share = [&](Joint one, Joint other) { return torque_share(unit.slip(one, other)); };
  const double front_sun = [](double ring_torque) { return ring_torque * 34.0 / 66.0; }(1.0);
  // 1st: the whole turbine torque is on the front ring; B2 adds to it.
  CHECK(1 + front_sun + share(U::b2, U::k1) == doctest::Approx(3.930).epsilon(1e-3));
  // R: the brake turns the direction round.
  CHECK(1 + front_sun - share(U::b2, U::k2) == doctest::Approx(-3.399).epsilon(1e-3));
  CHECK(1 + front_sun + share(U::b1, U::k1) == doctest::Approx(2.260).epsilon(1e-3));
  // 6th: nothing goes through the front set.
  CHECK(1 - share(U::b1, U::k3) == doctest::Approx(0.692).epsilon(1e-3));
  // 3rd: both clutches share what the front carrier brings.
  CHECK(share(U::k1, U::k2) + share(U::k2, U::k1) == doctest::Approx(100.0 / 66.0));
}

TEST_CASE("what does not fix one ratio is told apart") {
  const SixSpeed unit;
  using U = SixSpeed;
  CHECK(unit.train.motion({}).hold == Hold::loose);
  CHECK(unit.train.motion(std::array{U::k1}).hold == Hold::loose);
  CHECK(unit.train.motion(std::array{U::k1, U::b1, U::b2}).hold == Hold::turbine_locked);
  CHECK(unit.train.motion(std::array{U::b1, U::b2}).hold == Hold::output_locked);
  CHECK(unit.train.motion(std::array{U::k1, U::k2, U::k3}).hold == Hold::turbine_locked);
}

TEST_CASE("an element that carries nothing has no slip formula") {
  // A simple set as one block: any two of the three clutches do it.
  constexpr ShaftId housing{0}, turbine{1}, output{2}, sun{3}, carrier{4};
  const GearTrain train(5, housing, turbine, output,
                        {single_planet_mesh(sun, turbine, carrier, 2.0)});
  const std::array held{Joint{carrier, output}, Joint{turbine, sun}, Joint{sun, carrier}};
  const Motion motion = train.motion(held);
  CHECK(motion.hold == Hold::one_ratio);
  CHECK(motion.ratio == doctest::Approx(1.0));
  CHECK_FALSE(train.slip(held, 1).has_value());
  CHECK(train.slip(std::array{held[0], held[1]}, 1).has_value());
}

TEST_CASE("a shaft that nothing drives has no speed") {
  constexpr ShaftId housing{0}, turbine{1}, output{2}, idle{3};
  const GearTrain train(4, housing, turbine, output, {});
  const Motion motion = train.motion(std::array{Joint{turbine, output}});
  REQUIRE(motion.hold == Hold::one_ratio);
  CHECK_FALSE(motion.speeds.at(idle.at()).has_value());
  CHECK_FALSE(speed_across(motion, {idle, housing}).has_value());
  CHECK(speed_across(motion, {output, housing})->turbine == doctest::Approx(1.0));
}

TEST_CASE("a turbine bolted to the case is locked") {
  constexpr ShaftId housing{0}, turbine{1}, output{2};
  const GearTrain train(3, housing, turbine, output, {});
  CHECK(train.motion(std::array{Joint{turbine, housing}}).hold == Hold::turbine_locked);
}

// A planetary gear train: the speeds that follow when some of its elements hold.
//
// Torques need no second calculation: in a train without losses the element that holds carries what
// its slip would take from the turbine (virtual work), see `torque_share`.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "slipcase/ids.h"

namespace slipcase::profile {

using ShaftId = Id<struct ShaftTag>;

/// One path of teeth from sun to ring: the weighted speeds of the three shafts add up to zero.
/// The weights add up to zero as well, because the set can always turn as one block.
struct Mesh {
  std::array<ShaftId, 3> shafts;
  std::array<double, 3> weights{};
};

/// Sun, one planet, ring (Willis): (sun - carrier) = -ring_to_sun * (ring - carrier).
[[nodiscard]] Mesh single_planet_mesh(ShaftId sun, ShaftId ring, ShaftId carrier,
                                      double ring_to_sun);
/// Sun, two planets in a row, ring: (sun - carrier) = +ring_to_sun * (ring - carrier).
[[nodiscard]] Mesh double_planet_mesh(ShaftId sun, ShaftId ring, ShaftId carrier,
                                      double ring_to_sun);

/// Two shafts that turn together: an applied clutch, or a brake with the case as the second shaft.
struct Joint {
  ShaftId first;
  ShaftId second;
};

/// A speed as turbine * (turbine speed) + output * (output speed).
struct Speed {
  double turbine = 0.0;
  double output = 0.0;
};

enum class Hold : std::uint8_t {
  one_ratio,       // a gear
  loose,           // turbine and output turn as they like: neutral
  turbine_locked,  // bind-up
  output_locked,   // the car cannot roll, or needs an endless turbine speed
};

struct Motion {
  Hold hold = Hold::loose;
  double ratio = 0.0;  // turbine over output, where there is one
  /// Per shaft; nothing where the train does not decide the speed. With one ratio the output part
  /// is 0 (the turbine says it all). Empty when locked.
  std::vector<std::optional<Speed>> speeds;
};

class GearTrain {
 public:
  GearTrain(std::size_t shaft_count, ShaftId housing, ShaftId turbine, ShaftId output,
            std::vector<Mesh> meshes);

  [[nodiscard]] Motion motion(std::span<const Joint> held) const;

  /// Speed of the first shaft over the second of `held[slipping]` were it the one that slips while
  /// the others hold. Nothing if the train then is not free by exactly this slip (the element
  /// carries nothing, or the others do not hold the rest).
  [[nodiscard]] std::optional<Speed> slip(std::span<const Joint> held, std::size_t slipping) const;

  [[nodiscard]] ShaftId housing() const { return housing_; }

 private:
  class Equations;
  [[nodiscard]] Hold classify(const Equations& equations) const;
  [[nodiscard]] std::optional<Speed> speed_of(const Equations& equations, ShaftId shaft) const;

  std::size_t shaft_count_;
  ShaftId housing_;
  ShaftId turbine_;
  ShaftId output_;
  std::vector<Mesh> meshes_;
};

/// First shaft over second; nothing where the train does not decide one of them.
[[nodiscard]] std::optional<Speed> speed_across(const Motion& motion, Joint joint);

/// Torque an element carries per unit of turbine torque, from its slip formula: with the output
/// held still, the turbine's work goes into the slip alone.
[[nodiscard]] double torque_share(const Speed& slip);

}  // namespace slipcase::profile

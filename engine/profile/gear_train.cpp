#include "profile/gear_train.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace slipcase::profile {

namespace {

// Entries of the equations are near 1 (rows are scaled), and what is not zero in a train of whole
// tooth counts stays far above this; rounding stays far below.
constexpr double negligible = 1e-10;

bool is_zero(double value) { return std::abs(value) < negligible; }

}  // namespace

/// Homogeneous equations in the shaft speeds, solved for as many shafts as they decide.
class GearTrain::Equations {
 public:
  explicit Equations(std::size_t columns) : columns_(columns), row_of_(columns) {}

  void add(std::span<const ShaftId> shafts, std::span<const double> weights) {
    std::vector<double> row(columns_, 0.0);
    for (std::size_t i = 0; i < shafts.size(); ++i) row[shafts[i].at()] += weights[i];
    double largest = 0.0;
    for (const double entry : row) largest = std::max(largest, std::abs(entry));
    if (largest == 0.0) return;
    for (double& entry : row) entry /= largest;
    rows_.push_back(std::move(row));
  }

  /// Decides as many shafts of `wanted` as possible, the largest entry first (full pivoting).
  void decide(std::vector<ShaftId> wanted) {
    while (decided_ < rows_.size() && !wanted.empty()) {
      const auto [row, position] = largest_entry(wanted);
      const std::size_t column = wanted[position].at();
      if (is_zero(rows_[row][column])) return;
      std::swap(rows_[row], rows_[decided_]);
      eliminate(decided_, column);
      row_of_[column] = decided_++;
      wanted.erase(wanted.begin() + static_cast<std::ptrdiff_t>(position));
    }
  }

  [[nodiscard]] bool is_decided(ShaftId shaft) const { return row_of_[shaft.at()].has_value(); }
  /// How much of the speed of `free`, which is not decided, is in that of `shaft`.
  [[nodiscard]] double part(ShaftId shaft, ShaftId free) const {
    if (!is_decided(shaft)) return shaft == free ? 1.0 : 0.0;
    if (is_decided(free)) return 0.0;
    const double entry = rows_[*row_of_[shaft.at()]][free.at()];
    return is_zero(entry) ? 0.0 : -entry;
  }

 private:
  [[nodiscard]] std::pair<std::size_t, std::size_t> largest_entry(
      const std::vector<ShaftId>& wanted) const {
    std::pair<std::size_t, std::size_t> best{decided_, 0};
    double largest = -1.0;
    for (std::size_t row = decided_; row < rows_.size(); ++row) {
      for (std::size_t position = 0; position < wanted.size(); ++position) {
        const double size = std::abs(rows_[row][wanted[position].at()]);
        if (size > largest) {
          largest = size;
          best = {row, position};
        }
      }
    }
    return best;
  }

  void eliminate(std::size_t pivot_row, std::size_t column) {
    std::vector<double>& pivot = rows_[pivot_row];
    const double scale = pivot[column];
    for (double& entry : pivot) entry /= scale;
    for (std::size_t row = 0; row < rows_.size(); ++row) {
      const double factor = rows_[row][column];
      if (row == pivot_row || factor == 0.0) continue;
      for (std::size_t i = 0; i < columns_; ++i) rows_[row][i] -= factor * pivot[i];
      rows_[row][column] = 0.0;
    }
  }

  std::size_t columns_;
  std::vector<std::vector<double>> rows_;
  std::vector<std::optional<std::size_t>> row_of_;  // of the shafts decided so far
  std::size_t decided_ = 0;
};

namespace {

Mesh mesh(ShaftId sun, ShaftId ring, ShaftId carrier, double weight_of_ring) {
  return {{sun, ring, carrier}, {1.0, weight_of_ring, -1.0 - weight_of_ring}};
}

}  // namespace

Mesh single_planet_mesh(ShaftId sun, ShaftId ring, ShaftId carrier, double ring_to_sun) {
  return mesh(sun, ring, carrier, ring_to_sun);
}

Mesh double_planet_mesh(ShaftId sun, ShaftId ring, ShaftId carrier, double ring_to_sun) {
  return mesh(sun, ring, carrier, -ring_to_sun);
}

GearTrain::GearTrain(std::size_t shaft_count, ShaftId housing, ShaftId turbine, ShaftId output,
                     std::vector<Mesh> meshes)
    : shaft_count_(shaft_count),
      housing_(housing),
      turbine_(turbine),
      output_(output),
      meshes_(std::move(meshes)) {}

Hold GearTrain::classify(const Equations& equations) const {
  if (equations.is_decided(turbine_)) return Hold::turbine_locked;
  if (!equations.is_decided(output_)) return Hold::loose;
  return equations.part(output_, turbine_) == 0.0 ? Hold::output_locked : Hold::one_ratio;
}

Motion GearTrain::motion(std::span<const Joint> held) const {
  Equations equations(shaft_count_);
  equations.add(std::array{housing_}, std::array{1.0});
  for (const Mesh& one : meshes_) equations.add(one.shafts, one.weights);
  for (const Joint& joint : held) {
    equations.add(std::array{joint.first, joint.second}, std::array{1.0, -1.0});
  }

  // Turbine and output come last: what is left of the equations then speaks of these two alone.
  std::vector<ShaftId> inner;
  for (std::uint32_t shaft = 0; shaft < shaft_count_; ++shaft) {
    if (ShaftId{shaft} != turbine_ && ShaftId{shaft} != output_) inner.push_back(ShaftId{shaft});
  }
  equations.decide(std::move(inner));
  equations.decide({output_});
  equations.decide({turbine_});

  Motion motion{classify(equations), 0.0, {}};
  if (motion.hold == Hold::turbine_locked || motion.hold == Hold::output_locked) return motion;
  if (motion.hold == Hold::one_ratio) motion.ratio = 1.0 / equations.part(output_, turbine_);
  for (std::uint32_t shaft = 0; shaft < shaft_count_; ++shaft) {
    motion.speeds.push_back(speed_of(equations, ShaftId{shaft}));
  }
  return motion;
}

std::optional<Speed> GearTrain::speed_of(const Equations& equations, ShaftId shaft) const {
  Speed speed;
  for (std::uint32_t other = 0; other < shaft_count_; ++other) {
    const double part = equations.part(shaft, ShaftId{other});
    if (part == 0.0) continue;
    if (ShaftId{other} == turbine_) {
      speed.turbine = part;
    } else if (ShaftId{other} == output_) {
      speed.output = part;
    } else {
      return std::nullopt;
    }
  }
  return speed;
}

std::optional<Speed> GearTrain::slip(std::span<const Joint> held, std::size_t slipping) const {
  std::vector<Joint> others(held.begin(), held.end());
  others.erase(others.begin() + static_cast<std::ptrdiff_t>(slipping));
  const Motion free = motion(others);
  if (free.hold != Hold::loose) return std::nullopt;
  const std::optional<Speed> slip = speed_across(free, held[slipping]);
  if (!slip || is_zero(slip->turbine)) return std::nullopt;
  return slip;
}

std::optional<Speed> speed_across(const Motion& motion, Joint joint) {
  if (motion.speeds.empty()) return std::nullopt;
  // The same shaft on both sides of a loose joint cannot turn against itself, decided or not.
  if (joint.first == joint.second) return Speed{};
  const std::optional<Speed>& first = motion.speeds[joint.first.at()];
  const std::optional<Speed>& second = motion.speeds[joint.second.at()];
  if (!first || !second) return std::nullopt;
  return Speed{first->turbine - second->turbine, first->output - second->output};
}

double torque_share(const Speed& slip) { return 1.0 / std::abs(slip.turbine); }

}  // namespace slipcase::profile

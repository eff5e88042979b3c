// The numbers of one program: what each step multiplies by.
#pragma once

#include <array>
#include <vector>

#include "network/lane.h"
#include "network/program.h"
#include "network/scaled.h"
#include "network/situation.h"
#include "network/wiring.h"

namespace slipcase::network {

/// Weights of "no" and "yes", never both formed from one another.
template <class Lane>
struct Pair {
  Lane no;
  Lane yes;
};

/// The distribution of "which targets are fired" while members are added one after the other.
/// before[m * 2^size + set] is the one before member m; the last is the whole bundle's.
template <class Lane>
struct BundleNumbers {
  std::vector<Lane> before;
  std::vector<Lane> kernel;  // kernel[to * 2^size + from]
};

template <class Lane>
struct Coefficients {
  std::vector<Lane> pass, fire;   // per link of the structure
  std::vector<Pair<Lane>> root;   // per hidden node without parents: absent, present
  std::vector<Pair<Lane>> state;  // per target: factor of its absent and present half
  std::vector<Pair<Lane>> own;    // per target, without its singles
  std::vector<std::vector<Pair<Lane>>> singles;  // per target: own with the first m singles
  std::vector<BundleNumbers<Lane>> bundles;
  std::array<Scaled, lanes<Lane>> constant;

  /// Makes room for a program's numbers.
  void shape(const Program& program, std::size_t hidden_count);
  /// Sets one lane's numbers.
  void fill(const Program& program, const Wiring& wiring, const Numbers& numbers,
            const Situation& situation, std::size_t lane);
  /// Combines singles and bundles, for all lanes.
  void combine(const Program& program);

 private:
  std::vector<double> weight_;        // per hidden node: what its absent findings make of "present"
  std::vector<Pair<double>> states_;  // per hidden node: that, and what it is held to
};

/// One more independent way to be fired: `chance` weights of the maker absent and present.
template <class Lane>
void add_single(Pair<Lane>& target, const Pair<Lane>& maker, const Lane& pass, const Lane& fire) {
  target.yes = target.yes * (maker.no + maker.yes) + target.no * (maker.yes * fire);
  target.no = target.no * (maker.no + maker.yes * pass);
}

}  // namespace slipcase::network

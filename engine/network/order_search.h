// Finds a cheap order in which to introduce one connected part of a structure.
//
// A greedy start, or the order of a like structure; then a descent over swaps of two neighbouring
// blocks of the order; from further starts while a cheaper order would still pay for the search. A
// single vertex moved on its own rarely helps: what belongs to one element wants to move together,
// so blocks of up to three vertices change places. Work is counted in steps, never in time: the
// same structure and start always get the same order.
#pragma once

#include <cstdint>
#include <optional>
#include <random>
#include <span>
#include <vector>

#include "network/front.h"
#include "network/layout.h"

namespace slipcase::network {

using Vertices = std::vector<std::uint32_t>;

struct Order {
  Vertices vertices;
  double cost = 0;
  unsigned width = 0;
};

class OrderSearch {
 public:
  /// `part`: the vertices, rising. `familiar` and `effort`: see find_layout().
  OrderSearch(const Structure& structure, const Adjacency& adjacency, Vertices part,
              const Ranks& familiar, double effort);

  [[nodiscard]] Order run();

 private:
  // The start from the order of a like structure.
  [[nodiscard]] bool is_familiar() const;
  [[nodiscard]] Order from_familiar();
  void insert_stranger(Vertices& order, std::uint32_t vertex);
  [[nodiscard]] double cost_of(const Vertices& order);

  // The start without: always finish next the vertex that leaves the fewest bits open.
  [[nodiscard]] Order best_start(unsigned attempt);
  [[nodiscard]] Order greedy(unsigned number);
  [[nodiscard]] std::optional<std::uint32_t> cheapest_to_finish(double noise);
  const Vertices& few_missing();
  [[nodiscard]] std::span<const std::uint32_t> closed_neighbourhood(std::uint32_t vertex) const;
  void find_neighbourhoods();
  double random_share();

  // The descent.
  [[nodiscard]] Order descend(Order start);
  void measure_steps(std::size_t first, std::size_t last);
  void walk_and_improve();
  void improve_at(std::size_t place);
  struct Swap {  // the blocks [place, middle) and [middle, end) change places
    std::size_t middle = 0;
    std::size_t end = 0;
    double gain = 0;
  };
  [[nodiscard]] Swap best_swap(std::size_t place);
  void try_swaps(std::size_t place, std::size_t middle, double block_cost, Swap& best);

  struct Moment {
    Front<Tally>::Position position;
    Tally tally;
  };
  void keep(Moment& moment);
  void go_back_to(const Moment& moment);
  void restart();
  void enter(std::uint32_t vertex);
  [[nodiscard]] double work() const;
  [[nodiscard]] bool worth_more_work() const;
  [[nodiscard]] double worth_of(double cost) const;  // how much work an order of that cost is worth

  const Structure& structure_;
  const Adjacency& adjacency_;
  Vertices part_;
  const Ranks& familiar_;
  double effort_;

  Tally tally_;
  Front<Tally> front_;
  Moment here_;  // before what is being tried
  Moment between_;
  std::uint64_t copies_ = 0;  // of positions
  double cheapest_ = 0;       // cost of the best order known

  Vertices order_;
  std::vector<double> step_cost_;  // of each place of order_

  std::minstd_rand random_;        // cheap to seed, good enough for ties
  std::vector<Range> neighbours_;  // per vertex, in neighbourhoods_
  Vertices neighbourhoods_;
  Vertices missing_;  // how many, per place of part_
  Vertices candidates_;
};

}  // namespace slipcase::network

// The order in which the vertices of a structure are introduced.
//
// The cost of a sweep is a sum of 2^(open bits); finding the cheapest order is as hard as finding
// the path width of a graph, so the order is searched for (order_search.h), each connected part on
// its own. The effort follows what there is to save.
#pragma once

#include <cstdint>
#include <vector>

#include "network/front.h"

namespace slipcase::network {

/// Where each vertex stood in an order found for a like structure; `none` for those not in it.
/// Empty: no such order is known.
using Ranks = std::vector<std::uint32_t>;

struct Layout {
  std::vector<std::uint32_t> order;  // vertices; those introduced on their own may be left out
  double cost = 0;
  unsigned width = 0;
};

/// `familiar`: where the search starts if most vertices have a rank. `effort` scales the search: 1
/// spends about as long as one sweep would take; 0 only the greedy start.
[[nodiscard]] Layout find_layout(const Structure& structure, const Adjacency& adjacency,
                                 const Ranks& familiar, double effort);

}  // namespace slipcase::network

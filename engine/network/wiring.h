// A network laid out flat: its shape (Wiring) apart from its numbers (Numbers).
//
// Many sets of numbers can share one shape (drawn counts, hypothetical answers), and a plan depends
// on the shape alone.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "network/network.h"

namespace slipcase::network {

/// Positions in flat lists take 32 bits.
[[nodiscard]] inline std::uint32_t size32(std::size_t n) { return static_cast<std::uint32_t>(n); }

struct Wiring {
  std::vector<bool> is_cause;
  std::vector<std::uint32_t> parent_begin;  // hidden h has the links parent_begin[h] .. [h + 1]
  std::vector<std::uint32_t> parent;
  std::vector<bool> blocks;  // parallel to parent
  bool any_blocks = false;

  std::vector<std::uint32_t> grades;
  std::vector<std::uint32_t> link_begin;  // finding f has the links link_begin[f] .. [f + 1]
  std::vector<std::uint32_t> link_parent;
  std::vector<std::size_t> leak_begin;    // where the leaks of f start in Numbers
  std::vector<std::size_t> number_begin;  // where the links of f start in Numbers, grade by grade

  [[nodiscard]] std::size_t hidden_count() const { return is_cause.size(); }
  [[nodiscard]] std::size_t finding_count() const { return grades.size(); }
  [[nodiscard]] std::span<const std::uint32_t> parents_of_hidden(std::size_t h) const {
    return std::span(parent).subspan(parent_begin[h], parent_begin[h + 1] - parent_begin[h]);
  }
  [[nodiscard]] std::span<const std::uint32_t> parents_of_finding(std::size_t f) const {
    return std::span(link_parent).subspan(link_begin[f], link_begin[f + 1] - link_begin[f]);
  }
  [[nodiscard]] bool is_blocked(std::size_t h) const {
    for (std::uint32_t i = parent_begin[h]; i < parent_begin[h + 1]; ++i)
      if (blocks[i]) return true;
    return false;
  }
  [[nodiscard]] bool is_root(std::size_t h) const { return parent_begin[h] == parent_begin[h + 1]; }
};

struct Numbers {
  std::vector<double> own_yes, own_no;           // per hidden
  std::vector<double> hidden_fire, hidden_pass;  // per link between hidden nodes
  std::vector<double> leak_yes, leak_no;         // per finding and grade
  std::vector<double> link_fire, link_pass;      // per finding, grade and link
};

/// Throws std::invalid_argument when the network is not as network.h says (a bug of the caller).
[[nodiscard]] Wiring lay_out(const Network& network);

/// The numbers of a network whose shape is `wiring`; throws std::invalid_argument when it is not.
[[nodiscard]] Numbers read_numbers(const Wiring& wiring, const Network& network);

}  // namespace slipcase::network

// Invented random rule bases in counts, with the exact rational answer that the counts mean.
#pragma once

#include <cstdint>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include <gmpxx.h>

namespace reference {

struct RandomCount {
  std::uint64_t hits = 0;
  std::uint64_t total = 1;
};

/// A cause (`inside` false) or an inside; its makers are nodes before it.
struct RandomNode {
  bool inside = false;
  RandomCount rate;
  struct Maker {
    std::size_t node;
    RandomCount share;
  };
  std::vector<Maker> makers;
};

struct RandomFinding {
  std::vector<RandomCount> otherwise;  // per grade, weakest first
  struct Shown {
    std::size_t node;
    std::vector<RandomCount> share;
  };
  std::vector<Shown> by;
  /// What the card says: at least / at most this grade (0: not there); nothing: not answered.
  struct Answer {
    std::size_t at_least = 0;
    std::size_t at_most = 0;
  };
  std::optional<Answer> answer;
};

struct RandomRules {
  std::vector<RandomNode> nodes;
  std::vector<RandomFinding> findings;

  /// The declarations in a random order, in one text.
  [[nodiscard]] std::string text(std::mt19937_64& random) const;
  [[nodiscard]] std::string card(std::mt19937_64& random) const;
};

[[nodiscard]] RandomRules make_random_rules(std::mt19937_64& random);

struct ExactAnswer {
  mpq_class evidence;
  std::vector<mpq_class> chance;  // per node
};

/// Straight from the definition of what counts mean: every setting of causes and insides, in exact
/// fractions. Shares below a rate are no link; a weaker grade passes no more than the next
/// stronger.
[[nodiscard]] ExactAnswer exact_answer(const RandomRules& rules);

[[nodiscard]] std::string name_of_node(const RandomRules& rules, std::size_t node);

}  // namespace reference

// The network of a job with every count drawn anew: how it would be had other jobs been counted.
//
// "k of n" is drawn from Beta(k, n - k), half a count where one side is 0, so that the draws keep
// the mean; the counts of grades from a Dirichlet over exact grades, one draw for each line of the
// rules however many members it reaches, and one for each rate without a cause.
// Source: the Beta and Dirichlet as the distributions of a share after counting, e.g. A. Gelman et
// al., Bayesian Data Analysis (from memory); drawn as ratios of Gamma variates.
#pragma once

#include <cstdint>

#include <boost/random/mersenne_twister.hpp>

#include "model/counted_lines.h"

namespace slipcase::model {

class Draws {
 public:
  Draws(CountedLines lines, std::uint64_t seed);

  [[nodiscard]] network::Numbers next();

 private:
  void draw(const CountedLine& line, std::vector<double>& shares);

  CountedLines lines_;
  std::vector<std::vector<double>> shares_;
  boost::random::mt19937_64 random_;
};

}  // namespace slipcase::model

#include "model/draws.h"

#include <utility>

#include <boost/random/gamma_distribution.hpp>

namespace slipcase::model {

Draws::Draws(CountedLines lines, std::uint64_t seed) : lines_(std::move(lines)), random_(seed) {
  for (const CountedLine& line : lines_.lines()) shares_.emplace_back(line.grades(), 0.0);
}

void Draws::draw(const CountedLine& line, std::vector<double>& shares) {
  double sum = 0.0;
  for (std::size_t i = 0; i < line.exactly.size(); ++i) {
    const double alpha = line.exactly[i];
    const double part =
        alpha > 0.0 ? boost::random::gamma_distribution<double>(alpha, 1.0)(random_) : 0.0;
    if (i > 0) shares[i - 1] = part;
    sum += part;
  }
  for (std::size_t g = shares.size(); g-- > 1;) shares[g - 1] += shares[g];
  for (double& share : shares) share = sum > 0.0 ? share / sum : 0.0;
}

network::Numbers Draws::next() {
  for (std::size_t i = 0; i < shares_.size(); ++i) draw(lines_.lines()[i], shares_[i]);
  return lines_.numbers(shares_);
}

}  // namespace slipcase::model

#include "self_check/calibration.h"

#include <algorithm>
#include <cmath>

#include <boost/math/distributions/chi_squared.hpp>

namespace self_check {

namespace {

/// With less variance than this a band says nothing of its own: it is counted with the others so
/// small.
constexpr double least_variance = 5.0;

void pool(Band& into, const Band& band) {
  into.count += band.count;
  into.present += band.present;
  into.given += band.given;
  into.variance += band.variance;
}

}  // namespace

void Band::add(double chance, bool is_there) {
  ++count;
  present += is_there ? 1 : 0;
  given += chance;
  variance += chance * (1.0 - chance);
}

double Band::off_by() const {
  const double difference = static_cast<double>(present) - given;
  return difference == 0.0 ? 0.0 : difference / std::sqrt(variance);
}

void Calibration::add(double given, bool present) {
  const auto* end = std::ranges::upper_bound(upper_ends, given);
  const auto band = static_cast<std::size_t>(end - upper_ends.begin());
  bands_.at(std::min(band, bands_.size() - 1)).add(given, present);
  const double miss = (present ? 1.0 : 0.0) - given;
  squares_ += miss * miss;
}

Band Calibration::all() const {
  Band sum;
  for (const Band& band : bands_) pool(sum, band);
  return sum;
}

BrierScore Calibration::brier() const {
  BrierScore brier;
  if (all().count == 0) return brier;
  const double overall = all().share_present();
  const auto total = static_cast<double>(all().count);
  brier.score = squares_ / total;
  brier.uncertainty = overall * (1.0 - overall);
  for (const Band& band : bands_) {
    if (band.count == 0) continue;
    const double weight = static_cast<double>(band.count) / total;
    brier.reliability += weight * std::pow(band.mean_given() - band.share_present(), 2);
    brier.resolution += weight * std::pow(band.share_present() - overall, 2);
  }
  return brier;
}

Calibration::Verdict Calibration::verdict() const {
  Verdict verdict;
  int counted = 0;
  const auto count = [&](const Band& band) {
    ++counted;
    verdict.chi_square += band.off_by() * band.off_by();
    verdict.worst = std::max(verdict.worst, std::fabs(band.off_by()));
  };
  Band small;
  for (const Band& band : bands_) {
    if (band.variance >= least_variance) {
      count(band);
    } else {
      pool(small, band);
    }
  }
  if (small.count > 0) count(small);
  if (counted == 0) return verdict;
  verdict.limit = boost::math::quantile(boost::math::chi_squared(counted), 0.999);
  return verdict;
}

}  // namespace self_check

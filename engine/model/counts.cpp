#include "model/counts.h"

#include <algorithm>
#include <cmath>

namespace slipcase::model {

namespace {

// Products of two counts stay below 10^36, which fits 128 bits; differences of shares are then
// exact.
__extension__ using Wide = __int128;

Wide wide(std::uint64_t value) { return static_cast<Wide>(value); }

Probability fire_from_counts(const units::Count& share, const units::Count& base) {
  const Wide above =
      wide(share.hits()) * wide(base.total()) - wide(base.hits()) * wide(share.total());
  const Wide room = wide(base.total() - base.hits()) * wide(share.total());
  const Wide left = wide(share.total() - share.hits()) * wide(base.total());
  if (above <= 0 || room == 0) return Probability::never();
  return *Probability::from_weights(static_cast<double>(above) / static_cast<double>(room),
                                    static_cast<double>(left) / static_cast<double>(room));
}

Probability fire_from_rate(const units::Count& share, Probability base) {
  const Probability s = share.share();
  const double above = s.value() - base.value();
  if (!(above > 0.0)) return Probability::never();
  return *Probability::from_weights(above / base.complement(), s.complement() / base.complement());
}

bool below_by_more_than_half(const units::Count& share, Probability base) {
  const double half_a_count = 0.5 / static_cast<double>(share.total());
  return share.share().value() + half_a_count < base.value();
}

std::optional<units::Count> grade_count(const rulebase::GradedLine& line, std::size_t grade) {
  return grade < line.at_least.size() ? line.at_least[grade] : std::nullopt;
}

std::uint64_t largest_total(const rulebase::GradedLine& line) {
  std::uint64_t total = 1;
  for (const auto& count : line.at_least) {
    if (count) total = std::max(total, count->total());
  }
  return total;
}

}  // namespace

Probability member_rate(const units::Count& count, bool together, std::size_t members) {
  const Probability all = count.share_at_least_half();
  if (!together || members <= 1) return all;
  // 1 - (1-p)^members = share, solved for p without forming 1 - p of a small p.
  const double log_none =
      all.complement() > 0.0 ? std::log1p(-all.value()) / static_cast<double>(members) : -INFINITY;
  return *Probability::from_weights(-std::expm1(log_none), std::exp(log_none));
}

LinkStrength link_strength(const units::Count& share, const BaseRate& base) {
  const Probability fire =
      base.count ? fire_from_counts(share, *base.count) : fire_from_rate(share, base.rate);
  return {fire, fire.value() == 0.0 && below_by_more_than_half(share, base.rate)};
}

std::vector<BaseRate> otherwise_rates(const rulebase::GradedLine& line, std::size_t grades,
                                      std::size_t members) {
  std::vector<BaseRate> rates(grades);
  for (std::size_t g = 0; g < grades; ++g) {
    const auto written = grade_count(line, g);
    const auto count = written ? *written : *units::Count::from(0, largest_total(line));
    rates[g].rate = member_rate(count, line.together, members);
    const bool as_written = count.hits() > 0 && (!line.together || members <= 1);
    if (as_written) rates[g].count = count;
  }
  for (std::size_t g = grades; g-- > 1;) {
    if (rates[g - 1].rate.value() < rates[g].rate.value()) rates[g - 1] = rates[g];
  }
  return rates;
}

GradedStrength graded_strength(const rulebase::GradedLine& line,
                               const std::vector<BaseRate>& base) {
  GradedStrength result;
  result.fire.assign(base.size(), Probability::never());
  for (std::size_t g = base.size(); g-- > 0;) {
    const auto count = grade_count(line, g);
    if (count) {
      const LinkStrength link = link_strength(*count, base[g]);
      result.fire[g] = link.fire;
      if (link.share_below_base) result.below_base = g;
    }
    const bool stronger_fires_more =
        g + 1 < base.size() && result.fire[g + 1].value() > result.fire[g].value();
    if (!stronger_fires_more) continue;
    if (count) {
      // The share this grade would need, against what was written.
      const double needed =
          base[g].rate.value() + base[g].rate.complement() * result.fire[g + 1].value();
      result.order_broken =
          result.order_broken ||
          needed > count->share().value() + 0.5 / static_cast<double>(count->total());
    }
    result.fire[g] = result.fire[g + 1];
  }
  return result;
}

}  // namespace slipcase::model

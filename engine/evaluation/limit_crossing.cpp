#include "evaluation/limit_crossing.h"

namespace slipcase::evaluation {

std::optional<Crossing> limit_crossing(std::span<const TrendPoint> points, SlopeRange slopes,
                                       double limit, double level_error) {
  const bool rises = slopes.low > 0.0 && limit > 0.0;
  const bool falls = slopes.high < 0.0 && limit < 0.0;
  if (!rises && !falls) return std::nullopt;
  const double steep = rises ? slopes.high : slopes.low;
  const double flat = rises ? slopes.low : slopes.high;
  const double error = rises ? level_error : -level_error;
  return Crossing{(limit - line_offset(points, steep) - error) / steep,
                  (limit - line_offset(points, flat) + error) / flat};
}

}  // namespace slipcase::evaluation

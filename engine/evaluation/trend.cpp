#include "evaluation/trend.h"

#include <algorithm>
#include <cmath>

namespace slipcase::evaluation {

namespace {

bool has_three_odometers(std::span<const TrendPoint> points) {
  std::vector<double> odometers;
  for (const TrendPoint& point : points) {
    if (std::ranges::find(odometers, point.odometer) == odometers.end()) {
      odometers.push_back(point.odometer);
    }
    if (odometers.size() == 3) return true;
  }
  return false;
}

struct Side {
  double median = 0.0;
  double distances = 0.0;  // of all points from the median, added up
};

Side side_of(std::span<const TrendPoint> points) {
  std::vector<double> values;
  values.reserve(points.size());
  for (const TrendPoint& point : points) values.push_back(point.value);
  Side side{median(values), 0.0};
  for (const double value : values) side.distances += std::abs(value - side.median);
  return side;
}

double distances_from_line(std::span<const TrendPoint> points, double slope) {
  std::vector<TrendPoint> rest;
  rest.reserve(points.size());
  for (const TrendPoint& point : points) {
    rest.push_back({point.odometer, point.value - slope * point.odometer});
  }
  return side_of(rest).distances;
}

}  // namespace

double median(std::span<double> values) {
  const std::size_t half = values.size() / 2;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(half);
  std::nth_element(values.begin(), middle, values.end());
  if (values.size() % 2 == 1) return *middle;
  return (*std::max_element(values.begin(), middle) + *middle) / 2.0;
}

std::optional<double> theil_sen_slope(std::span<const TrendPoint> points) {
  if (!has_three_odometers(points)) return std::nullopt;
  std::vector<double> slopes;
  slopes.reserve(points.size() * (points.size() - 1) / 2);
  for (std::size_t i = 0; i < points.size(); ++i) {
    for (std::size_t j = i + 1; j < points.size(); ++j) {
      const double run = points[j].odometer - points[i].odometer;
      if (run != 0.0) slopes.push_back((points[j].value - points[i].value) / run);
    }
  }
  return median(slopes);
}

double line_offset(std::span<const TrendPoint> points, double slope) {
  std::vector<double> rest;
  rest.reserve(points.size());
  for (const TrendPoint& point : points) rest.push_back(point.value - slope * point.odometer);
  return median(rest);
}

std::optional<Step> find_step(std::span<const TrendPoint> points) {
  const auto slope = theil_sen_slope(points);
  if (!slope) return std::nullopt;
  double least = 0.0;
  Step step;
  for (std::size_t cut = 1; cut < points.size(); ++cut) {
    const Side before = side_of(points.first(cut));
    const Side after = side_of(points.subspan(cut));
    const double distances = before.distances + after.distances;
    if (cut == 1 || distances < least) {
      least = distances;
      step = {cut, before.median, after.median};
    }
  }
  if (least < distances_from_line(points, *slope)) return step;
  return std::nullopt;
}

std::optional<double> step_height(std::span<const TrendPoint> points) {
  if (!has_three_odometers(points)) return std::nullopt;
  const auto step = find_step(points);
  return step ? step->height() : 0.0;
}

}  // namespace slipcase::evaluation

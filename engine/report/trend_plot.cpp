#include "report/trend_plot.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include <fmt/core.h>

#include "report/lines.h"
#include "report/trend_words.h"

namespace slipcase::report {

namespace {

constexpr std::size_t plot_rows = 15;

struct Span {
  double low = 0.0;
  double high = 0.0;

  /// An end that the profile leaves open is nowhere.
  void take_in(double value) {
    if (!std::isfinite(value)) return;
    low = std::min(low, value);
    high = std::max(high, value);
  }
  [[nodiscard]] double size() const { return high - low; }
};

class Plot {
 public:
  Plot(const VehicleTrend& trend, const ReadingTrend& reading, std::size_t width)
      : trend_(trend), reading_(reading), width_(width), labels_(plot_rows) {}

  std::string run() {
    if (!size_up()) return {};
    open();
    draw_level(reading_.high_watch, '-');
    draw_level(reading_.low_watch, '-');
    draw_level(reading_.high_limit, '=');
    draw_level(reading_.low_limit, '=');
    for (const TrendMark& mark : trend_.marks)
      if (mark.odometer) draw_upright(*mark.odometer, ':');
    for (const TrendSegment& segment : reading_.segments) draw_line(segment);
    for (const TrendSegment& segment : reading_.segments)
      if (segment.split_at) draw_upright(*segment.split_at, '|');
    draw_values();
    return text();
  }

 private:
  /// Zero, all values, and the lines that values come near to.
  bool size_up() {
    for (const TrendSegment& segment : reading_.segments)
      for (const TrendValue& value : segment.values) {
        if (!value.odometer) continue;
        if (!any_) across_ = {*value.odometer, *value.odometer};
        any_ = true;
        across_.take_in(*value.odometer);
        up_.take_in(value.value);
      }
    if (!any_) return false;
    for (const TrendSegment& segment : reading_.segments)
      if (segment.split_at) across_.take_in(*segment.split_at);
    const Span values = up_;
    const auto side = [&](double extreme, double watch, double limit) {
      if (std::abs(extreme) <= reading_.scatter) return;
      up_.take_in(watch);
      if (std::abs(extreme) * 2.0 >= std::abs(watch)) up_.take_in(limit);
    };
    side(values.high, reading_.high_watch, reading_.high_limit);
    side(values.low, reading_.low_watch, reading_.low_limit);
    if (up_.size() <= 0.0) up_.take_in(reading_.high_watch);
    if (up_.size() <= 0.0) up_.high = 1.0;
    single_ = across_.size() <= 0.0;
    if (single_) across_ = {across_.low - 1.0, across_.high + 1.0};
    return true;
  }

  [[nodiscard]] std::optional<std::size_t> row(double value) const {
    const double place = (up_.high - value) / up_.size() * static_cast<double>(plot_rows - 1);
    const double whole = std::round(place);
    if (whole < 0.0 || whole >= static_cast<double>(plot_rows)) return std::nullopt;
    return static_cast<std::size_t>(whole);
  }

  [[nodiscard]] std::size_t column(double odometer) const {
    const double share = (odometer - across_.low) / across_.size();
    return static_cast<std::size_t>(std::round(share * static_cast<double>(columns_ - 1)));
  }

  void label(double value, std::string_view what) {
    if (const auto at = row(value))
      labels_[*at] = fmt::format("{} {}{}{}", short_number(value), reading_.unit,
                                 what.empty() ? "" : " ", what);
  }

  /// The labels, and beside them as much room as they leave.
  void open() {
    label(reading_.high_watch, "watch");
    label(reading_.low_watch, "watch");
    label(reading_.high_limit, "limit");
    label(reading_.low_limit, "limit");
    label(0.0, "");
    for (const std::string& text : labels_) label_columns_ = std::max(label_columns_, text.size());
    constexpr std::size_t least = 20;
    columns_ = std::max(width_, label_columns_ + 1 + least) - label_columns_ - 1;
    cells_.assign(plot_rows, std::string(columns_, ' '));
  }

  void draw_level(double value, char sign) {
    if (const auto at = row(value)) std::ranges::fill(cells_[*at], sign);
  }

  void draw_upright(double odometer, char sign) {
    if (odometer < across_.low || odometer > across_.high) return;
    for (std::string& line : cells_) line[column(odometer)] = sign;
  }

  void draw_line(const TrendSegment& segment) {
    if (!segment.slope) return;
    std::optional<Span> reach;
    for (const TrendValue& value : segment.values) {
      if (!value.odometer || !value.aside.empty() || *value.odometer < segment.slope->from)
        continue;
      if (!reach) reach = Span{*value.odometer, *value.odometer};
      reach->take_in(*value.odometer);
    }
    if (!reach) return;
    for (std::size_t c = column(reach->low); c <= column(reach->high); ++c) {
      const double odometer =
          across_.low + across_.size() * static_cast<double>(c) / static_cast<double>(columns_ - 1);
      const double value =
          segment.slope->at_odometer_0 + segment.slope->value * odometer / trend_.slope_distance;
      if (const auto at = row(value)) cells_[*at][c] = '.';
    }
  }

  void draw_values() {
    std::vector<std::string> counts(plot_rows, std::string(columns_, '0'));
    for (const TrendSegment& segment : reading_.segments)
      for (const TrendValue& value : segment.values) {
        if (!value.odometer) continue;
        const auto at = row(value.value);
        if (!at) continue;
        char& count = counts[*at][column(*value.odometer)];
        if (count < '9') ++count;
        char& cell = cells_[*at][column(*value.odometer)];
        if (count > '1') {
          cell = count;
        } else {
          cell = value.aside.empty() ? '*' : 'x';
        }
      }
  }

  [[nodiscard]] std::string text() const {
    std::string out;
    for (std::size_t r = 0; r < plot_rows; ++r) {
      std::string line = fmt::format("{:>{}} {}", labels_[r], label_columns_, cells_[r]);
      line.erase(line.find_last_not_of(' ') + 1);
      out += line + "\n";
    }
    return out + std::string(label_columns_ + 1, ' ') + axis() + "\n";
  }

  [[nodiscard]] std::string axis() const {
    const auto whole = [](double odometer) { return fmt::format("{:.0f}", odometer); };
    if (single_) {
      const std::string middle = whole(across_.low + 1.0) + " " + trend_.distance_unit;
      return std::string((columns_ - std::min(columns_, middle.size())) / 2, ' ') + middle;
    }
    const std::string left = whole(across_.low);
    const std::string right = whole(across_.high) + " " + trend_.distance_unit;
    const std::size_t room = columns_ - std::min(columns_, left.size() + right.size());
    return left + std::string(room, ' ') + right;
  }

  const VehicleTrend& trend_;
  const ReadingTrend& reading_;
  std::size_t width_;
  std::vector<std::string> labels_;
  std::size_t label_columns_ = 0;
  std::size_t columns_ = 0;
  std::vector<std::string> cells_;
  Span across_;
  Span up_;
  bool any_ = false;
  bool single_ = false;  // all values at one odometer, drawn in the middle
};

}  // namespace

std::string trend_plot(const VehicleTrend& trend, const ReadingTrend& reading, std::size_t width) {
  return Plot(trend, reading, width).run();
}

}  // namespace slipcase::report

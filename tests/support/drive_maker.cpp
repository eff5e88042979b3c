#include "support/drive_maker.h"

#include <cmath>
#include <map>

#include <fmt/core.h>

namespace slipcase::test {

namespace {

constexpr double output_per_speed = 30.0;  // rpm for each km/h
constexpr double idle = 700.0;             // rpm of the turbine in N
constexpr double shift_time = 0.4;         // s

double ratio_of(const std::string& gear) {
  static const std::map<std::string, double> ratios{{"R", 3.399}, {"1", 3.930}, {"2", 2.260},
                                                    {"3", 1.515}, {"4", 1.151}, {"5", 0.868},
                                                    {"6", 0.692}, {"N", 0.0}};
  return ratios.at(gear);
}

}  // namespace

double DriveMaker::shake(double by) {
  random_ = random_ * 6364136223846793005U + 1442695040888963407U;
  const double share = static_cast<double>(random_ >> 11U) / 9007199254740992.0;
  return noise * by * (2.0 * share - 1.0);
}

void DriveMaker::add(const std::string& gear, double ratio, double speed, double pedal) {
  DriveRow row;
  row.time = time_;
  row.speed = std::max(0.0, speed + (speed > 0.5 ? shake(0.1) : 0.0));
  row.output = speed * output_per_speed;
  row.turbine = gear == "N" ? idle : row.output * ratio;
  if (row.output > 0.0) row.output += shake(2.0);
  if (row.turbine > 0.0) row.turbine += shake(4.0);
  row.gear = gear;
  row.pedal = std::max(0.0, pedal + (pedal > 1.0 ? shake(0.4) : 0.0));
  row.fluid = fluid + shake(0.05);
  rows_.push_back(row);
  time_ += step_;
}

void DriveMaker::go(const std::string& gear, double seconds, double to_speed, double pedal) {
  const double from_speed = speed_;
  const double from_ratio = ratio_of(gear_);
  const double to_ratio = ratio_of(gear);
  const auto count = static_cast<int>(std::lround(seconds / step_));
  for (int i = 0; i < count; ++i) {
    const double done = static_cast<double>(i + 1) / count;
    const double shifted = std::min(1.0, i * step_ / shift_time);
    add(gear, from_ratio + (to_ratio - from_ratio) * shifted,
        from_speed + (to_speed - from_speed) * done, pedal);
  }
  speed_ = to_speed;
  gear_ = gear;
}

void DriveMaker::stand(const std::string& gear, double seconds, double pedal) {
  speed_ = 0.0;
  go(gear, seconds, 0.0, pedal);
}

void DriveMaker::upshifts(double pedal) {
  const char* gears[] = {"1", "2", "3", "4", "5", "6"};
  for (int i = 0; i < 6; ++i) go(gears[i], 4.0, 15.0 * (i + 1), pedal);
}

void DriveMaker::coast_down(double hold, double pedal) {
  const char* gears[] = {"6", "5", "4", "3", "2", "1"};
  const double speeds[] = {75.0, 60.0, 42.0, 25.0, 10.0, 0.0};
  for (int i = 0; i < 6; ++i) go(gears[i], 4.0, speeds[i], pedal);
  stand("1", hold, pedal);
}

void DriveMaker::engage(const std::string& gear, double hold) {
  stand("N", 3.0);
  stand(gear, hold);
}

void DriveMaker::cruise(double seconds) {
  go("5", 4.0, 80.0, 14.0);
  go("5", seconds, 80.0, 14.0);
}

void DriveMaker::pause(double seconds) { time_ += seconds; }

void DriveMaker::whole_procedure(int times) {
  for (int i = 0; i < times; ++i) {
    upshifts();
    coast_down();
  }
  for (int i = 0; i < times; ++i) engage("1");
  for (int i = 0; i < times; ++i) engage("R");
  stand("N", 2.0);
  stand("1", 1.0);
  upshifts();
  cruise(185.0);
}

std::string DriveMaker::csv(bool with_gear) const {
  std::string text = "t;v;n turbine;n output;";
  text += with_gear ? "gear;pedal;oil\n" : "pedal;oil\n";
  for (const DriveRow& row : rows_) {
    text +=
        fmt::format("{:.3f};{:.1f};{:.0f};{:.0f};", row.time, row.speed, row.turbine, row.output);
    if (with_gear) text += row.gear + ";";
    text += fmt::format("{:.1f};{:.1f}\n", row.pedal, row.fluid);
  }
  return text;
}

std::string DriveMaker::mapping(bool with_gear) {
  std::string text =
      "delimiter: semicolon\n"
      "columns:\n"
      "  t:         { means: time, unit: s }\n"
      "  v:         { means: vehicle_speed, unit: km/h }\n"
      "  n turbine: { means: turbine_speed, unit: rpm }\n"
      "  n output:  { means: output_speed, unit: rpm }\n"
      "  pedal:     { means: pedal, unit: \"%\" }\n"
      "  oil:       { means: fluid_temperature, unit: C }\n";
  if (with_gear) text += "  gear:      { means: gear }\n";
  return text;
}

}  // namespace slipcase::test

// Logs of drives, made up: what a logger would have written on the invented six-speed.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace slipcase::test {

struct DriveRow {
  double time = 0.0;   // s
  double speed = 0.0;  // km/h
  double turbine = 0.0;
  double output = 0.0;
  std::string gear;
  double pedal = 0.0;  // %
  double fluid = 0.0;  // °C
};

/// Drives one thing after another. All numbers are invented.
class DriveMaker {
 public:
  explicit DriveMaker(double rows_per_second = 10.0, std::uint64_t seed = 1)
      : step_(1.0 / rows_per_second), random_(seed) {}

  double fluid = 85.0;
  double noise = 1.0;  // of sensors; 0: none

  void stand(const std::string& gear, double seconds, double pedal = 0.0);
  /// In one gear from the speed it has to another.
  void go(const std::string& gear, double seconds, double to_speed, double pedal);
  /// The last gear of each begins with the shift into it.
  void upshifts(double pedal = 14.0);
  void coast_down(double hold = 6.0, double pedal = 0.0);
  /// N, then the gear, standing.
  void engage(const std::string& gear, double hold = 5.0);
  void cruise(double seconds);
  void pause(double seconds);  // the logger stands still

  /// Everything that the shipped procedure asks for, `times` of what it wants 8 times.
  void whole_procedure(int times = 8);

  [[nodiscard]] const std::vector<DriveRow>& rows() const { return rows_; }
  [[nodiscard]] std::vector<DriveRow>& rows() { return rows_; }
  [[nodiscard]] std::string csv(bool with_gear = true) const;

  /// What `csv` means.
  [[nodiscard]] static std::string mapping(bool with_gear = true);

 private:
  void add(const std::string& gear, double ratio, double speed, double pedal);
  double shake(double by);

  double step_;
  std::uint64_t random_;
  double time_ = 0.0;
  double speed_ = 0.0;
  std::string gear_ = "1";
  std::vector<DriveRow> rows_;
};

}  // namespace slipcase::test

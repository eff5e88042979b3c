// Draws jobs, ranks them and counts how the ranking did.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "self_check/calibration.h"
#include "self_check/jobs.h"
#include "self_check/ranker.h"

namespace self_check {

struct RunOptions {
  Setting setting = Setting::as_in_a_shop;
  std::size_t jobs = 10000;
  std::uint64_t seed = 1;
  std::size_t memory_bytes = std::size_t{1} << 30;
  /// The ranking takes the odds of every cause's own rate for so many times what they were drawn
  /// with. 1: it is told the truth; anything else shows that the check can fail.
  double odds_times = 1.0;
  /// False: where two findings of one `at most one` were drawn, both are known, though nobody would
  /// say so. Then every chance is exactly what the draw makes it, and nothing is left to explain.
  bool one_is_named = true;
};

/// In how many jobs a cause that is present stands first, or among the first three.
struct Places {
  std::size_t jobs = 0;
  std::size_t first = 0;
  std::size_t among_three = 0;
};

struct Run {
  RunOptions options;
  DrawCounts draws;
  Calibration causes;
  Calibration nothing_listed;
  std::map<std::string, Band> by_cause;  // by declaration, all members together
  Places one_fault;
  Places several_faults;
  std::size_t without_fault = 0;
  std::size_t faults = 0;  // of all jobs ranked
  std::size_t too_wide = 0;
  std::vector<unsigned> widths;  // per job ranked
  std::vector<double> seconds;   // parallel

  [[nodiscard]] Places all() const;
};

[[nodiscard]] Run run_jobs(const Shipped& shipped, const RunOptions& options);

}  // namespace self_check

// Jobs as they come in: drawn, known in part, and with something to complain about.
#pragma once

#include <functional>
#include <vector>

#include "self_check/what_is_known.h"

namespace self_check {

struct Job {
  DrawnJob drawn;
  std::vector<Observation> known;
};

struct DrawCounts {
  std::size_t drawn = 0;
  std::size_t nothing_present = 0;  // of what can be told, known or not: nobody would have come
  std::size_t nothing_told = 0;     // something is there, and nobody tells it
  std::size_t two_of_a_list = 0;    // jobs with two present findings of one `at most one`
  std::size_t known = 0;            // findings, over all jobs that came in
  std::size_t findings = 0;         // that could have been known
};

class JobSource {
 public:
  using Draw = std::function<DrawnJob(Random&)>;

  JobSource(const Shipped& shipped, Setting setting, bool one_is_named);

  /// Draws until a job comes in.
  [[nodiscard]] Job next(const History& history, const Draw& draw, Random& random);

  [[nodiscard]] const DrawCounts& counts() const { return counts_; }

 private:
  [[nodiscard]] bool comes_in(const DrawnJob& job, const std::vector<bool>& known);

  const GroundRules& ground_;
  Setting setting_;
  bool one_is_named_;
  std::vector<std::optional<Kind>> kinds_;
  std::size_t findings_;  // that have a kind
  DrawCounts counts_;
};

/// How many of `jobs` fall to each history, each as likely as the other. Those of one card are
/// ranked one after the other, so that one solver at a time holds memory.
[[nodiscard]] std::vector<std::size_t> jobs_of_each_history(const Shipped& shipped,
                                                            std::size_t jobs, Random& random);

}  // namespace self_check

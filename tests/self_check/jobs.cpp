#include "self_check/jobs.h"

#include <algorithm>

#include <boost/random/uniform_int_distribution.hpp>

namespace self_check {

JobSource::JobSource(const Shipped& shipped, Setting setting, bool one_is_named)
    : ground_(shipped.ground()),
      setting_(setting),
      one_is_named_(one_is_named),
      kinds_(finding_kinds(shipped)),
      findings_(static_cast<std::size_t>(
          std::ranges::count_if(kinds_, [](const auto& kind) { return kind.has_value(); }))) {}

Job JobSource::next(const History& history, const Draw& draw, Random& random) {
  for (;;) {
    ++counts_.drawn;
    Job job{draw(random), {}};
    std::vector<bool> known = draw_known(kinds_, setting_, history, random);
    const bool two = one_is_named_ && name_one_of_each_list(ground_, job.drawn, known, random);
    if (!comes_in(job.drawn, known)) continue;
    job.known = observations(job.drawn, known);
    counts_.two_of_a_list += two ? 1 : 0;
    counts_.known += job.known.size();
    counts_.findings += findings_;
    return job;
  }
}

bool JobSource::comes_in(const DrawnJob& job, const std::vector<bool>& known) {
  bool present = false;
  for (std::size_t f = 0; f < kinds_.size(); ++f) {
    if (!kinds_[f] || !is_told(*kinds_[f]) || job.grades[f] == 0) continue;
    if (known[f]) return true;
    present = true;
  }
  ++(present ? counts_.nothing_told : counts_.nothing_present);
  return false;
}

std::vector<std::size_t> jobs_of_each_history(const Shipped& shipped, std::size_t jobs,
                                              Random& random) {
  std::vector<std::size_t> counts(shipped.histories.size(), 0);
  const boost::random::uniform_int_distribution<std::size_t> any(0, counts.size() - 1);
  for (std::size_t i = 0; i < jobs; ++i) ++counts[any(random)];
  return counts;
}

}  // namespace self_check

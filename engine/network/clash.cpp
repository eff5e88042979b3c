#include "network/clash.h"

#include <algorithm>

namespace slipcase::network {
namespace {

using Observations = std::vector<Observation>;

/// Sets of up to three findings are tried as long as there are no more than this many.
constexpr double most_trials = 20000;
constexpr std::size_t trials_at_once = 256;

class ClashSearch {
 public:
  ClashSearch(Solver& solver, const Evidence& evidence) : solver_(solver), evidence_(evidence) {}

  [[nodiscard]] bool clashes(const Observations& findings) {
    return std::holds_alternative<Impossible>(
        solver_.log_evidence({findings, evidence_.held, evidence_.complaint_stayed}));
  }

  /// Leaves out what is not needed, in one pass: none of the rest can then be left out.
  Observations irreducible(Observations findings) {
    // Half of them at a time while that works; one by one after.
    for (std::size_t block = findings.size() / 2; block > 0; block /= 2)
      for (std::size_t at = 0; at < findings.size();) {
        Observations fewer = findings;
        const auto first = fewer.begin() + static_cast<std::ptrdiff_t>(at);
        fewer.erase(first,
                    first + static_cast<std::ptrdiff_t>(std::min(block, findings.size() - at)));
        if (clashes(fewer)) {
          findings = std::move(fewer);
        } else {
          at += block;
        }
      }
    return findings;
  }

  /// The first set of `size` findings that clash, in the order of the evidence.
  Observations first_clash(std::size_t size) {
    std::vector<std::size_t> chosen;
    Observations found;
    extend(size, 0, chosen, found);
    if (found.empty()) try_waiting(found);
    return found;
  }

  [[nodiscard]] double sets_of(std::size_t size) const {
    double sets = 1;
    for (std::size_t i = 0; i < size; ++i)
      sets *= static_cast<double>(evidence_.findings.size() - i) / static_cast<double>(i + 1);
    return sets;
  }

 private:
  void extend(std::size_t size, std::size_t from, std::vector<std::size_t>& chosen,
              Observations& found) {
    if (chosen.size() == size) {
      Observations set;
      for (const std::size_t i : chosen) set.push_back(evidence_.findings[i]);
      waiting_.push_back({std::move(set), evidence_.held, evidence_.complaint_stayed});
      if (waiting_.size() == trials_at_once) try_waiting(found);
      return;
    }
    for (std::size_t i = from; i < evidence_.findings.size() && found.empty(); ++i) {
      chosen.push_back(i);
      extend(size, i + 1, chosen, found);
      chosen.pop_back();
    }
  }

  void try_waiting(Observations& found) {
    const std::vector<LogEvidence> results = solver_.log_evidence_batch(waiting_);
    for (std::size_t i = 0; i < results.size() && found.empty(); ++i)
      if (std::holds_alternative<Impossible>(results[i])) found = waiting_[i].findings;
    waiting_.clear();
  }

  Solver& solver_;
  const Evidence& evidence_;
  std::vector<Evidence> waiting_;
};

}  // namespace

std::vector<FindingId> clashing_findings(Solver& solver, const Evidence& evidence) {
  ClashSearch search(solver, evidence);
  if (search.clashes({}) || !search.clashes(evidence.findings)) return {};
  Observations smallest = search.irreducible(evidence.findings);
  for (std::size_t size = 1; size <= 3 && size < smallest.size(); ++size) {
    if (search.sets_of(size) > most_trials) break;
    Observations found = search.first_clash(size);
    if (!found.empty()) smallest = std::move(found);
  }
  std::vector<FindingId> result;
  for (const Observation& seen : smallest) result.push_back(seen.finding);
  std::ranges::sort(result);
  return result;
}

}  // namespace slipcase::network

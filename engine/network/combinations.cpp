#include "network/combinations.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

namespace slipcase::network {
namespace {

constexpr double log_zero = -std::numeric_limits<double>::infinity();

// Where hundreds of combinations are about as probable, the search could go on for hours and its
// answer would tell nobody anything. What a search may cost, in states touched, and what finding an
// order for one run costs beside its sweep.
constexpr double most_search_work = 1e8;
constexpr double work_of_an_order = 2e5;

/// Minus infinity for the impossible; nothing when too wide.
std::optional<double> log_or_zero(const LogEvidence& result) {
  if (std::holds_alternative<TooWide>(result)) return std::nullopt;
  if (const double* log = std::get_if<double>(&result)) return *log;
  return log_zero;
}

/// Combinations that agree on the causes decided so far.
struct Region {
  std::vector<Held> decided;
  double log_bound = 0;    // no combination in it is more probable (evidence included)
  bool exact = false;      // log_bound is the chance of the whole region
  bool complete = false;   // one combination, and log_bound its chance
  std::size_t number = 0;  // breaks ties: first found first
};

struct LessPromising {
  bool operator()(const Region& a, const Region& b) const {
    return a.log_bound != b.log_bound ? a.log_bound < b.log_bound : a.number > b.number;
  }
};

/// Best first. The most promising region is split into "all undecided absent" and, for each
/// undecided cause, "this one present, those before it absent"; a region's own chance bounds what
/// is in it.
class CombinationSearch {
 public:
  CombinationSearch(Solver& solver, const Evidence& evidence)
      : solver_(solver), evidence_(evidence) {
    for (std::uint32_t h = 0; h < solver.hidden_count(); ++h)
      if (solver.is_cause(HiddenId{h})) causes_.push_back(HiddenId{h});
  }

  std::vector<Combination> run(std::size_t how_many) {
    std::vector<Combination> found;
    const auto whole = log_or_zero(solver_.log_evidence(evidence_));
    if (!whole || *whole == log_zero) return found;
    push({.decided = {}, .log_bound = *whole, .exact = true});
    while (!queue_.empty() && found.size() < how_many && !failed_ && work_ < most_search_work) {
      Region region = queue_.top();
      queue_.pop();
      if (region.complete) {
        found.push_back({present(region), std::exp(region.log_bound - *whole)});
      } else if (region.exact) {
        split(region);
      } else {
        tighten(std::move(region));
      }
    }
    return failed_ ? std::vector<Combination>{} : found;
  }

 private:
  void push(Region region) {
    if (region.log_bound == log_zero) return;
    region.number = count_++;
    queue_.push(std::move(region));
  }

  [[nodiscard]] Evidence with(const std::vector<Held>& decided) const {
    Evidence evidence = evidence_;
    evidence.held.insert(evidence.held.end(), decided.begin(), decided.end());
    return evidence;
  }

  std::optional<double> log_chance(const std::vector<Held>& decided) {
    const Evidence evidence = with(decided);
    count_work(evidence);
    const auto log = log_or_zero(solver_.log_evidence(evidence));
    if (!log) failed_ = true;
    return log;
  }

  void count_work(const Evidence& evidence) {
    work_ += solver_.plan_info(evidence).operations + work_of_an_order;
  }

  void tighten(Region region) {
    const auto log = log_chance(region.decided);
    if (!log) return;
    region.log_bound = std::min(region.log_bound, *log);
    region.exact = true;
    region.complete = region.decided.size() == causes_.size();
    push(std::move(region));
  }

  void split(const Region& region) {
    const Evidence evidence = with(region.decided);
    count_work(evidence);
    const Outcome outcome = solver_.solve(evidence);
    if (std::holds_alternative<TooWide>(outcome)) failed_ = true;
    const auto* posterior = std::get_if<Posterior>(&outcome);
    if (posterior == nullptr) return;
    if (region.decided.size() == causes_.size()) {
      Region leaf = region;
      leaf.complete = true;
      push(std::move(leaf));
      return;
    }
    const std::vector<HiddenId> open = undecided(region, *posterior);
    Region rest{.decided = region.decided, .log_bound = region.log_bound};
    for (const HiddenId cause : open) {
      Region one = rest;
      one.decided.push_back({cause, true});
      one.log_bound = region.log_bound + std::log(posterior->hidden[cause.at()].value());
      push(std::move(one));
      rest.decided.push_back({cause, false});
    }
    if (const auto log = log_chance(rest.decided)) {
      rest.log_bound = *log;
      rest.exact = rest.complete = true;
      push(std::move(rest));
    }
  }

  /// The likeliest first: the many regions after them, where they are absent, are then improbable.
  [[nodiscard]] std::vector<HiddenId> undecided(const Region& region,
                                                const Posterior& posterior) const {
    std::vector<bool> done(posterior.hidden.size(), false);
    for (const Held& held : region.decided) done[held.hidden.at()] = true;
    std::vector<HiddenId> open;
    for (const HiddenId cause : causes_)
      if (!done[cause.at()]) open.push_back(cause);
    std::ranges::stable_sort(open, std::greater{},
                             [&](HiddenId h) { return posterior.hidden[h.at()].value(); });
    return open;
  }

  static std::vector<HiddenId> present(const Region& region) {
    std::vector<HiddenId> causes;
    for (const Held& held : region.decided)
      if (held.present) causes.push_back(held.hidden);
    std::ranges::sort(causes);
    return causes;
  }

  Solver& solver_;
  const Evidence& evidence_;
  std::vector<HiddenId> causes_;
  std::priority_queue<Region, std::vector<Region>, LessPromising> queue_;
  std::size_t count_ = 0;
  double work_ = 0;
  bool failed_ = false;
};

/// None of them, against the first one present: disjoint cases, each summed on its own.
std::optional<Probability> none_by_cases(Solver& solver, const Evidence& evidence,
                                         std::span<const HiddenId> nodes) {
  std::vector<Evidence> cases;
  Evidence before = evidence;
  for (const HiddenId node : nodes) {
    cases.push_back(before);
    cases.back().held.push_back({node, true});
    before.held.push_back({node, false});
  }
  cases.push_back(before);
  std::vector<double> logs;
  for (const LogEvidence& result : solver.log_evidence_batch(cases)) {
    const auto log = log_or_zero(result);
    if (!log) return std::nullopt;
    logs.push_back(*log);
  }
  const double top = *std::ranges::max_element(logs);
  if (top == log_zero) return std::nullopt;
  double some = 0;
  for (std::size_t i = 0; i + 1 < logs.size(); ++i) some += std::exp(logs[i] - top);
  return Probability::from_weights(std::exp(logs.back() - top), some);
}

}  // namespace

std::optional<Probability> chance_none(Solver& solver, const Evidence& evidence,
                                       double log_evidence, std::span<const HiddenId> nodes) {
  // A difference keeps the digits as long as it is not small; only then is it summed case by case.
  constexpr double small = 1e-3;
  Evidence all_absent = evidence;
  for (const HiddenId node : nodes) all_absent.held.push_back({node, false});
  const auto none = log_or_zero(solver.log_evidence(all_absent));
  if (!none || log_evidence == log_zero) return std::nullopt;
  const double chance = std::exp(*none - log_evidence);
  if (!(1.0 - chance > small)) return none_by_cases(solver, evidence, nodes);
  return Probability::from_weights(chance, 1.0 - chance);
}

std::vector<Combination> most_probable_combinations(Solver& solver, const Evidence& evidence,
                                                    std::size_t how_many) {
  return CombinationSearch(solver, evidence).run(how_many);
}

}  // namespace slipcase::network

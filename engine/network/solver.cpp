#include "network/solver.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <mutex>
#include <string>
#include <unordered_map>
#include <utility>

#include "network/aftermath.h"
#include "network/plan.h"
#include "network/runner.h"
#include "network/share_out.h"
#include "network/situation.h"
#include "network/slices.h"
#include "network/wiring.h"

namespace slipcase::network {
namespace {

constexpr unsigned most_branches = 6;

/// In a network of fewer hidden nodes an order is found sooner than a thread is started.
constexpr std::size_t order_worth_a_thread = 24;

}  // namespace

class Solver::Impl {
 public:
  Impl(const Network& network, SolverOptions options)
      : options_(options), wiring_(lay_out(network)), numbers_(read_numbers(wiring_, network)) {
    for (std::size_t h = 0; h < wiring_.hidden_count(); ++h)
      wiring_.is_cause[h] = network.hidden[h].is_cause;
    hands_.resize(options.threads > 0 ? std::min(options.threads, most_hands)
                                      : hands_of_this_machine());
  }

  /// The hand of the caller's own thread.
  [[nodiscard]] Hand& own_hand() { return hands_.front(); }

  Outcome solve(const Numbers& numbers, const Evidence& evidence, std::vector<Held> branches,
                Hand& hand) {
    const Situation situation = survey(wiring_, evidence, branches);
    if (situation.contradiction) return Impossible{};
    const std::shared_ptr<const Plan> plan = plan_for(situation, branches.size());
    if (plan->branch_on) return solve_branches(numbers, evidence, branches, *plan->branch_on, hand);
    if (!fits(*plan)) return TooWide{plan->program.width, plan->bytes};
    const Job job{&numbers, &situation};
    Outcome outcome = Impossible{};
    runner_.posteriors<double>(*plan, {&job, 1}, {&outcome, 1}, hand.single);
    return outcome;
  }

  LogEvidence log_evidence(const Numbers& numbers, const Evidence& evidence,
                           std::vector<Held> branches, Hand& hand) {
    const Situation situation = survey(wiring_, evidence, branches);
    if (situation.contradiction) return Impossible{};
    const std::shared_ptr<const Plan> plan = plan_for(situation, branches.size());
    if (plan->branch_on) {
      const Outcome outcome = solve_branches(numbers, evidence, branches, *plan->branch_on, hand);
      return to_log(outcome);
    }
    if (!fits(*plan)) return TooWide{plan->program.width, plan->bytes};
    const Job job{&numbers, &situation};
    LogEvidence result = Impossible{};
    runner_.logs<double>(*plan, {&job, 1}, {&result, 1}, hand.single);
    return result;
  }

  /// Runs many tasks, those with one plan together and on all hands; `run_pack` and `run_one` fill
  /// results[i].
  template <class Result, class RunOne, class RunPack>
  std::vector<Result> batch(std::span<const Evidence> evidence, std::span<const Numbers> numbers,
                            RunOne run_one, RunPack run_pack) {
    if (evidence.empty() || numbers.empty()) return {};
    const std::size_t count = std::max(evidence.size(), numbers.size());
    const auto numbers_of = [&](std::size_t i) -> const Numbers& {
      return numbers.size() == 1 ? numbers[0] : numbers[i];
    };
    std::vector<Situation> situations;
    for (const Evidence& e : evidence) situations.push_back(survey(wiring_, e, {}));
    const auto situation_of = [&](std::size_t i) -> const Situation& {
      return situations[situations.size() == 1 ? 0 : i];
    };
    std::vector<Result> results(count, Result{Impossible{}});
    const std::vector<Slice> slices =
        slices_of(groups_by_key(count, situation_of), options_.memory_bytes);
    const unsigned hands = hands_for(slices, hand_count(), options_.memory_bytes);
    share_out(slices.size(), hands, [&](std::size_t at, unsigned hand) {
      const Slice& slice = slices[at];
      if (!slice.as_pack) {
        const std::size_t i = slice.members.front();
        results[i] = run_one(numbers_of(i), evidence[evidence.size() == 1 ? 0 : i], hands_[hand]);
        return;
      }
      std::vector<Job> jobs;
      for (const std::size_t i : slice.members) jobs.push_back({&numbers_of(i), &situation_of(i)});
      std::vector<Result> pack(jobs.size(), Result{Impossible{}});
      run_pack(*slice.plan, std::span<const Job>(jobs), std::span<Result>(pack), hands_[hand]);
      for (std::size_t i = 0; i < pack.size(); ++i) results[slice.members[i]] = std::move(pack[i]);
    });
    return results;
  }

  std::vector<Outcome> solve_batch(std::span<const Evidence> evidence,
                                   std::span<const Numbers> numbers) {
    return batch<Outcome>(
        evidence, numbers,
        [&](const Numbers& n, const Evidence& e, Hand& hand) { return solve(n, e, {}, hand); },
        [&](const Plan& plan, std::span<const Job> jobs, std::span<Outcome> results, Hand& hand) {
          runner_.posteriors<Pack>(plan, jobs, results, hand.pack);
        });
  }

  std::vector<LogEvidence> log_batch(std::span<const Evidence> evidence) {
    return batch<LogEvidence>(
        evidence, {&numbers_, 1},
        [&](const Numbers& n, const Evidence& e, Hand& hand) {
          return log_evidence(n, e, {}, hand);
        },
        [&](const Plan& plan, std::span<const Job> jobs, std::span<LogEvidence> results,
            Hand& hand) { runner_.logs<Pack>(plan, jobs, results, hand.pack); });
  }

  PlanInfo plan_info(const Evidence& evidence) {
    const Situation situation = survey(wiring_, evidence, {});
    const std::shared_ptr<const Plan> plan = plan_for(situation, 0);
    return {.width = plan->program.width,
            .operations = plan->program.cost,
            .bytes = plan->bytes,
            .steps = plan->program.ops.size(),
            .extra_sweeps = static_cast<unsigned>(plan->sides.size()),
            .branches = plan->branch_on.has_value()};
  }

  void start_orders_from(const Evidence& evidence) {
    const Situation situation = survey(wiring_, evidence, {});
    if (situation.contradiction) return;
    // Every later order gains by a better start.
    constexpr double worth_searching_longer = 4.0;
    familiar_ = order_of(*plan_for(situation, 0, worth_searching_longer), wiring_, situation);
  }

  void start_orders_like(const Impl& other, const Likeness& likeness) {
    if (!other.familiar_) return;
    const auto ranks = [](const std::vector<std::uint32_t>& from,
                          const std::vector<std::uint32_t>& order) {
      std::vector<std::uint32_t> result;
      for (const std::uint32_t node : from)
        result.push_back(node < order.size() ? order[node] : Likeness::no_node);
      return result;
    };
    familiar_ = FamiliarOrder{ranks(likeness.hidden, other.familiar_->hidden),
                              ranks(likeness.findings, other.familiar_->findings)};
  }

  void forget_plans() { plans_.clear(); }
  [[nodiscard]] const Numbers& numbers() const { return numbers_; }
  [[nodiscard]] const Wiring& wiring() const { return wiring_; }

 private:
  static LogEvidence to_log(const Outcome& outcome) {
    if (const auto* posterior = std::get_if<Posterior>(&outcome)) return posterior->log_evidence;
    if (const auto* wide = std::get_if<TooWide>(&outcome)) return *wide;
    return Impossible{};
  }

  [[nodiscard]] bool fits(const Plan& plan) const {
    return plan.bytes <= static_cast<double>(options_.memory_bytes);
  }

  [[nodiscard]] std::shared_ptr<const Plan> known_plan(const std::string& key) {
    const std::lock_guard lock(plans_guard_);
    const auto found = plans_.find(key);
    return found == plans_.end() ? nullptr : found->second;
  }

  /// From any thread.
  std::shared_ptr<const Plan> plan_for(const Situation& situation, std::size_t branches,
                                       double times_the_effort = 1.0) {
    std::string key = situation.key();
    if (auto known = known_plan(key)) return known;
    SolverOptions options = options_;
    options.search_effort *= times_the_effort;
    auto plan = std::make_shared<const Plan>(
        make_plan(wiring_, situation, options, familiar_ ? &*familiar_ : nullptr,
                  branches < options.forced_branches, branches < most_branches));
    const std::lock_guard lock(plans_guard_);
    if (plans_.size() >= options_.plans_kept) plans_.clear();
    plans_.insert_or_assign(std::move(key), plan);
    return plan;
  }

  template <class SituationOf>
  std::vector<Group> groups_by_key(std::size_t count, const SituationOf& situation_of) {
    std::vector<Group> groups;
    std::vector<std::size_t> without_plan;
    std::unordered_map<std::string, std::size_t> group_of;
    for (std::size_t i = 0; i < count; ++i) {
      if (situation_of(i).contradiction) continue;
      const auto [place, added] = group_of.emplace(situation_of(i).key(), groups.size());
      if (added) {
        groups.push_back({{}, known_plan(place->first)});
        if (!groups.back().plan) without_plan.push_back(groups.size() - 1);
      }
      groups[place->second].members.push_back(i);
    }
    const bool many = wiring_.hidden_count() >= order_worth_a_thread;
    share_out(without_plan.size(), many ? hand_count() : 1, [&](std::size_t at, unsigned) {
      Group& group = groups[without_plan[at]];
      group.plan = plan_for(situation_of(group.members.front()), 0);
    });
    return groups;
  }

  [[nodiscard]] unsigned hand_count() const { return static_cast<unsigned>(hands_.size()); }

  /// The two cases of one hidden node, weighed by the chance of the evidence in each.
  Outcome solve_branches(const Numbers& numbers, const Evidence& evidence,
                         std::vector<Held> branches, HiddenId node, Hand& hand) {
    const auto held = std::ranges::find(evidence.held, node, &Held::hidden);
    if (held != evidence.held.end()) {
      branches.push_back(*held);
      return solve(numbers, evidence, branches, hand);
    }
    branches.push_back({node, false});
    Outcome absent = solve(numbers, evidence, branches, hand);
    if (std::holds_alternative<TooWide>(absent)) return absent;
    branches.back().present = true;
    Outcome present = solve(numbers, evidence, branches, hand);
    if (std::holds_alternative<TooWide>(present)) return present;
    if (std::holds_alternative<Impossible>(absent)) return present;
    if (std::holds_alternative<Impossible>(present)) return absent;
    return mixed(std::get<Posterior>(absent), std::get<Posterior>(present));
  }

  static Posterior mixed(const Posterior& a, const Posterior& b) {
    const double top = std::max(a.log_evidence, b.log_evidence);
    const double weight_a = std::exp(a.log_evidence - top);
    const double weight_b = std::exp(b.log_evidence - top);
    Posterior result = a;
    result.log_evidence = top + std::log(weight_a + weight_b);
    result.width = std::max(a.width, b.width);
    for (std::size_t h = 0; h < result.hidden.size(); ++h)
      result.hidden[h] =
          Probability::from_weights(
              weight_a * a.hidden[h].value() + weight_b * b.hidden[h].value(),
              weight_a * a.hidden[h].complement() + weight_b * b.hidden[h].complement())
              .value_or(Probability::never());
    return result;
  }

  SolverOptions options_;
  Wiring wiring_;
  Runner runner_{wiring_};
  Numbers numbers_;
  std::mutex plans_guard_;
  std::optional<FamiliarOrder> familiar_;
  std::unordered_map<std::string, std::shared_ptr<const Plan>> plans_;  // never iterated
  std::vector<Hand> hands_;                                             // at least one
};

Solver::Solver(const Network& network, SolverOptions options)
    : impl_(std::make_unique<Impl>(network, options)) {}
Solver::Solver(const Network& network, const FailedRepairs& failed, SolverOptions options) {
  if (!failed.empty()) aftermath_ = std::make_unique<Aftermath>(network, failed);
  impl_ = std::make_unique<Impl>(aftermath_ ? aftermath_->network() : network, options);
}
Solver::~Solver() = default;
Solver::Solver(Solver&&) noexcept = default;
Solver& Solver::operator=(Solver&&) noexcept = default;

// --- between the ids of the plain network and those of the split one

Evidence Solver::seen_from_inside(const Evidence& evidence) const {
  return aftermath_ ? aftermath_->split(evidence) : evidence;
}

std::vector<Evidence> Solver::seen_from_inside(std::span<const Evidence> evidence) const {
  std::vector<Evidence> result;
  for (const Evidence& one : evidence) result.push_back(seen_from_inside(one));
  return result;
}

Outcome Solver::seen_from_outside(Outcome outcome) const {
  const auto* posterior = std::get_if<Posterior>(&outcome);
  return aftermath_ && posterior != nullptr ? aftermath_->joined(*posterior) : std::move(outcome);
}

std::vector<Outcome> Solver::seen_from_outside(std::vector<Outcome> outcomes) const {
  for (Outcome& outcome : outcomes) outcome = seen_from_outside(std::move(outcome));
  return outcomes;
}

Numbers Solver::numbers_of(const Network& network) const {
  return read_numbers(impl_->wiring(), aftermath_ ? aftermath_->split(network) : network);
}

// --- questions

Outcome Solver::solve(const Evidence& evidence) {
  if (!aftermath_) return impl_->solve(impl_->numbers(), evidence, {}, impl_->own_hand());
  return seen_from_outside(
      impl_->solve(impl_->numbers(), seen_from_inside(evidence), {}, impl_->own_hand()));
}

LogEvidence Solver::log_evidence(const Evidence& evidence) {
  return impl_->log_evidence(impl_->numbers(), seen_from_inside(evidence), {}, impl_->own_hand());
}

LogEvidence Solver::log_evidence(const Evidence& evidence, const Network& network) {
  return impl_->log_evidence(numbers_of(network), seen_from_inside(evidence), {},
                             impl_->own_hand());
}

std::vector<Outcome> Solver::solve_batch(std::span<const Evidence> evidence) {
  if (!aftermath_) return impl_->solve_batch(evidence, {&impl_->numbers(), 1});
  return seen_from_outside(impl_->solve_batch(seen_from_inside(evidence), {&impl_->numbers(), 1}));
}

std::vector<LogEvidence> Solver::log_evidence_batch(std::span<const Evidence> evidence) {
  if (!aftermath_) return impl_->log_batch(evidence);
  return impl_->log_batch(seen_from_inside(evidence));
}

std::vector<Outcome> Solver::solve_networks(const Evidence& evidence,
                                            std::span<const Network> networks) {
  std::vector<Numbers> numbers;
  for (const Network& network : networks) numbers.push_back(numbers_of(network));
  return seen_from_outside(impl_->solve_batch(std::array{seen_from_inside(evidence)}, numbers));
}

std::vector<Outcome> Solver::solve_numbers(const Evidence& evidence,
                                           std::span<const Numbers> numbers) {
  const Evidence inside = seen_from_inside(evidence);
  if (!aftermath_) return impl_->solve_batch({&inside, 1}, numbers);
  std::vector<Numbers> split;
  for (const Numbers& one : numbers) split.push_back(aftermath_->split(one));
  return seen_from_outside(impl_->solve_batch({&inside, 1}, split));
}

const Wiring& Solver::wiring() const {
  return aftermath_ ? aftermath_->plain_wiring() : impl_->wiring();
}

void Solver::start_orders_from(const Evidence& evidence) {
  impl_->start_orders_from(seen_from_inside(evidence));
}

void Solver::start_orders_like(const Solver& other, const Likeness& likeness) {
  impl_->start_orders_like(*other.impl_, likeness);
}

PlanInfo Solver::plan_info(const Evidence& evidence) {
  return impl_->plan_info(seen_from_inside(evidence));
}
void Solver::forget_plans() { impl_->forget_plans(); }
std::size_t Solver::hidden_count() const { return wiring().hidden_count(); }
bool Solver::is_cause(HiddenId id) const { return wiring().is_cause[id.at()]; }

}  // namespace slipcase::network

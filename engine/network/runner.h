// Runs the programs of a plan for one set of numbers and evidence, or for as many at once as a pack
// has lanes.
#pragma once

#include <algorithm>
#include <array>
#include <span>
#include <utility>
#include <vector>

#include "network/coefficients.h"
#include "network/plan.h"
#include "network/situation.h"
#include "network/solver.h"
#include "network/sweep.h"
#include "network/wiring.h"

namespace slipcase::network {

/// The working memory of one lane type.
template <class Lane>
struct Workspace {
  Coefficients<Lane> numbers;
  Sweep<Lane> sweep;
  std::vector<Pair<Lane>> marginals;
};

/// What one thread works with.
struct Hand {
  Workspace<double> single;
  Workspace<Pack> pack;
};

/// One lane's task: its numbers and its evidence.
struct Job {
  const Numbers* numbers = nullptr;
  const Situation* situation = nullptr;
};

/// A hidden node below which nothing is known, from parents independent given the evidence.
inline Probability derive(const Wiring& wiring, const Numbers& numbers, std::uint32_t h,
                          const std::vector<Probability>& hidden) {
  Pair<double> own{numbers.own_no[h], numbers.own_yes[h]};
  std::size_t link = wiring.parent_begin[h];
  for (const std::uint32_t p : wiring.parents_of_hidden(h)) {
    add_single(own, {hidden[p].complement(), hidden[p].value()}, numbers.hidden_pass[link],
               numbers.hidden_fire[link]);
    ++link;
  }
  return Probability::from_weights(own.yes, own.no).value_or(Probability::never());
}

class Runner {
 public:
  explicit Runner(const Wiring& wiring) : wiring_(wiring) {}

  template <class Lane>
  void logs(const Plan& plan, std::span<const Job> jobs, std::span<LogEvidence> results,
            Workspace<Lane>& work) {
    const auto chance = forward(plan.program, jobs, false, work);
    for (std::size_t l = 0; l < jobs.size(); ++l) {
      if (chance[l].is_zero()) {
        results[l] = Impossible{};
      } else {
        results[l] = chance[l].log();
      }
    }
  }

  template <class Lane>
  void posteriors(const Plan& plan, std::span<const Job> jobs, std::span<Outcome> results,
                  Workspace<Lane>& work) {
    work.marginals.resize(wiring_.hidden_count());
    const auto chance = forward(plan.program, jobs, true, work);
    work.sweep.backward(plan.program, work.numbers, work.marginals);
    for (const std::uint32_t h : plan.program.structure.idle_roots)
      work.marginals[h] = work.numbers.root[h];
    for (const SideProgram& side : plan.sides) run_side(side, jobs, work);
    for (std::size_t l = 0; l < jobs.size(); ++l)
      if (!chance[l].is_zero()) results[l] = posterior(plan, jobs[l], chance[l], l, work);
  }

 private:
  template <class Lane>
  std::array<Scaled, lanes<Lane>> forward(const Program& program, std::span<const Job> jobs,
                                          bool keep, Workspace<Lane>& work) {
    work.numbers.shape(program, wiring_.hidden_count());
    for (std::size_t l = 0; l < lanes<Lane>; ++l) {
      const Job& job = jobs[std::min(l, jobs.size() - 1)];  // spare lanes repeat the last job
      work.numbers.fill(program, wiring_, *job.numbers, *job.situation, l);
    }
    work.numbers.combine(program);
    return work.sweep.forward(program, work.numbers, keep);
  }

  /// Only the side's own node is taken from it, so the main sweep's results stay what they are.
  template <class Lane>
  void run_side(const SideProgram& side, std::span<const Job> jobs, Workspace<Lane>& work) {
    std::vector<Pair<Lane>> marginals(wiring_.hidden_count());
    forward(side.program, jobs, true, work);
    work.sweep.backward(side.program, work.numbers, marginals);
    work.marginals[side.hidden] = marginals[side.hidden];
  }

  template <class Lane>
  Posterior posterior(const Plan& plan, const Job& job, const Scaled& chance, std::size_t lane,
                      const Workspace<Lane>& work) const {
    Posterior result;
    result.skipped = plan.skipped;
    result.log_evidence = chance.log();
    result.width = plan.program.width;
    result.hidden.assign(wiring_.hidden_count(), Probability::never());
    std::vector<bool> not_swept(wiring_.hidden_count(), false);
    for (const std::uint32_t h : plan.derived) not_swept[h] = true;
    for (const HiddenId h : plan.skipped) not_swept[h.at()] = true;
    for (std::uint32_t h = 0; h < wiring_.hidden_count(); ++h) {
      const Role role = job.situation->role[h];
      if (role == Role::branch_present) result.hidden[h] = Probability::certain();
      if (role == Role::branch_present || role == Role::branch_absent || not_swept[h]) continue;
      const Pair<Lane>& weights = work.marginals[h];
      result.hidden[h] =
          Probability::from_weights(lane_of(weights.yes, lane), lane_of(weights.no, lane))
              .value_or(Probability::never());
    }
    for (const std::uint32_t h : plan.derived)
      result.hidden[h] = derive(wiring_, *job.numbers, h, result.hidden);
    return result;
  }

  const Wiring& wiring_;
};

}  // namespace slipcase::network

// What a shop can do, as plain numbers: what the planning works on. Nothing here knows about rules.
//
// Costs are in any one unit (minutes or money). Everything is weighed by chances: a "weight" is a
// chance times the chance of what is known at that point, so weights of different outcomes of a
// check simply add up.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace slipcase::decision {

/// A set of repairs, bit r for repair r of the problem.
using RepairSet = std::uint32_t;
inline constexpr std::size_t most_repairs = 12;

/// A set of things that are paid once however many steps need them (getting at a part, a check that
/// must come first): bit i for item i of Problem::once.
using OnceSet = std::uint64_t;
inline constexpr std::size_t most_once = 64;

struct Work {
  double cost = 0;
  OnceSet needs = 0;
  OnceSet follows = 0;  // bit i: item i of Problem::each_time comes after it
};

struct Problem {
  std::vector<Work> repairs;  // at most most_repairs
  std::vector<Work> checks;
  std::vector<double> once;
  /// Of those: what is paid anew in every round (getting at a part), for the car is put together
  /// and driven after each.
  OnceSet lapses = 0;
  std::vector<double> each_time;  // work that follows repairs, paid once a round
  double comeback = 0;  // what it costs each time that the complaint is still there after a repair
  double unsolved = 0;  // what it costs when the complaint is still there after the last one
};

/// One state of knowledge.
struct Prospect {
  double chance = 1;          // of what is known here
  std::vector<double> ended;  // per set of repairs: chance of that and that the set ends it
};

/// The cost of doing this work when `paid` has been paid for.
[[nodiscard]] double cost_of(const Problem& problem, const Work& work, OnceSet paid);

/// What is still paid for after a round of this work.
[[nodiscard]] inline OnceSet paid_after(const Problem& problem, const Work& round, OnceSet paid) {
  return (paid | round.needs) & ~problem.lapses;
}

/// The repairs of a set in one go.
[[nodiscard]] Work together(const Problem& problem, RepairSet repairs);

}  // namespace slipcase::decision

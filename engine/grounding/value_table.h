// Every distinct value and question once, numbered in the order in which they are first asked.
#pragma once

#include <map>
#include <span>
#include <unordered_map>
#include <vector>

#include "grounding/program.h"

namespace slipcase::grounding {

class ValueTable {
 public:
  explicit ValueTable(Programs& programs) : programs_(programs) {}

  [[nodiscard]] std::uint32_t value(ValueNode node, std::span<const std::uint32_t> operands = {});
  [[nodiscard]] std::uint32_t constant(double number);
  [[nodiscard]] std::uint32_t question(const Question& question);

  /// The number, if the value is a constant.
  [[nodiscard]] std::optional<double> number_of(std::uint32_t value) const;

 private:
  [[nodiscard]] bool same(const ValueNode& stored, const ValueNode& node,
                          std::span<const std::uint32_t> operands) const;

  Programs& programs_;
  std::unordered_multimap<std::uint64_t, std::uint32_t> known_;  // by hash; only looked up
  std::map<Question, std::uint32_t> questions_;
};

}  // namespace slipcase::grounding

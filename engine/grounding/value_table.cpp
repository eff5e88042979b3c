#include "grounding/value_table.h"

#include <algorithm>
#include <bit>

namespace slipcase::grounding {

namespace {

std::uint64_t mixed(std::uint64_t hash, std::uint64_t value) {
  // The step of the SplitMix64 generator: spreads small differences over all bits.
  hash += value + 0x9e3779b97f4a7c15U;
  hash = (hash ^ (hash >> 30U)) * 0xbf58476d1ce4e5b9U;
  hash = (hash ^ (hash >> 27U)) * 0x94d049bb133111ebU;
  return hash ^ (hash >> 31U);
}

std::uint64_t hash_of(const ValueNode& node, std::span<const std::uint32_t> operands) {
  const auto small =
      static_cast<std::uint64_t>(node.kind) | static_cast<std::uint64_t>(node.function) << 8U |
      static_cast<std::uint64_t>(node.share) << 16U | static_cast<std::uint64_t>(node.hand) << 24U |
      static_cast<std::uint64_t>(node.exempt) << 32U;
  std::uint64_t hash = mixed(small, node.a | static_cast<std::uint64_t>(node.other) << 32U);
  hash = mixed(hash, std::bit_cast<std::uint64_t>(node.number));
  for (const std::uint32_t operand : operands) hash = mixed(hash, operand);
  return hash;
}

}  // namespace

bool ValueTable::same(const ValueNode& stored, const ValueNode& node,
                      std::span<const std::uint32_t> operands) const {
  ValueNode bare = stored;
  bare.operands_begin = bare.operands_end = 0;
  return bare == node &&
         std::ranges::equal(
             std::span(programs_.operands)
                 .subspan(stored.operands_begin, stored.operands_end - stored.operands_begin),
             operands);
}

std::uint32_t ValueTable::value(ValueNode node, std::span<const std::uint32_t> operands) {
  const std::uint64_t hash = hash_of(node, operands);
  const auto [begin, end] = known_.equal_range(hash);
  for (auto it = begin; it != end; ++it) {
    if (same(programs_.values[it->second], node, operands)) return it->second;
  }
  node.operands_begin = static_cast<std::uint32_t>(programs_.operands.size());
  programs_.operands.insert(programs_.operands.end(), operands.begin(), operands.end());
  node.operands_end = static_cast<std::uint32_t>(programs_.operands.size());
  const auto index = static_cast<std::uint32_t>(programs_.values.size());
  programs_.values.push_back(node);
  known_.emplace(hash, index);
  return index;
}

std::uint32_t ValueTable::constant(double number) {
  ValueNode node;
  node.number = number;
  return value(node);
}

std::uint32_t ValueTable::question(const Question& question) {
  const auto next = static_cast<std::uint32_t>(programs_.questions.size());
  const auto [it, added] = questions_.emplace(question, next);
  if (added) programs_.questions.push_back(question);
  return it->second;
}

std::optional<double> ValueTable::number_of(std::uint32_t value) const {
  const ValueNode& node = programs_.values[value];
  if (node.kind != ValueNode::Kind::constant) return std::nullopt;
  return node.number;
}

}  // namespace slipcase::grounding

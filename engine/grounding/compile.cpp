#include "grounding/compile.h"

#include <algorithm>

namespace slipcase::grounding {

Compiler::Compiler(GroundRules& ground) : ground_(ground), table_(ground.programs) {}

ProgramId Compiler::compile(const rulebase::Condition& condition, const Asker& asker) {
  asker_ = asker;
  bindings_.assign(1, asker.member);
  auto& programs = ground_.programs;
  Program program;
  program.begin = static_cast<std::uint32_t>(programs.code.size());
  program.place = condition.place;
  if (const Constant constant = emit(condition)) push(Operation::literal, *constant);
  program.end = static_cast<std::uint32_t>(programs.code.size());
  programs.programs.push_back(program);
  return ProgramId{static_cast<std::uint32_t>(programs.programs.size() - 1)};
}

void Compiler::push(Operation operation, std::uint32_t a, std::uint32_t b) {
  Instruction instruction;
  instruction.operation = operation;
  instruction.a = a;
  instruction.b = b;
  ground_.programs.code.push_back(instruction);
  ground_.programs.places.push_back(place_);
}

Compiler::Constant Compiler::emit(const rulebase::Condition& condition) {
  const Place around = place_;
  place_ = condition.place;
  const Constant constant =
      std::visit([this](const auto& inner) { return node(inner); }, condition.node);
  place_ = around;
  return constant;
}

Compiler::Constant Compiler::negated(Constant constant) {
  if (constant) return yes - *constant;
  push(Operation::negate);
  return std::nullopt;
}

Compiler::Constant Compiler::node(const rulebase::Not& node) { return negated(emit(*node.inner)); }

template <class Part>
Compiler::Constant Compiler::chain(std::size_t count, bool all, const Part& part) {
  auto& code = ground_.programs.code;
  auto& places = ground_.programs.places;
  const std::size_t begin = code.size();
  const std::uint32_t decides = all ? no : yes;
  std::vector<std::size_t> jumps;
  bool any_code = false;
  bool any_unknown = false;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t before = code.size();
    if (any_code) push(all ? Operation::jump_if_no : Operation::jump_if_yes);
    const Constant constant = part(i);
    if (constant == decides) {
      code.resize(begin);
      places.resize(begin);
      return decides;
    }
    if (constant) {
      code.resize(before);
      places.resize(before);
      any_unknown = any_unknown || *constant == unknown;
      continue;
    }
    if (any_code) {
      jumps.push_back(before);
      push(all ? Operation::both : Operation::either);
    }
    any_code = true;
  }
  if (!any_code) return any_unknown ? unknown : yes - decides;
  if (any_unknown) {
    push(Operation::literal, unknown);
    push(all ? Operation::both : Operation::either);
  }
  for (const std::size_t jump : jumps) code[jump].a = static_cast<std::uint32_t>(code.size());
  return std::nullopt;
}

Compiler::Constant Compiler::node(const rulebase::AllOf& node) {
  return chain(node.parts.size(), true, [&](std::size_t i) { return emit(*node.parts[i]); });
}

Compiler::Constant Compiler::node(const rulebase::AnyOf& node) {
  return chain(node.parts.size(), false, [&](std::size_t i) { return emit(*node.parts[i]); });
}

template <class Part>
Compiler::Constant Compiler::counted(std::size_t count, std::uint64_t wanted, const Part& part) {
  if (wanted == 0) return yes;
  if (wanted > count) return no;
  for (std::size_t i = 0; i < count; ++i) {
    if (const Constant constant = part(i)) push(Operation::literal, *constant);
  }
  push(Operation::at_least, static_cast<std::uint32_t>(wanted), static_cast<std::uint32_t>(count));
  return std::nullopt;
}

Compiler::Constant Compiler::node(const rulebase::Quantified& node) {
  using Kind = rulebase::Quantified::Kind;
  const auto members = selected(ground_.rules->unit, node.selection, bindings_);
  if (members.empty()) return unknown;
  bindings_.emplace_back();
  const auto part = [&](std::size_t i) {
    bindings_.back() = members[i];
    return emit(*node.inner);
  };
  Constant constant;
  switch (node.kind) {
    case Kind::every:
      constant = chain(members.size(), true, part);
      break;
    case Kind::any:
      constant = chain(members.size(), false, part);
      break;
    case Kind::no:
      constant = negated(chain(members.size(), false, part));
      break;
    case Kind::at_least_count:
      constant = counted(members.size(), node.amount, part);
      break;
    case Kind::at_least_share: {
      // The smallest whole number of members that is at least this share of them.
      const std::uint64_t share = std::min<std::uint64_t>(node.amount, 101);
      constant = counted(members.size(), (share * members.size() + 99) / 100, part);
      break;
    }
  }
  bindings_.pop_back();
  return constant;
}

Compiler::Constant Compiler::compared(Operation operation, std::uint32_t a, std::uint32_t b) {
  const auto left = table_.number_of(a);
  const auto right = table_.number_of(b);
  if (left && right) {
    const bool holds = operation == Operation::less         ? *left < *right
                       : operation == Operation::less_equal ? *left <= *right
                                                            : *left == *right;
    return holds ? yes : no;
  }
  push(operation, a, b);
  return std::nullopt;
}

Compiler::Constant Compiler::node(const rulebase::Comparison& node) {
  using Kind = rulebase::Comparison::Kind;
  const std::uint32_t left = value(*node.left);
  const std::uint32_t right = value(*node.right);
  switch (node.kind) {
    case Kind::less:
      return compared(Operation::less, left, right);
    case Kind::less_equal:
      return compared(Operation::less_equal, left, right);
    case Kind::greater:
      return compared(Operation::less, right, left);
    case Kind::greater_equal:
      return compared(Operation::less_equal, right, left);
    case Kind::equal:
      break;
  }
  return compared(Operation::equal, left, right);
}

Compiler::Constant Compiler::node(const rulebase::Between& node) {
  const std::uint32_t middle = value(*node.value);
  const std::uint32_t low = value(*node.low);
  const std::uint32_t high = value(*node.high);
  return chain(2, true, [&](std::size_t i) {
    return i == 0 ? compared(Operation::less_equal, low, middle)
                  : compared(Operation::less_equal, middle, high);
  });
}

Compiler::Constant Compiler::node(const rulebase::Within& node) {
  std::uint32_t off = value(*node.value);
  if (node.centre) off = difference(off, value(*node.centre));
  push(Operation::within, off, value(*node.distance));
  return std::nullopt;
}

}  // namespace slipcase::grounding

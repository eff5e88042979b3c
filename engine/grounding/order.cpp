// Who asks whom, and an order in which everything asked has been done before.
#include <algorithm>

#include <fmt/core.h>

#include "grounding/messages.h"
#include "grounding/unroll.h"

namespace slipcase::grounding {

namespace {

using Pairs = std::vector<std::pair<std::uint32_t, std::uint32_t>>;
using Kind = ValueNode::Kind;

bool is_leaf(const ValueNode& node) {
  return node.kind == Kind::detail || node.kind == Kind::reading || node.kind == Kind::ratio_error;
}

/// What one consumer asks.
struct Uses {
  struct Asked {
    std::uint32_t index = 0;
    std::uint32_t exempt = 0;
  };
  struct FindingAsked {
    std::uint32_t index = 0;
    bool own_value = false;
  };
  std::vector<FindingAsked> findings;
  std::vector<std::uint32_t> leaves;  // values that stand for readings and details
  std::vector<Asked> details;         // asked for a word or a yes
};

class UsesReader {
 public:
  explicit UsesReader(const Programs& programs)
      : programs_(programs), seen_(programs.values.size()) {}

  void add(ProgramId id, Uses& uses) {
    const Program& program = programs_.at(id);
    for (std::uint32_t i = program.begin; i < program.end; ++i) add(programs_.code[i], uses);
  }
  void next_consumer() { ++stamp_; }

 private:
  void add(const Instruction& instruction, Uses& uses) {
    switch (instruction.operation) {
      case Operation::detail_is:
      case Operation::detail_yes:
        uses.details.push_back({instruction.a, instruction.exempt});
        break;
      case Operation::finding_holds:
      case Operation::finding_known:
        uses.findings.push_back({instruction.a, instruction.own_value});
        break;
      case Operation::value_known:
        add_value(instruction.a, uses);
        break;
      case Operation::less:
      case Operation::less_equal:
      case Operation::equal:
      case Operation::within:
        add_value(instruction.a, uses);
        add_value(instruction.b, uses);
        break;
      case Operation::literal:
      case Operation::question:
      case Operation::negate:
      case Operation::both:
      case Operation::either:
      case Operation::at_least:
      case Operation::jump_if_no:
      case Operation::jump_if_yes:
        break;
    }
  }

  void add_value(std::uint32_t value, Uses& uses) {
    if (seen_[value] == stamp_) return;
    seen_[value] = stamp_;
    const ValueNode& node = programs_.values[value];
    if (is_leaf(node)) uses.leaves.push_back(value);
    for (std::uint32_t i = node.operands_begin; i < node.operands_end; ++i) {
      add_value(programs_.operands[i], uses);
    }
  }

  const Programs& programs_;
  std::vector<std::uint32_t> seen_;
  std::uint32_t stamp_ = 1;
};

/// Findings first, then distrusts.
class Sorter {
 public:
  Sorter(GroundRules& ground, const std::vector<Uses>& uses, Diagnostics& diagnostics)
      : ground_(ground), uses_(uses), diagnostics_(diagnostics) {}

  void sort() {
    states_.assign(uses_.size(), State::untouched);
    for (std::uint32_t node = 0; node < uses_.size(); ++node) settle(node);
  }

 private:
  enum class State : std::uint8_t { untouched, open, done };
  struct Frame {
    std::uint32_t node = 0;
    std::vector<std::uint32_t> waits_for;
    std::size_t next = 0;
  };

  [[nodiscard]] std::uint32_t findings() const {
    return static_cast<std::uint32_t>(ground_.findings.size());
  }

  void settle(std::uint32_t start) {
    if (states_[start] != State::untouched) return;
    std::vector<Frame> path;
    open(start, path);
    while (!path.empty()) {
      Frame& top = path.back();
      if (top.next == top.waits_for.size()) {
        close(top.node);
        path.pop_back();
        continue;
      }
      const std::uint32_t wanted = top.waits_for[top.next++];
      if (states_[wanted] == State::open) report(wanted, path);
      if (states_[wanted] == State::untouched) open(wanted, path);
    }
  }

  void open(std::uint32_t node, std::vector<Frame>& path) {
    states_[node] = State::open;
    path.push_back({node, waits_for(node), 0});
  }

  void close(std::uint32_t node) {
    states_[node] = State::done;
    if (node < findings()) {
      ground_.order.push_back({EvaluationStep::Kind::finding, node});
    } else {
      ground_.order.push_back({EvaluationStep::Kind::distrust, node - findings()});
    }
  }

  void add_distrusts(const Lists& lists, std::size_t index, std::uint32_t exempt,
                     std::vector<std::uint32_t>& out) const {
    const auto& left_out = ground_.programs.exemptions[exempt];
    const auto [begin, end] = lists.range(index);
    for (const auto* it = begin; it != end; ++it) {
      if (!std::ranges::binary_search(left_out, *it)) out.push_back(findings() + *it);
    }
  }

  [[nodiscard]] std::vector<std::uint32_t> waits_for(std::uint32_t node) const {
    std::vector<std::uint32_t> wanted;
    const Uses& uses = uses_[node];
    if (node < findings()) add_distrusts(ground_.distrusts_of_finding, node, 0, wanted);
    for (const auto& detail : uses.details) {
      add_distrusts(ground_.distrusts_of_detail, detail.index, detail.exempt, wanted);
    }
    for (const std::uint32_t leaf : uses.leaves) add_leaf(ground_.programs.values[leaf], wanted);
    for (const auto& finding : uses.findings) {
      wanted.push_back(finding.index);
      if (finding.own_value) continue;
      const auto [begin, end] = ground_.at_most_one_of.range(finding.index);
      for (const auto* list = begin; list != end; ++list) {
        for (const auto member : ground_.at_most_one[*list].findings) {
          wanted.push_back(member.index);
        }
      }
    }
    return wanted;
  }

  void add_leaf(const ValueNode& node, std::vector<std::uint32_t>& wanted) const {
    if (node.kind == Kind::detail) {
      add_distrusts(ground_.distrusts_of_detail, node.a, node.exempt, wanted);
      return;
    }
    if (node.function == rulebase::ReadingFunction::as_read) return;
    add_distrusts(ground_.distrusts_of_reading, node.a, node.exempt, wanted);
    if (node.kind == Kind::ratio_error) {
      add_distrusts(ground_.distrusts_of_reading, node.other, node.exempt, wanted);
    }
  }

  [[nodiscard]] const rulebase::Header& header(std::uint32_t node) const {
    if (node < findings()) return ground_.declaration(GroundFinding{node}).header;
    return ground_.rules->distrusts[ground_.distrusts[node - findings()].declaration].header;
  }
  [[nodiscard]] std::string name(std::uint32_t node) const {
    return node < findings() ? ground_.name_of(GroundFinding{node}) : header(node).name;
  }

  /// Once for each declaration, however many members go round with it.
  void report(std::uint32_t again, const std::vector<Frame>& path) {
    const Place place = header(again).place;
    if (std::ranges::find(reported_, place) != reported_.end()) return;
    reported_.push_back(place);
    auto& diagnostic = diagnostics_.add(
        asks_itself, place,
        fmt::format("whether `{}` holds hangs on itself; take one of these steps out",
                    name(again)));
    const auto start = std::ranges::find(path, again, &Frame::node);
    for (auto it = start; it != path.end(); ++it) {
      const std::uint32_t next = it + 1 == path.end() ? again : (it + 1)->node;
      diagnostic.notes.push_back(
          {header(it->node).place, fmt::format("`{}` hangs on `{}`", name(it->node), name(next))});
    }
  }

  GroundRules& ground_;
  const std::vector<Uses>& uses_;
  Diagnostics& diagnostics_;
  std::vector<State> states_;
  std::vector<Place> reported_;
};

/// Per value the readings (and behind them the details) it is worked out from.
void list_values(GroundRules& ground) {
  const auto& programs = ground.programs;
  Pairs of_detail;
  Pairs of_reading;
  std::vector<std::vector<std::uint32_t>> leaves(programs.values.size());
  for (std::uint32_t v = 0; v < programs.values.size(); ++v) {
    const ValueNode& node = programs.values[v];
    auto& mine = leaves[v];
    if (is_leaf(node)) mine.push_back(v);
    for (std::uint32_t i = node.operands_begin; i < node.operands_end; ++i) {
      const auto& below = leaves[programs.operands[i]];
      mine.insert(mine.end(), below.begin(), below.end());
    }
    for (const std::uint32_t leaf : mine) {
      const ValueNode& at = programs.values[leaf];
      (at.kind == Kind::detail ? of_detail : of_reading).emplace_back(at.a, v);
      if (at.kind == Kind::ratio_error) of_reading.emplace_back(at.other, v);
    }
  }
  ground.dependents.values_of_detail = lists_from(ground.details.size(), of_detail);
  ground.dependents.values_of_reading = lists_from(ground.readings.size(), of_reading);
}

/// Pairs of what is asked and the consumer that asks, for the four kinds of input.
struct Askers {
  Pairs finding, detail, reading, leaf;

  void add(const Programs& programs, const Uses& uses, std::uint32_t consumer) {
    for (const auto& asked : uses.findings) finding.emplace_back(asked.index, consumer);
    for (const auto& asked : uses.details) detail.emplace_back(asked.index, consumer);
    for (const std::uint32_t value : uses.leaves) {
      const ValueNode& node = programs.values[value];
      leaf.emplace_back(consumer, value);
      (node.kind == Kind::detail ? detail : reading).emplace_back(node.a, consumer);
      if (node.kind == Kind::ratio_error) reading.emplace_back(node.other, consumer);
    }
  }
};

void list_dependents(GroundRules& ground, const std::vector<Uses>& of_steps,
                     const std::vector<Uses>& of_lines) {
  auto& dependents = ground.dependents;
  const auto findings = static_cast<std::uint32_t>(ground.findings.size());
  dependents.step_of_finding.resize(findings);
  dependents.step_of_distrust.resize(ground.distrusts.size());
  Askers askers;
  std::uint32_t consumer = 0;
  for (const EvaluationStep& step : ground.order) {
    const bool finding = step.kind == EvaluationStep::Kind::finding;
    (finding ? dependents.step_of_finding : dependents.step_of_distrust)[step.index] = consumer;
    const std::uint32_t node = finding ? step.index : findings + step.index;
    askers.add(ground.programs, of_steps[node], consumer++);
  }
  for (const Uses& uses : of_lines) askers.add(ground.programs, uses, consumer++);
  dependents.of_finding = lists_from(findings, askers.finding);
  dependents.of_detail = lists_from(ground.details.size(), askers.detail);
  dependents.of_reading = lists_from(ground.readings.size(), askers.reading);
  dependents.values_asked = lists_from(consumer, askers.leaf);
}

}  // namespace

void put_in_order(GroundRules& ground, Diagnostics& diagnostics) {
  UsesReader reader(ground.programs);
  std::vector<Uses> of_steps;
  for (const auto& rule : ground.finding_rules) {
    reader.next_consumer();
    Uses& uses = of_steps.emplace_back();
    for (const auto& program : rule.at_least) {
      if (program) reader.add(*program, uses);
    }
  }
  std::vector<Uses> of_lines;
  const auto add_line = [&](std::vector<Uses>& list, ProgramId when) {
    reader.next_consumer();
    reader.add(when, list.emplace_back());
  };
  for (const auto& distrust : ground.distrusts) add_line(of_steps, distrust.when);
  for (const auto& line : ground.becomes) add_line(of_lines, line.when);
  for (const auto& line : ground.restrictions) add_line(of_lines, line.when);

  Sorter(ground, of_steps, diagnostics).sort();
  list_values(ground);
  list_dependents(ground, of_steps, of_lines);
}

}  // namespace slipcase::grounding

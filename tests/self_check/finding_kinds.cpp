#include "self_check/finding_kinds.h"

#include <algorithm>
#include <array>
#include <set>
#include <stdexcept>
#include <string_view>

#include "advice/ways.h"

namespace self_check {

namespace {

namespace rulebase = slipcase::rulebase;
using rulebase::ReadingFunction;
using slipcase::grounding::CodeQuestion;
using slipcase::grounding::GroundCheck;
using slipcase::grounding::Instruction;
using slipcase::grounding::Operation;
using slipcase::grounding::ValueNode;

/// What the driver answers, alone or beside us on a drive. Nothing in the rules marks these checks.
constexpr std::array<std::string_view, 2> telling_checks = {"interview", "drive_with_customer"};

/// Getting onto the lift takes this long at most; what takes longer to reach has to be opened.
constexpr double minutes_to_the_lift = 20.0;

class KindFinder {
 public:
  explicit KindFinder(const Shipped& shipped)
      : rules_(shipped.ground()), checks_of_(rules_.findings.size()) {
    for (const std::string_view name : telling_checks) {
      const auto found = rules_.rules->find(name);
      const auto* check = found ? std::get_if<rulebase::CheckId>(&*found) : nullptr;
      if (check == nullptr) throw std::runtime_error("no check " + std::string(name));
      telling_.insert(check->index);
    }
    for (const ValueNode& node : rules_.programs.values)
      if (node.kind == ValueNode::Kind::ratio_error) logged_.insert({node.a, node.other});
    for (std::uint32_t c = 0; c < rules_.checks.size(); ++c) note_check(GroundCheck{c});
  }

  [[nodiscard]] std::optional<Kind> kind_of(GroundFinding finding) const {
    if (!can_be_known(finding)) return std::nullopt;
    if (rules_.declaration(finding).result_of_check) return Kind::check_result;
    if (asks_codes(finding)) return Kind::codes;
    if (const auto from_readings = by_readings(finding)) return *from_readings;
    return by_checks(finding);
  }

 private:
  struct CheckOf {
    std::uint32_t declaration = 0;
    bool gives_readings = false;
    bool gives_log = false;
  };

  void note_check(GroundCheck check) {
    const auto given = slipcase::advice::given_by(rules_, check, [](auto) { return true; });
    CheckOf entry{rules_.checks.origins.at(check.at()).declaration, !given.readings.empty(), false};
    for (const auto reading : given.readings) entry.gives_log |= is_logged(reading.index);
    for (const GroundFinding finding : given.findings) checks_of_[finding.at()].push_back(entry);
  }

  [[nodiscard]] bool is_logged(std::uint32_t reading) const {
    return std::ranges::any_of(
        logged_, [&](const auto& pair) { return pair.first == reading || pair.second == reading; });
  }

  template <class Is>
  [[nodiscard]] bool any_instruction(GroundFinding finding, Is is) const {
    for (const auto& grade : rules_.finding_rules[finding.at()].at_least) {
      if (!grade) continue;
      const auto& program = rules_.programs.at(*grade);
      for (std::uint32_t at = program.begin; at < program.end; ++at)
        if (is(rules_.programs.code[at])) return true;
    }
    return false;
  }

  /// The code of a shift that has none is worked out from nothing.
  [[nodiscard]] bool can_be_known(GroundFinding finding) const {
    const rulebase::Finding& declaration = rules_.declaration(finding);
    if (!declaration.asks.empty() || declaration.result_of_check) return true;
    return any_instruction(
        finding, [](const Instruction& part) { return part.operation != Operation::literal; });
  }

  [[nodiscard]] bool asks_codes(GroundFinding finding) const {
    return any_instruction(finding, [&](const Instruction& part) {
      return part.operation == Operation::question &&
             std::holds_alternative<CodeQuestion>(rules_.programs.questions[part.a]);
    });
  }

  [[nodiscard]] std::optional<Kind> by_readings(GroundFinding finding) const {
    std::optional<Kind> kind;
    const std::uint32_t step = rules_.dependents.step_of_finding[finding.at()];
    const auto [begin, end] = rules_.dependents.values_asked.range(step);
    for (const auto* value = begin; value != end; ++value) {
      const ValueNode& node = rules_.programs.values[*value];
      if (node.kind == ValueNode::Kind::ratio_error) return Kind::log;
      if (node.kind != ValueNode::Kind::reading) continue;
      const bool over_visits = node.function == ReadingFunction::slope ||
                               node.function == ReadingFunction::change ||
                               node.function == ReadingFunction::step;
      if (over_visits) return Kind::earlier_values;
      kind = Kind::values;
    }
    // Out of what other findings say of the values.
    const bool from_others = any_instruction(finding, [&](const Instruction& part) {
      return part.operation == Operation::finding_holds &&
             by_readings(GroundFinding{part.a}).has_value();
    });
    return from_others ? std::optional(Kind::values) : kind;
  }

  [[nodiscard]] Kind by_checks(GroundFinding finding) const {
    const auto& checks = checks_of_[finding.at()];
    const bool one_of_many = rules_.findings.origins[finding.at()].member.has_value();
    const Kind told = one_of_many ? Kind::told_of_one : Kind::told_of_all;
    if (checks.empty()) return told;
    double nearest = 1e9;
    std::optional<Kind> scanned;
    for (const CheckOf& check : checks) {
      if (telling_.contains(check.declaration)) return told;
      if (check.gives_readings) scanned = check.gives_log ? Kind::log : Kind::values;
      nearest = std::min(nearest, minutes_to_reach(check.declaration));
    }
    if (scanned) return *scanned;
    if (nearest <= 0.0) return Kind::seen;
    return nearest <= minutes_to_the_lift ? Kind::on_lift : Kind::opened;
  }

  [[nodiscard]] double minutes_to_reach(std::uint32_t check) const {
    double minutes = 0.0;
    std::vector<rulebase::AccessId> open = rules_.rules->checks.at(check).needs;
    while (!open.empty()) {
      const rulebase::Access& access = rules_.rules->accesses.at(open.back().at());
      open.pop_back();
      minutes += access.minutes;
      open.insert(open.end(), access.needs.begin(), access.needs.end());
    }
    return minutes;
  }

  const GroundRules& rules_;
  std::vector<std::vector<CheckOf>> checks_of_;  // per ground finding
  std::set<std::uint32_t> telling_;
  std::set<std::pair<std::uint32_t, std::uint32_t>> logged_;  // readings of ratio_error
};

}  // namespace

std::string_view words_for(Kind kind) {
  switch (kind) {
    case Kind::told_of_all:
      return "what a driver tells of the whole car";
    case Kind::told_of_one:
      return "what a driver tells of one shift or gear";
    case Kind::seen:
      return "what is looked at or measured without the lift";
    case Kind::on_lift:
      return "what is seen on the lift";
    case Kind::opened:
      return "what needs the gauge or the pan off";
    case Kind::check_result:
      return "the yes or no of a single test";
    case Kind::codes:
      return "all trouble codes together";
    case Kind::values:
      return "all learned values together";
    case Kind::earlier_values:
      return "what the values of several visits say";
    case Kind::log:
      return "a drive logged in every gear";
  }
  return {};
}

std::vector<std::optional<Kind>> finding_kinds(const Shipped& shipped) {
  const KindFinder finder(shipped);
  std::vector<std::optional<Kind>> kinds(shipped.ground().findings.size());
  for (std::uint32_t f = 0; f < kinds.size(); ++f)
    if (!shipped.rules().numbers.findings[f].parents.empty())
      kinds[f] = finder.kind_of(GroundFinding{f});
  return kinds;
}

}  // namespace self_check

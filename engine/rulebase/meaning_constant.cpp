#include <cmath>
#include <limits>
#include <map>
#include <set>

#include <fmt/core.h>

#include "rulebase/canonical.h"
#include "rulebase/meaning.h"
#include "rulebase/messages.h"
#include "rulebase/uses.h"

namespace slipcase::rulebase {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

// The values for which a comparison with a constant holds.
struct Range {
  double low = -infinite;
  double high = infinite;
  bool low_open = false;
  bool high_open = false;

  [[nodiscard]] bool is_empty() const {
    return low > high || (low == high && (low_open || high_open));
  }
  void cut(const Range& other) {
    if (other.low > low || (other.low == low && other.low_open)) {
      low = other.low;
      low_open = other.low_open;
    }
    if (other.high < high || (other.high == high && other.high_open)) {
      high = other.high;
      high_open = other.high_open;
    }
  }
  /// What is left out, if that is one range too.
  [[nodiscard]] std::optional<Range> rest() const {
    if (low == -infinite && high < infinite) return Range{high, infinite, !high_open, false};
    if (high == infinite && low > -infinite) return Range{-infinite, low, false, !low_open};
    return std::nullopt;
  }
};

struct RangeOf {
  const Value* value;
  Range range;
};

std::optional<double> constant(const ValuePtr& value) {
  if (const auto* number = std::get_if<ConstantValue>(&value->node)) return number->quantity.value;
  if (const auto* date = std::get_if<DateValue>(&value->node)) {
    return static_cast<double>(date->date.days_since_1970());
  }
  return std::nullopt;
}

Range range_for(Comparison::Kind kind, double limit) {
  switch (kind) {
    case Comparison::Kind::less:
      return {-infinite, limit, false, true};
    case Comparison::Kind::less_equal:
      return {-infinite, limit, false, false};
    case Comparison::Kind::greater:
      return {limit, infinite, true, false};
    case Comparison::Kind::greater_equal:
      return {limit, infinite, false, false};
    case Comparison::Kind::equal:
      return {limit, limit, false, false};
  }
  return {};
}

Comparison::Kind turned(Comparison::Kind kind) {
  switch (kind) {
    case Comparison::Kind::less:
      return Comparison::Kind::greater;
    case Comparison::Kind::less_equal:
      return Comparison::Kind::greater_equal;
    case Comparison::Kind::greater:
      return Comparison::Kind::less;
    case Comparison::Kind::greater_equal:
      return Comparison::Kind::less_equal;
    case Comparison::Kind::equal:
      return Comparison::Kind::equal;
  }
  return kind;
}

std::optional<RangeOf> range_of(const Condition& condition) {
  if (const auto* comparison = std::get_if<Comparison>(&condition.node)) {
    const auto left = constant(comparison->left);
    const auto right = constant(comparison->right);
    if (right && !left) {
      return RangeOf{comparison->left.get(), range_for(comparison->kind, *right)};
    }
    if (left && !right) {
      return RangeOf{comparison->right.get(), range_for(turned(comparison->kind), *left)};
    }
  } else if (const auto* between = std::get_if<Between>(&condition.node)) {
    const auto low = constant(between->low);
    const auto high = constant(between->high);
    if (low && high) return RangeOf{between->value.get(), {*low, *high, false, false}};
  } else if (const auto* within = std::get_if<Within>(&condition.node)) {
    const auto distance = constant(within->distance);
    const auto centre = within->centre == nullptr ? std::optional(0.0) : constant(within->centre);
    if (distance && centre) {
      return RangeOf{within->value.get(), {*centre - *distance, *centre + *distance, false, false}};
    }
  }
  return std::nullopt;
}

// A condition or its negation, without the `not`.
struct Plain {
  const Condition* condition;
  bool negated;
};

Plain plain(const Condition& condition) {
  Plain result{&condition, false};
  while (const auto* negation = std::get_if<Not>(&result.condition->node)) {
    result = {negation->inner.get(), !result.negated};
  }
  return result;
}

/// The parts of one `and` or one `or`, put together until they exclude each other. An `or` always
/// holds if the opposites of its parts exclude each other.
class Together {
 public:
  Together(const Rulebase& rules, bool opposites) : rules_(rules), opposites_(opposites) {}

  /// False if `part` and those before can never hold together.
  bool add(const Condition& part) {
    Plain one = plain(part);
    if (opposites_) one.negated = !one.negated;
    return add_range(one) && add_word(one) && add_grade(one) && add_same(one);
  }

 private:
  bool add_range(const Plain& part) {
    const auto found = range_of(*part.condition);
    if (!found) return true;
    const auto range = part.negated ? found->range.rest() : std::optional(found->range);
    if (!range) return true;
    Range& all = ranges_[canonical_text(rules_, *found->value)];
    all.cut(*range);
    return !all.is_empty();
  }

  bool add_word(const Plain& part) {
    const auto* is = std::get_if<DetailIs>(&part.condition->node);
    if (is == nullptr) return true;
    const Detail& detail = rules_.details[is->detail.at()];
    const std::string key =
        detail.header.name + canonical_text(rules_, is->member, detail.header.scope);
    auto& possible = words_.try_emplace(key, detail.words.size(), true).first->second;
    bool any = false;
    for (std::size_t word = 0; word < possible.size(); ++word) {
      if ((word == is->word) == part.negated) possible[word] = false;
      any = any || possible[word];
    }
    return any;
  }

  bool add_grade(const Plain& part) {
    const auto* holds = std::get_if<FindingHolds>(&part.condition->node);
    if (holds == nullptr) return true;
    const Header& header = rules_.findings[holds->finding.at()].header;
    Range& all = grades_[header.name + canonical_text(rules_, holds->member, header.scope)];
    const auto grade = static_cast<double>(holds->grade);
    all.cut(part.negated ? Range{-infinite, grade, false, true}
                         : Range{grade, infinite, false, false});
    return !all.is_empty();
  }

  // Anything else only excludes its own opposite.
  bool add_same(const Plain& part) {
    const bool counted = std::holds_alternative<DetailIs>(part.condition->node) ||
                         std::holds_alternative<FindingHolds>(part.condition->node);
    if (counted) return true;
    const std::string key = canonical_text(rules_, *part.condition);
    (part.negated ? denied_ : said_).insert(key);
    return !(denied_.contains(key) && said_.contains(key));
  }

  const Rulebase& rules_;
  bool opposites_;
  std::map<std::string, Range> ranges_;
  std::map<std::string, Range> grades_;
  std::map<std::string, std::vector<bool>> words_;
  std::set<std::string> said_;
  std::set<std::string> denied_;
};

void check_parts(const Rulebase& rules, const Condition& condition,
                 const std::vector<ConditionPtr>& parts, bool is_or, Diagnostics& diagnostics) {
  Together together(rules, is_or);
  for (const ConditionPtr& part : parts) {
    if (together.add(*part)) continue;
    if (is_or) {
      diagnostics.add(always_holds, condition.place,
                      "this always holds: one of its parts is true whatever is known");
    } else {
      auto& diagnostic = diagnostics.add(
          never_holds, condition.place, "this can never hold: two of its parts exclude each other");
      diagnostic.notes.push_back({part->place, "this excludes what stands before it"});
    }
    return;
  }
}

void check_alone(const Condition& condition, Diagnostics& diagnostics) {
  if (const auto* comparison = std::get_if<Comparison>(&condition.node)) {
    const auto left = constant(comparison->left);
    const auto right = constant(comparison->right);
    if (!left || !right) return;
    Range range = range_for(comparison->kind, *right);
    range.cut({*left, *left, false, false});
    diagnostics.add(range.is_empty() ? never_holds : always_holds, condition.place,
                    range.is_empty() ? "this can never hold: it compares two fixed values"
                                     : "this always holds: it compares two fixed values");
    return;
  }
  const auto found = range_of(condition);
  if (!found || !found->range.is_empty()) return;
  diagnostics.add(never_holds, condition.place,
                  "this can never hold: no value is inside these limits");
}

}  // namespace

void warn_of_constant_conditions(const Rulebase& rules, Diagnostics& diagnostics) {
  for_each_rule_condition(rules, [&](const Header&, const Condition& condition) {
    for_each_condition(condition, [&](const Condition& part) {
      if (const auto* all = std::get_if<AllOf>(&part.node)) {
        check_parts(rules, part, all->parts, false, diagnostics);
      } else if (const auto* any = std::get_if<AnyOf>(&part.node)) {
        check_parts(rules, part, any->parts, true, diagnostics);
      } else {
        check_alone(part, diagnostics);
      }
    });
  });
}

}  // namespace slipcase::rulebase

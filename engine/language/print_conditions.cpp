// Values, conditions and references to text.
#include <array>
#include <charconv>

#include <fmt/core.h>

#include "language/print.h"
#include "language/print_parts.h"

namespace slipcase::language {

namespace {

std::string_view quantifier_text(Quantifier quantifier) {
  switch (quantifier) {
    case Quantifier::each:
      return "each";
    case Quantifier::every:
      return "every";
    case Quantifier::any:
      return "any";
    case Quantifier::no:
      return "no";
    case Quantifier::at_least_count:
    case Quantifier::at_least_share:
      return "at least";
  }
  return "";
}

std::string_view comparator_text(Comparator comparator) {
  switch (comparator) {
    case Comparator::less:
      return "<";
    case Comparator::less_equal:
      return "<=";
    case Comparator::greater:
      return ">";
    case Comparator::greater_equal:
      return ">=";
    case Comparator::equal:
      return "=";
  }
  return "";
}

std::string_view maybe_not(bool negated) { return negated ? "not " : ""; }

bool is_chain(const Condition& condition) {
  return std::holds_alternative<And>(condition.node) || std::holds_alternative<Or>(condition.node);
}

/// As one operand: in parentheses if it would otherwise fall apart.
std::string operand_text(const Condition& condition) {
  return is_chain(condition) ? "( " + print(condition) + " )" : print(condition);
}

std::string negated_text(const Not& negation) {
  const bool wrap = is_chain(*negation.inner) || std::holds_alternative<Not>(negation.inner->node);
  return wrap ? "not ( " + print(*negation.inner) + " )" : "not " + print(*negation.inner);
}

std::string code_text(const CodeTest& test) {
  std::string text = test.pending ? "pending " : "stored ";
  if (const Path* path = std::get_if<Path>(&test.code)) return text + path_text(*path);
  text += std::get<Word>(test.code).text;
  return test.last ? text + " to " + test.last->text : text;
}

std::string happened_text(const Happened& happened) {
  std::string text = happened.on_card ? "on card " : "happened ";
  text += event_text(happened.event);
  return happened.since ? text + " since " + event_text(*happened.since) : text;
}

}  // namespace

std::string quoted(std::string_view text) {
  const bool straight_inside = text.find('"') != std::string_view::npos;
  return straight_inside ? fmt::format("“{}”", text) : fmt::format("\"{}\"", text);
}

std::string number_text(double value) {
  // The largest double has 309 digits, the smallest some 1075 behind the point.
  std::array<char, 1200> digits{};
  const auto end =
      std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed);
  return {digits.data(), end.ptr};
}

std::string quantity_text(const QuantityLiteral& quantity) {
  std::string text = number_text(quantity.number.value);
  return quantity.unit ? text + " " + quantity.unit->text : text;
}

std::string selection_text(const Selection& selection) {
  std::string text(quantifier_text(selection.quantifier));
  if (selection.amount) text += " " + number_text(selection.amount->value);
  if (selection.quantifier == Quantifier::at_least_share) text += " % of";
  if (selection.other) text += " other";
  text += " " + selection.scope.text;
  if (selection.mark) {
    const bool many = selection.quantifier == Quantifier::at_least_count ||
                      selection.quantifier == Quantifier::at_least_share;
    text += fmt::format(" that {} {}{}", many ? "are" : "is", maybe_not(selection.mark->negated),
                        selection.mark->mark.text);
  }
  if (const auto& relation = selection.relation) {
    text += fmt::format(" {}{} {}", maybe_not(relation->negated), relation->relation.text,
                        relation->term.text);
  }
  return text;
}

std::string print(const Reference& reference) {
  if (!reference.target) return reference.name.text;
  const auto target =
      std::visit(Overloaded{[](const Word& word) { return word.text; },
                            [](const Selection& selection) { return selection_text(selection); }},
                 *reference.target);
  return reference.name.text + " of " + target;
}

std::string path_text(const Path& path) {
  std::string text = list_text(path.words, " of ", [](const Word& word) { return word.text; });
  return path.selection ? text + " of " + selection_text(*path.selection) : text;
}

std::string hand_text(Hand hand) {
  switch (hand) {
    case Hand::anyone:
      return "";
    case Hand::us:
      return " by us";
    case Hand::others:
      return " by others";
  }
  return "";
}

std::string event_text(const EventUse& use) { return print(use.event) + hand_text(use.by); }

std::string value_text(const Value& value) {
  return std::visit(
      Overloaded{
          [](const QuantityLiteral& quantity) { return quantity_text(quantity); },
          [](const DateLiteral& date) { return date.text; },
          [](const ZeroLiteral&) { return std::string("zero"); },
          [](const Path& path) { return path_text(path); },
          [](const SinceValue& since) {
            return (since.distance ? "distance since " : "time since ") + event_text(since.event);
          },
          [](const Difference& difference) {
            return value_text(*difference.from) + " minus " + value_text(*difference.subtract);
          },
          [](const Quotient& quotient) {
            return value_text(*quotient.over) + " per " + value_text(*quotient.under);
          },
      },
      value.node);
}

std::string print(const Condition& condition) {
  return std::visit(
      Overloaded{
          [](const Holds& holds) {
            const std::string path = path_text(holds.path);
            return holds.at_least ? path + " at least " + holds.at_least->text : path;
          },
          [](const Not& negation) { return negated_text(negation); },
          [](const And& all) { return list_text(all.parts, " and ", operand_text); },
          [](const Or& any) { return list_text(any.parts, " or ", operand_text); },
          [](const Quantified& quantified) {
            return fmt::format("{} ( {} )", selection_text(quantified.selection),
                               print(*quantified.inner));
          },
          [](const Comparison& comparison) {
            return fmt::format("{} {} {}", value_text(comparison.left),
                               comparator_text(comparison.comparator),
                               value_text(comparison.right));
          },
          [](const Between& between) {
            return fmt::format("{} between {} and {}", value_text(between.value),
                               value_text(between.low), value_text(between.high));
          },
          [](const Within& within) {
            return fmt::format("{} within {} of {}", value_text(within.value),
                               value_text(within.distance), value_text(within.centre));
          },
          [](const IsWord& test) {
            return fmt::format("{} is {}{}", path_text(test.path), maybe_not(test.negated),
                               test.word.text);
          },
          [](const IsKnown& test) {
            return fmt::format("{} is {}known", path_text(test.path), maybe_not(test.negated));
          },
          [](const CodeTest& test) { return code_text(test); },
          [](const Happened& happened) { return happened_text(happened); },
          [](const SoonAfter& soon) {
            return fmt::format("{} at most {} after {}", event_text(soon.later),
                               quantity_text(soon.at_most), event_text(soon.earlier));
          },
      },
      condition.node);
}

}  // namespace slipcase::language

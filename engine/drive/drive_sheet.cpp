#include "drive/drive_sheet.h"

#include <algorithm>

#include <fmt/core.h>

#include "drive/before_driving.h"
#include "drive/preconditions.h"
#include "units/quantity.h"

namespace slipcase::drive {

namespace {

using evaluation::ReadingFact;

std::optional<DriveRange> range(const std::optional<profile::Window>& window, double factor) {
  if (!window) return std::nullopt;
  return DriveRange{window->low * factor, window->high * factor};
}

std::optional<double> seconds(const std::optional<double>& milliseconds) {
  if (!milliseconds) return std::nullopt;
  return *milliseconds / 1000.0;
}

SheetManoeuvre sheet_of(const profile::Manoeuvre& manoeuvre, const profile::Profile& unit) {
  SheetManoeuvre sheet;
  sheet.name = manoeuvre.name;
  sheet.says = manoeuvre.says;
  sheet.path = manoeuvre.path;
  for (const auto shift : manoeuvre.shifts) sheet.shifts.push_back(unit.shifts[shift.at()].name);
  sheet.speed = range(manoeuvre.speed, km_per_hour(1.0));
  sheet.pedal = range(manoeuvre.pedal, 100.0);
  sheet.fluid = range(manoeuvre.fluid, 1.0);
  sheet.hold = seconds(manoeuvre.hold);
  sheet.standing = manoeuvre.standing;
  sheet.repeats = manoeuvre.repeats;
  sheet.takes = seconds(manoeuvre.takes);
  const auto& elements = unit.vocabulary.scope(unit.element_scope).members;
  for (const auto element : manoeuvre.teaches) sheet.teaches.push_back(elements[element.at()]);
  return sheet;
}

/// The newest value of each reading of an element that is not learned or beyond its watch line.
class Needs {
 public:
  explicit Needs(const CardFacts& card) : rules_(card.rules()), facts_(card.facts()) {}

  [[nodiscard]] std::string of(profile::ScopeId elements, profile::MemberId element) const {
    std::string all;
    for (std::uint32_t r = 0; r < rules_.readings.size(); ++r) {
      const grounding::GroundReading reading{r};
      if (rules_.scope_of(reading) != elements || rules_.readings.origins[r].member != element)
        continue;
      const std::string one = why(reading);
      if (!one.empty()) all += (all.empty() ? "" : ", ") + one;
    }
    return all;
  }

 private:
  [[nodiscard]] std::string why(grounding::GroundReading reading) const {
    const auto& bounds = rules_.bounds[reading.at()];
    const ReadingFact* newest = newest_of(reading);
    if (newest == nullptr || !bounds) return {};
    const auto& declared =
        rules_.rules->readings[rules_.readings.origins[reading.at()].declaration];
    if (newest->said == ReadingFact::Said::not_learned) {
      return fmt::format("{} not learned", declared.header.name);
    }
    const double value = newest->value;
    if (bounds->low_watch < value && value < bounds->high_watch) return {};
    return fmt::format("{} {}", declared.header.name, units::to_text({value, declared.dimension}));
  }

  [[nodiscard]] const ReadingFact* newest_of(grounding::GroundReading reading) const {
    for (std::size_t s = facts_.snapshots.size(); s-- > 0;) {
      const ReadingFact& fact = facts_.reading(reading, s);
      if (fact.said != ReadingFact::Said::nothing) return &fact;
    }
    return nullptr;
  }

  const grounding::GroundRules& rules_;
  const evaluation::JobFacts& facts_;
};

std::vector<SheetElement> elements_of(const CardFacts& card, const profile::Profile& unit,
                                      const profile::Procedure& procedure) {
  std::vector<SheetElement> elements;
  const Needs needs(card);
  const auto& names = unit.vocabulary.scope(unit.element_scope).members;
  for (std::uint32_t i = 0; i < names.size(); ++i) {
    SheetElement element{names[i], {}, needs.of(unit.element_scope, {i})};
    for (const profile::Manoeuvre& one : procedure.manoeuvres) {
      if (std::ranges::find(one.teaches, profile::MemberId{i}) != one.teaches.end())
        element.taught_by.push_back(one.name);
    }
    elements.push_back(std::move(element));
  }
  return elements;
}

}  // namespace

double km_per_hour(double metres_per_second) { return metres_per_second * 3.6; }

DriveSheet drive_sheet(const CardFacts& card, const evaluation::Evaluation& states,
                       const profile::Profile& unit, const profile::Procedure& procedure) {
  DriveSheet sheet;
  sheet.procedure = procedure.name;
  sheet.title = procedure.title;
  sheet.note = procedure.note;
  sheet.fluid = range(procedure.fluid, 1.0);
  sheet.events = procedure.events;
  sheet.first = before_driving(card, states);
  sheet.before = preconditions(card, unit, procedure, Asked::before_drive);
  sheet.elements = elements_of(card, unit, procedure);
  for (const profile::Manoeuvre& one : procedure.manoeuvres) {
    sheet.manoeuvres.push_back(sheet_of(one, unit));
    sheet.takes += one.takes.value_or(0.0) / 1000.0 * one.repeats;
  }
  return sheet;
}

}  // namespace slipcase::drive

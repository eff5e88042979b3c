#include "drive/manoeuvre_counts.h"

#include <algorithm>
#include <bit>

namespace slipcase::drive {

namespace {

using profile::Manoeuvre;

constexpr Faults not_a_part = fault(NotCounted::not_in_procedure);

void add_not_counted(std::vector<NotCountedTimes>& list, NotCounted why, const DriveLog& log,
                     std::size_t row) {
  const auto found = std::ranges::find(list, why, &NotCountedTimes::why);
  if (found != list.end()) {
    ++found->times;
    return;
  }
  list.push_back({why, 1, log.time[row] / 1000.0, log.line[row]});
}

bool teaches(const Manoeuvre& manoeuvre, profile::MemberId element) {
  return std::ranges::find(manoeuvre.teaches, element) != manoeuvre.teaches.end();
}

void most_frequent_first(std::vector<NotCountedTimes>& list) {
  std::ranges::stable_sort(list, std::ranges::greater{}, &NotCountedTimes::times);
}

/// Of the manoeuvres that teach the element and that the shift could have been a part of, the one
/// it came nearest to.
Faults best_faults(const ShiftEvent& event, profile::MemberId element,
                   const profile::Procedure& procedure) {
  Faults best = not_a_part;
  for (std::size_t i = 0; i < event.faults.size(); ++i) {
    const Faults faults = event.faults[i];
    if (faults == not_a_part || !teaches(procedure.manoeuvres[i], element)) continue;
    if (best == not_a_part || std::popcount(faults) < std::popcount(best)) best = faults;
  }
  return best;
}

bool is_taught(const profile::Procedure& procedure, profile::MemberId element) {
  return std::ranges::any_of(procedure.manoeuvres,
                             [&](const Manoeuvre& one) { return teaches(one, element); });
}

/// Follows one manoeuvre along its path through all shifts of the drive.
class PathCounter {
 public:
  PathCounter(const Manoeuvre& manoeuvre, std::size_t index, const DriveLog& log,
              const profile::Profile& unit, ManoeuvreTimes& times)
      : manoeuvre_(manoeuvre), index_(index), log_(log), unit_(unit), times_(times) {}

  void take(const ShiftEvent& event) {
    const Faults faults = event.faults[index_];
    const std::size_t from = place(event.from);
    const std::size_t to = place(event.to);
    if (faults == not_a_part || from == nowhere || to == nowhere) {
      at_ = nowhere;
      return;
    }
    if (from == 0) start(event);
    if (at_ != from) {
      at_ = nowhere;
      return;
    }
    if (faults_ == 0) first_row_ = event.first_row;
    faults_ |= faults;
    at_ = to;
    if (to + 1 == manoeuvre_.path.size()) end();
  }

 private:
  static constexpr std::size_t nowhere = static_cast<std::size_t>(-1);

  [[nodiscard]] std::size_t place(GearCode gear) const {
    const auto found = std::ranges::find(manoeuvre_.path, gear_name(unit_, gear));
    if (found == manoeuvre_.path.end()) return nowhere;
    return static_cast<std::size_t>(found - manoeuvre_.path.begin());
  }

  void start(const ShiftEvent& event) {
    at_ = 0;
    faults_ = 0;
    first_row_ = event.first_row;
  }

  void end() {
    if (faults_ == 0) {
      ++times_.counted;
    } else {
      add_not_counted(times_.not_counted, first_of(faults_), log_, first_row_);
    }
    at_ = nowhere;
  }

  const Manoeuvre& manoeuvre_;
  std::size_t index_;
  const DriveLog& log_;
  const profile::Profile& unit_;
  ManoeuvreTimes& times_;
  std::size_t at_ = nowhere;  // how far along the path
  Faults faults_ = 0;
  std::size_t first_row_ = 0;  // where it first went wrong, or began
};

void count_single_shifts(const std::vector<ShiftEvent>& events, std::size_t index,
                         const DriveLog& log, ManoeuvreTimes& times) {
  for (const ShiftEvent& event : events) {
    const Faults faults = event.faults[index];
    if (faults == 0) {
      ++times.counted;
    } else if (faults != not_a_part) {
      add_not_counted(times.not_counted, first_of(faults), log, event.first_row);
    }
  }
}

void count_holds(const Manoeuvre& manoeuvre, const GearTrack& track, const LogRows& rows,
                 const profile::Profile& unit, ManoeuvreTimes& times) {
  for (const Stretch& stretch : track.stretches) {
    if (gear_name(unit, stretch.gear) != manoeuvre.path.front()) continue;
    times.counted += rows.held(manoeuvre, stretch).whole;
  }
}

}  // namespace

std::vector<ElementEvents> count_elements(const std::vector<ShiftEvent>& events,
                                          const DriveLog& log, const profile::Profile& unit,
                                          const profile::Procedure& procedure) {
  const auto& names = unit.vocabulary.scope(unit.element_scope).members;
  std::vector<ElementEvents> elements;
  for (std::uint32_t i = 0; i < names.size(); ++i) {
    elements.push_back({names[i], 0, is_taught(procedure, {i}) ? procedure.events : 0U, {}});
  }
  for (const ShiftEvent& event : events) {
    if (!event.shift) continue;
    for (const profile::MemberId element : unit.shifts[event.shift->at()].applies) {
      const Faults faults = best_faults(event, element, procedure);
      ElementEvents& counts = elements[element.at()];
      if (faults == 0) {
        ++counts.counted;
      } else {
        add_not_counted(counts.not_counted, first_of(faults), log, event.first_row);
      }
    }
  }
  for (ElementEvents& one : elements) most_frequent_first(one.not_counted);
  return elements;
}

std::vector<ManoeuvreTimes> count_manoeuvres(const std::vector<ShiftEvent>& events,
                                             const GearTrack& track, const LogRows& rows,
                                             const DriveLog& log, const profile::Profile& unit,
                                             const profile::Procedure& procedure) {
  std::vector<ManoeuvreTimes> all;
  for (std::size_t i = 0; i < procedure.manoeuvres.size(); ++i) {
    const Manoeuvre& manoeuvre = procedure.manoeuvres[i];
    if (!manoeuvre.is_checked()) continue;
    ManoeuvreTimes times{manoeuvre.name, manoeuvre.says, 0, manoeuvre.repeats, {}};
    if (manoeuvre.path.size() == 1) {
      count_holds(manoeuvre, track, rows, unit, times);
    } else if (manoeuvre.path.empty()) {
      count_single_shifts(events, i, log, times);
    } else {
      PathCounter counter(manoeuvre, i, log, unit, times);
      for (const ShiftEvent& event : events) counter.take(event);
    }
    most_frequent_first(times.not_counted);
    all.push_back(std::move(times));
  }
  return all;
}

}  // namespace slipcase::drive

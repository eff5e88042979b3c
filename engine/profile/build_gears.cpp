#include "profile/build_gears.h"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "profile/messages.h"
#include "profile/wording.h"

namespace slipcase::profile {

namespace {

// Ratios are published with three decimals, some cut instead of rounded.
constexpr double ratio_tolerance = 0.0006;

/// One row of the chart with its elements looked up.
struct Row {
  const ChartRow* draft = nullptr;
  std::vector<MemberId> applied;
  std::vector<MemberId> carrying;
  bool complete = true;  // every element was known
};

std::vector<Joint> joints_of(const std::vector<MemberId>& elements, const Train& train) {
  std::vector<Joint> joints;
  for (const MemberId element : elements) joints.push_back(train.joints[element.at()]);
  return joints;
}

class ChartBuilder {
 public:
  ChartBuilder(const Train& train, ScopeId element_scope, VocabularyBuilder& vocabulary)
      : train_(train),
        element_scope_(element_scope),
        vocabulary_(vocabulary),
        element_count_(vocabulary.vocabulary().scope(element_scope).members.size()) {}

  [[nodiscard]] Row look_up(const ChartRow& draft) {
    std::vector<Scalar> names;
    for (const ChartEntry& entry : draft.entries) names.push_back(entry.element);
    Row row{&draft, vocabulary_.members(element_scope_, names), {}, true};
    row.complete = row.applied.size() == names.size();
    if (!row.complete) return row;
    for (std::size_t i = 0; i < draft.entries.size(); ++i) {
      if (draft.entries[i].carries) row.carrying.push_back(row.applied[i]);
    }
    return row;
  }

  [[nodiscard]] GearRow gear(const Row& row) {
    GearRow result;
    result.held = row.applied;
    Gear& gear = result.gear;
    gear.name = row.draft->gear.text;
    gear.elements = row.applied;
    gear.torque_share.assign(element_count_, 0.0);
    gear.speed_across.resize(element_count_);
    const std::vector<Joint> held = joints_of(row.carrying, train_);
    const Motion motion = train_.gears.motion(held);
    if (!row.complete || !holds_one_ratio(row, motion)) return result;
    gear.ratio = motion.ratio;
    for (std::size_t element = 0; element < element_count_; ++element) {
      const auto across = profile::speed_across(motion, train_.joints[element]);
      if (across) gear.speed_across[element] = across->turbine;
    }
    for (std::size_t i = 0; i < row.carrying.size(); ++i) {
      add_load(row, row.carrying[i], train_.gears.slip(held, i), gear);
    }
    return result;
  }

  [[nodiscard]] GearRow neutral(const Row& row) {
    if (row.complete && train_.gears.motion(joints_of(row.applied, train_)).hold != Hold::loose) {
      report(neutral_holds, row,
             fmt::format("in neutral the output must be free of the turbine, but {} hold the "
                         "train; list what stays filled at a standstill",
                         elements_of(row)));
    }
    GearRow result;
    result.held = row.applied;
    result.gear.name = row.draft->gear.text;
    result.gear.elements = row.applied;
    return result;
  }

 private:
  void report(const Message& message, const Row& row, std::string_view text) {
    vocabulary_.diagnostics().add(message, row.draft->gear.place, text);
  }

  [[nodiscard]] const std::string& name_of(MemberId element) const {
    return vocabulary_.vocabulary().scope(element_scope_).members[element.at()];
  }

  [[nodiscard]] std::string elements_of(const Row& row) const {
    std::vector<std::string> names;
    for (const MemberId element : row.carrying) names.push_back(name_of(element));
    std::string text;
    for (const std::string& name : names)
      text += fmt::format("{}`{}`", text.empty() ? "" : " + ", name);
    return text.empty() ? "no element" : text;
  }

  /// Also with the elements that are filled and carry nothing: they must not change anything.
  bool holds_one_ratio(const Row& row, const Motion& motion) {
    const std::string& name = row.draft->gear.text;
    switch (motion.hold) {
      case Hold::loose:
        report(gear_loose, row,
               fmt::format("gear `{}` is loose: with {} the output is free of the turbine; an "
                           "element is missing or a shaft is wrong",
                           name, elements_of(row)));
        return false;
      case Hold::turbine_locked:
      case Hold::output_locked:
        report(gear_locked, row,
               fmt::format("gear `{}` is locked: with {} the {} cannot turn; an element is too "
                           "many or wrong, or a shaft is wrong",
                           name, elements_of(row),
                           motion.hold == Hold::turbine_locked ? "turbine" : "output"));
        return false;
      case Hold::one_ratio:
        break;
    }
    if (train_.gears.motion(joints_of(row.applied, train_)).hold == Hold::one_ratio) return true;
    report(gear_locked, row,
           fmt::format("gear `{}` is locked by an element in parentheses, which should carry "
                       "nothing",
                       name));
    return false;
  }

  void add_load(const Row& row, MemberId element, const std::optional<Speed>& slip, Gear& gear) {
    if (!slip) {
      report(gear_element_idle, row,
             fmt::format("gear `{0}` has its ratio without `{1}` too, so nobody can say what it "
                         "carries; if it is filled but carries nothing write `({1})`",
                         gear.name, name_of(element)));
      return;
    }
    // Held back under power: the shaft would turn backwards, and the one-way clutch stops that.
    if (train_.one_way_clutch[element.at()] && slip->turbine < 0.0) {
      std::erase(gear.elements, element);
      return;
    }
    gear.torque_share[element.at()] = torque_share(*slip);
    gear.slip.push_back({element, slip->turbine, slip->output});
  }

  const Train& train_;
  ScopeId element_scope_;
  VocabularyBuilder& vocabulary_;
  std::size_t element_count_;
};

void check_no_twins(const Chart& chart, const std::vector<ChartRow>& rows,
                    Diagnostics& diagnostics) {
  const auto sorted = [](std::vector<MemberId> elements) {
    std::sort(elements.begin(), elements.end());
    return elements;
  };
  for (std::size_t later = 1; later < chart.gears.size(); ++later) {
    for (std::size_t earlier = 0; earlier < later; ++earlier) {
      const GearRow& one = chart.gears[earlier];
      const GearRow& other = chart.gears[later];
      if (other.held.empty() || sorted(one.held) != sorted(other.held)) continue;
      const auto row = std::find_if(rows.begin(), rows.end(), [&](const ChartRow& candidate) {
        return candidate.gear.text == other.gear.name;
      });
      diagnostics.add(gear_twice, row->gear.place,
                      fmt::format("gears `{}` and `{}` have the same elements", one.gear.name,
                                  other.gear.name));
    }
  }
}

void check_ratios(const Chart& chart, const std::vector<StatedRatio>& stated,
                  Diagnostics& diagnostics) {
  std::vector<std::string> names;
  for (const GearRow& row : chart.gears) names.push_back(row.gear.name);
  for (const StatedRatio& one : stated) {
    const auto found = std::find(names.begin(), names.end(), one.gear.text);
    if (found == names.end()) {
      diagnostics.add(unknown_member, one.gear.place,
                      fmt::format("the chart has no gear `{}`{}", one.gear.text,
                                  near_or_all(one.gear.text, names)));
      continue;
    }
    const double computed = chart.gears[static_cast<std::size_t>(found - names.begin())].gear.ratio;
    if (computed == 0.0 || std::abs(computed - one.ratio.value) <= ratio_tolerance) continue;
    diagnostics.add(ratio_differs, one.ratio.place,
                    fmt::format("gear `{}` is stated as {:.4g}, but the gear train gives {:.4f}; "
                                "one of tooth counts, chart and ratio is wrong",
                                one.gear.text, one.ratio.value, computed));
  }
}

void check_all_used(const Chart& chart, const std::vector<ElementDraft>& elements,
                    Diagnostics& diagnostics) {
  for (std::uint32_t element = 0; element < elements.size(); ++element) {
    const bool used = std::any_of(chart.gears.begin(), chart.gears.end(), [&](const GearRow& row) {
      return std::find(row.held.begin(), row.held.end(), MemberId{element}) != row.held.end();
    });
    if (used) continue;
    diagnostics.add(element_unused, elements[element].name.place,
                    fmt::format("no gear of the chart uses `{}`", elements[element].name.text));
  }
}

}  // namespace

Chart build_chart(const ProfileDraft& draft, const Train& train, ScopeId element_scope,
                  VocabularyBuilder& vocabulary) {
  ChartBuilder builder(train, element_scope, vocabulary);
  Chart chart;
  for (const ChartRow& one : draft.chart) {
    const Row row = builder.look_up(one);
    if (one.gear.text == neutral_row) {
      chart.neutral = builder.neutral(row);
    } else {
      chart.gears.push_back(builder.gear(row));
    }
  }
  check_no_twins(chart, draft.chart, vocabulary.diagnostics());
  check_ratios(chart, draft.ratios, vocabulary.diagnostics());
  check_all_used(chart, draft.elements, vocabulary.diagnostics());
  return chart;
}

}  // namespace slipcase::profile

#include "profile/build_shifts.h"

#include <algorithm>

#include <fmt/core.h>

#include "profile/messages.h"
#include "support/suggest.h"

namespace slipcase::profile {

namespace {

using Elements = std::vector<MemberId>;

bool contains(const Elements& elements, MemberId element) {
  return std::find(elements.begin(), elements.end(), element) != elements.end();
}

Elements without(const Elements& elements, const Elements& others) {
  Elements rest;
  std::copy_if(elements.begin(), elements.end(), std::back_inserter(rest),
               [&](MemberId element) { return !contains(others, element); });
  return rest;
}

/// By chart: one element is swapped for one other, whether a one-way clutch does its work or not.
bool is_single_swap(const GearRow& from, const GearRow& to) {
  return without(to.held, from.held).size() == 1 && without(from.held, to.held).size() == 1;
}

struct Ends {
  const GearRow* from = nullptr;
  const GearRow* to = nullptr;
};

class ShiftBuilder {
 public:
  ShiftBuilder(const Chart& chart, ScopeId element_scope, VocabularyBuilder& vocabulary)
      : chart_(chart), element_scope_(element_scope), vocabulary_(vocabulary) {
    for (const GearRow& row : chart.gears) {
      if (row.gear.ratio > 0.0) forward_.push_back(&row);
    }
    std::stable_sort(forward_.begin(), forward_.end(), [](const GearRow* a, const GearRow* b) {
      return a->gear.ratio > b->gear.ratio;
    });
  }

  void add_listed(const ShiftDraft& draft) {
    const auto ends = ends_of(draft.name);
    if (!ends) return;
    Shift shift = shift_between(*ends, draft.name.text);
    // Into neutral nothing comes on, and into a gear that a one-way clutch holds it need not.
    const bool may_apply_nothing =
        ends->to == neutral() || ends->to->held.size() != ends->to->gear.elements.size();
    if (shift.applies.empty() && !may_apply_nothing) {
      vocabulary_.diagnostics().add(
          shift_applies_nothing, draft.name.place,
          fmt::format("the shift `{}` applies no element: by the chart its gears differ only in "
                      "what is released",
                      draft.name.text));
    }
    check(draft.applies, shift.applies, "applies", draft.name);
    check(draft.releases, shift.releases, "releases", draft.name);
    check(draft.holds, shift.holds, "holds", draft.name);
    add(*ends, std::move(shift), draft.name);
  }

  void add_single_swaps() {
    for (const GearRow* from : forward_) {
      for (const GearRow* to : forward_) add_swap({from, to}, true);
    }
    for (auto from = forward_.rbegin(); from != forward_.rend(); ++from) {
      for (auto to = forward_.rbegin(); to != forward_.rend(); ++to) add_swap({*from, *to}, false);
    }
    if (!chart_.neutral) return;
    if (!forward_.empty()) add_engagement(*forward_.front());
    const auto reverse = std::min_element(
        chart_.gears.begin(), chart_.gears.end(),
        [](const GearRow& a, const GearRow& b) { return a.gear.ratio < b.gear.ratio; });
    if (reverse != chart_.gears.end() && reverse->gear.ratio < 0.0) add_engagement(*reverse);
  }

  [[nodiscard]] Shifts finish() { return std::move(shifts_); }

 private:
  [[nodiscard]] const GearRow* neutral() const {
    return chart_.neutral ? &*chart_.neutral : nullptr;
  }

  [[nodiscard]] const GearRow* row(std::string_view name) const {
    if (chart_.neutral && name == neutral_row) return neutral();
    const auto found = std::find_if(chart_.gears.begin(), chart_.gears.end(),
                                    [&](const GearRow& one) { return one.gear.name == name; });
    return found == chart_.gears.end() ? nullptr : &*found;
  }

  std::optional<Ends> ends_of(const Scalar& name) {
    const std::string_view text = name.text;
    for (std::size_t dash = text.find('-'); dash != std::string_view::npos;
         dash = text.find('-', dash + 1)) {
      const Ends ends{row(text.substr(0, dash)), row(text.substr(dash + 1))};
      if (ends.from != nullptr && ends.to != nullptr && ends.from != ends.to) return ends;
    }
    std::vector<std::string> gears;
    if (chart_.neutral) gears.emplace_back(neutral_row);
    for (const GearRow& one : chart_.gears) gears.push_back(one.gear.name);
    vocabulary_.diagnostics().add(
        shift_shape, name.place,
        fmt::format("`{}` is no shift from one gear of the chart to another, written like `1-2`; "
                    "the chart has {}",
                    name.text, quoted_list(gears)));
    return std::nullopt;
  }

  static Shift shift_between(const Ends& ends, std::string name) {
    const Elements& from = ends.from->gear.elements;
    const Elements& to = ends.to->gear.elements;
    const Elements applies = without(to, from);
    return {std::move(name), ends.from->gear.name, ends.to->gear.name,
            applies,         without(from, to),    without(to, applies)};
  }

  void add_swap(const Ends& ends, bool up) {
    if (is_single_swap(*ends.from, *ends.to) && is_up(ends) == up) add_computed(ends);
  }

  void add_engagement(const GearRow& to) { add_computed({neutral(), &to}); }

  void add_computed(const Ends& ends) {
    const Scalar name = own_word(ends.from->gear.name + "-" + ends.to->gear.name);
    add(ends, shift_between(ends, name.text), name);
  }

  void add(const Ends& ends, Shift shift, const Scalar& name) {
    shifts_.kinds.push_back(kind_of(ends));
    shifts_.shifts.push_back(std::move(shift));
    shifts_.names.push_back(name);
  }

  static bool is_up(const Ends& ends) { return ends.to->gear.ratio < ends.from->gear.ratio; }

  [[nodiscard]] ShiftKind kind_of(const Ends& ends) const {
    ShiftKind kind;
    kind.engagement = ends.from == neutral();
    const auto from = std::find(forward_.begin(), forward_.end(), ends.from);
    const auto to = std::find(forward_.begin(), forward_.end(), ends.to);
    if (from == forward_.end() || to == forward_.end()) return kind;
    kind.up = to > from;
    kind.down = from > to;
    kind.skips_a_gear = std::abs(to - from) > 1;
    return kind;
  }

  void check(const std::optional<std::vector<Scalar>>& stated, const Elements& computed,
             std::string_view verb, const Scalar& shift) {
    if (!stated) return;
    Elements named = vocabulary_.members(element_scope_, *stated);
    Elements expected = computed;
    std::sort(named.begin(), named.end());
    std::sort(expected.begin(), expected.end());
    if (named == expected || named.size() != stated->size()) return;
    std::vector<std::string> names;
    for (const MemberId element : computed) {
      names.push_back(vocabulary_.vocabulary().scope(element_scope_).members[element.at()]);
    }
    const Place place = stated->empty() ? shift.place : stated->front().place;
    vocabulary_.diagnostics().add(shift_differs, place,
                                  fmt::format("by the chart the shift `{}` {} {}", shift.text, verb,
                                              names.empty() ? "nothing" : quoted_list(names)));
  }

  const Chart& chart_;
  ScopeId element_scope_;
  VocabularyBuilder& vocabulary_;
  std::vector<const GearRow*> forward_;  // lowest gear (highest ratio) first
  Shifts shifts_;
};

}  // namespace

Shifts build_shifts(const ProfileDraft& draft, const Chart& chart, ScopeId element_scope,
                    VocabularyBuilder& vocabulary) {
  ShiftBuilder builder(chart, element_scope, vocabulary);
  if (const auto* listed = std::get_if<std::vector<ShiftDraft>>(&draft.shifts)) {
    for (const ShiftDraft& shift : *listed) builder.add_listed(shift);
  } else {
    builder.add_single_swaps();
  }
  return builder.finish();
}

}  // namespace slipcase::profile

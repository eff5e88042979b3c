#include <cmath>

#include <fmt/core.h>

#include "facts/document_messages.h"
#include "profile/messages.h"
#include "profile/read_draft.h"
#include "profile/wording.h"

namespace slipcase::profile {

using facts::MapReader;
using facts::Node;

namespace {

// A gear has between a handful and some hundreds of teeth, whatever the unit.
constexpr std::uint64_t fewest_teeth = 5;
constexpr std::uint64_t most_teeth = 1000;
constexpr double most_ring_to_sun = 100.0;

struct KindName {
  std::string_view name;
  SetKind kind;
};
constexpr KindName kinds[] = {{"simple", SetKind::simple},
                              {"double_planet", SetKind::double_planet},
                              {"double_sun", SetKind::double_sun}};

/// Names of the suns in a set of this kind; the second is empty where there is only one.
std::pair<std::string, std::string> sun_names(SetKind kind) {
  if (kind == SetKind::double_sun) return {"small_sun", "large_sun"};
  return {"sun", ""};
}

class SetReader {
 public:
  SetReader(const Scalar& name, MapReader& map, Diagnostics& diagnostics)
      : what_(fmt::format("the set `{}`", name.text)), map_(map), diagnostics_(diagnostics) {
    set_.name = name;
  }

  SetDraft read() {
    read_kind();
    suns_ = sun_names(set_.kind);
    if (const Node* shafts = map_.required("shafts")) read_shafts(*shafts);
    const Node* teeth = map_.optional("teeth");
    if (teeth != nullptr) read_teeth(*teeth);
    read_ratios(teeth != nullptr);
    if (const Node* planets = map_.optional("planets")) read_planets(*planets, teeth != nullptr);
    map_.finish();
    return set_;
  }

 private:
  [[nodiscard]] bool has_two_suns() const { return !suns_.second.empty(); }

  void read_kind() {
    const Node* node = map_.required("kind");
    const auto kind =
        node != nullptr ? facts::read_scalar(*node, "`kind`", diagnostics_) : std::nullopt;
    if (!kind) return;
    std::vector<std::string> names;
    for (const KindName& one : kinds) {
      if (one.name == kind->text) {
        set_.kind = one.kind;
        return;
      }
      names.emplace_back(one.name);
    }
    diagnostics_.add(
        set_shape, kind->place,
        fmt::format("`{}` is no kind of set{}", kind->text, near_or_all(kind->text, names)));
  }

  void read_shaft(MapReader& shafts, std::string_view part, Scalar& into) {
    const Node* node = shafts.required(part);
    if (node == nullptr) return;
    if (auto shaft = facts::read_scalar(*node, fmt::format("`{}`", part), diagnostics_)) {
      into = std::move(*shaft);
    }
  }

  void read_shafts(const Node& node) {
    auto shafts = MapReader::of(node, "`shafts` of " + what_, diagnostics_);
    if (!shafts) return;
    read_shaft(*shafts, suns_.first, set_.sun);
    if (has_two_suns()) read_shaft(*shafts, suns_.second, set_.large_sun.emplace());
    read_shaft(*shafts, "ring", set_.ring);
    read_shaft(*shafts, "carrier", set_.carrier);
    shafts->finish();
  }

  std::uint64_t read_count(MapReader& teeth, std::string_view part) {
    const Node* node = teeth.required(part);
    if (node == nullptr) return 0;
    const auto count = facts::read_whole_number(*node, diagnostics_);
    if (!count) return 0;
    if (*count >= fewest_teeth && *count <= most_teeth) return *count;
    diagnostics_.add(impossible_number, node->place,
                     fmt::format("{} teeth are impossible, expected {} to {}", *count, fewest_teeth,
                                 most_teeth));
    return 0;
  }

  void read_teeth(const Node& node) {
    auto teeth = MapReader::of(node, "`teeth` of " + what_, diagnostics_);
    if (!teeth) return;
    sun_teeth_ = read_count(*teeth, suns_.first);
    if (has_two_suns()) large_sun_teeth_ = read_count(*teeth, suns_.second);
    ring_teeth_ = read_count(*teeth, "ring");
    teeth->finish();
    set_.ring_to_sun = checked_ratio(sun_teeth_, node.place);
    if (has_two_suns()) set_.ring_to_large_sun = checked_ratio(large_sun_teeth_, node.place);
  }

  double checked_ratio(std::uint64_t sun, const Place& place) {
    if (sun == 0 || ring_teeth_ == 0) return 1.0;
    if (sun >= ring_teeth_) {
      diagnostics_.add(
          teeth_do_not_fit, place,
          fmt::format("a sun of {} teeth does not fit into a ring of {}", sun, ring_teeth_));
    }
    return static_cast<double>(ring_teeth_) / static_cast<double>(sun);
  }

  void read_ratios(bool has_teeth) {
    read_ratio("ring_to_" + suns_.first, has_teeth, set_.ring_to_sun);
    if (has_two_suns()) read_ratio("ring_to_" + suns_.second, has_teeth, set_.ring_to_large_sun);
  }

  /// In place of tooth counts, where only the ratio is known.
  void read_ratio(const std::string& key, bool has_teeth, double& into) {
    const Node* node = map_.optional(key);
    if (has_teeth || node == nullptr) {
      if (!has_teeth && map_.node().find(key) == nullptr) {
        diagnostics_.add(
            facts::missing_key, set_.name.place,
            fmt::format("{} needs `teeth`, or `{}` where they are not known", what_, key));
      } else if (node != nullptr) {
        diagnostics_.add(set_shape, node->place,
                         fmt::format("`{}` follows from `teeth`; leave one of them out", key));
      }
      return;
    }
    const auto ratio = facts::read_number(*node, diagnostics_);
    if (!ratio) return;
    if (*ratio > 1.0 && *ratio <= most_ring_to_sun) {
      into = *ratio;
      return;
    }
    diagnostics_.add(teeth_do_not_fit, node->place,
                     fmt::format("a ring has more teeth than its sun: the ratio lies above 1, up "
                                 "to {}",
                                 most_ring_to_sun));
  }

  void read_planets(const Node& node, bool has_teeth) {
    const auto planets = facts::read_whole_number(node, diagnostics_);
    if (!planets) return;
    if (*planets == 0 || *planets > 12) {
      diagnostics_.add(impossible_number, node.place,
                       fmt::format("{} planets are impossible, expected 1 to 12", *planets));
      return;
    }
    if (!has_teeth) return;
    // Evenly spaced planets fit in only if these are whole; real sets are nearly always even.
    // One planet from sun to ring: (ring + sun) / planets. Two in a row: (ring - sun) / planets.
    if (set_.kind == SetKind::double_sun) {
      check_spacing(ring_teeth_ - sun_teeth_, *planets, "ring less small sun", node.place);
      check_spacing(ring_teeth_ + large_sun_teeth_, *planets, "ring and large sun", node.place);
    } else if (set_.kind == SetKind::double_planet) {
      check_spacing(ring_teeth_ - sun_teeth_, *planets, "ring less sun", node.place);
    } else {
      check_spacing(ring_teeth_ + sun_teeth_, *planets, "ring and sun", node.place);
    }
  }

  void check_spacing(std::uint64_t teeth, std::uint64_t planets, std::string_view of,
                     const Place& place) {
    if (sun_teeth_ == 0 || ring_teeth_ <= sun_teeth_ || teeth % planets == 0) return;
    diagnostics_.add(planets_uneven, place,
                     fmt::format("{} planets cannot be spaced evenly: {} have {} teeth together, "
                                 "which {} does not divide; is a tooth count wrong?",
                                 planets, of, teeth, planets));
  }

  std::string what_;
  MapReader& map_;
  Diagnostics& diagnostics_;
  SetDraft set_;
  std::pair<std::string, std::string> suns_;
  std::uint64_t sun_teeth_ = 0;
  std::uint64_t large_sun_teeth_ = 0;
  std::uint64_t ring_teeth_ = 0;
};

}  // namespace

void read_gear_train(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "`gear_train`", diagnostics);
  if (!map) return;
  const auto read_end = [&](std::string_view key, Scalar& into) {
    const Node* end = map->required(key);
    if (end == nullptr) return;
    if (auto shaft = facts::read_scalar(*end, fmt::format("`{}`", key), diagnostics)) {
      into = std::move(*shaft);
    }
  };
  read_end("input", draft.train.input);
  read_end("output", draft.train.output);
  if (const Node* sets = map->required("sets")) {
    for (const auto& [name, value] : entries_of(*sets, "`sets`", most_sets, diagnostics)) {
      auto set = MapReader::of(*value, fmt::format("the set `{}`", name.text), diagnostics);
      if (set) draft.train.sets.push_back(SetReader(name, *set, diagnostics).read());
    }
  }
  map->finish();
}

void read_elements(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  for (const auto& [name, value] : entries_of(node, "`elements`", most_elements, diagnostics)) {
    // Kept even where its details are wrong: other sections may name it.
    ElementDraft& element = draft.elements.emplace_back();
    element.name = name;
    auto map = MapReader::of(*value, fmt::format("`{}`", name.text), diagnostics);
    if (!map) continue;
    const Node* joins = map->optional("joins");
    const Node* brakes = map->optional("brakes");
    if ((joins == nullptr) == (brakes == nullptr)) {
      diagnostics.add(element_shape, name.place,
                      fmt::format("`{}` needs either `joins: [shaft, shaft]` (a clutch) or "
                                  "`brakes: shaft`",
                                  name.text));
    } else if (joins != nullptr) {
      const std::vector<Scalar> shafts = names_of(*joins, "`joins`", diagnostics);
      if (shafts.size() == 2) {
        element.first = shafts[0];
        element.second = shafts[1];
      } else if (joins->kind != facts::NodeKind::refused) {
        diagnostics.add(
            element_shape, name.place,
            fmt::format("`joins` of `{}` takes two shafts: `[shaft, shaft]`", name.text));
      }
    } else if (auto shaft = facts::read_scalar(*brakes, "`brakes`", diagnostics)) {
      element.first = std::move(*shaft);
    }
    if (const Node* one_way = map->optional("one_way_clutch")) {
      element.one_way_clutch =
          facts::read_yes_no(*one_way, "`one_way_clutch`", diagnostics).value_or(false);
      if (element.one_way_clutch && brakes == nullptr) {
        diagnostics.add(element_shape, one_way->place,
                        "only a brake can have a `one_way_clutch` beside it");
      }
    }
    map->finish();
  }
}

}  // namespace slipcase::profile

#include <algorithm>

#include <fmt/core.h>

#include "profile/build_gears.h"
#include "profile/messages.h"
#include "profile/wording.h"

namespace slipcase::profile {

namespace {

/// The shafts by name, `case` first; one is there as soon as a set, the input or the output has it.
class Shafts {
 public:
  ShaftId add(std::string_view name) {
    if (const auto known = find(name)) return *known;
    names_.emplace_back(name);
    return {static_cast<std::uint32_t>(names_.size() - 1)};
  }
  [[nodiscard]] std::optional<ShaftId> find(std::string_view name) const {
    const auto found = std::find(names_.begin(), names_.end(), name);
    if (found == names_.end()) return std::nullopt;
    return ShaftId{static_cast<std::uint32_t>(found - names_.begin())};
  }
  [[nodiscard]] const std::vector<std::string>& names() const { return names_; }

 private:
  std::vector<std::string> names_;
};

std::vector<Mesh> meshes_of(const SetDraft& set, Shafts& shafts) {
  const ShaftId sun = shafts.add(set.sun.text);
  const ShaftId ring = shafts.add(set.ring.text);
  const ShaftId carrier = shafts.add(set.carrier.text);
  switch (set.kind) {
    case SetKind::simple:
      return {single_planet_mesh(sun, ring, carrier, set.ring_to_sun)};
    case SetKind::double_planet:
      return {double_planet_mesh(sun, ring, carrier, set.ring_to_sun)};
    case SetKind::double_sun:
      return {double_planet_mesh(sun, ring, carrier, set.ring_to_sun),
              single_planet_mesh(shafts.add(set.large_sun->text), ring, carrier,
                                 set.ring_to_large_sun)};
  }
  return {};
}

/// A set may have one part twice on a shaft only by mistake: it would always turn as one block.
void check_parts(const SetDraft& set, Diagnostics& diagnostics) {
  std::vector<const Scalar*> parts{&set.sun, &set.ring, &set.carrier};
  if (set.large_sun) parts.push_back(&*set.large_sun);
  for (std::size_t later = 1; later < parts.size(); ++later) {
    for (std::size_t earlier = 0; earlier < later; ++earlier) {
      if (parts[later]->text != parts[earlier]->text) continue;
      diagnostics.add(set_shape, parts[later]->place,
                      fmt::format("two parts of the set `{}` are on the shaft `{}`: it could only "
                                  "turn as one block",
                                  set.name.text, parts[later]->text));
    }
  }
}

std::optional<ShaftId> known_shaft(const Shafts& shafts, const Scalar& name,
                                   Diagnostics& diagnostics) {
  const auto found = shafts.find(name.text);
  if (!found) {
    diagnostics.add(unknown_shaft, name.place,
                    fmt::format("no set has a shaft `{}`{}", name.text,
                                near_or_all(name.text, shafts.names())));
  }
  return found;
}

std::optional<Joint> joint_of(const ElementDraft& element, const Shafts& shafts,
                              Diagnostics& diagnostics) {
  const auto first = known_shaft(shafts, element.first, diagnostics);
  const auto second = element.second ? known_shaft(shafts, *element.second, diagnostics)
                                     : shafts.find(housing_name);
  if (!first || !second) return std::nullopt;
  if (*first == *second) {
    diagnostics.add(
        element_shape, element.name.place,
        fmt::format("`{}` joins `{}` to itself", element.name.text, element.first.text));
    return std::nullopt;
  }
  if (element.second && (first->index == 0 || second->index == 0)) {
    diagnostics.add(
        element_shape, element.name.place,
        fmt::format("`{}` joins a shaft to the case: that is a brake, write `brakes: {}`",
                    element.name.text,
                    first->index == 0 ? element.second->text : element.first.text));
    return std::nullopt;
  }
  return Joint{*first, *second};
}

void check_ends(const TrainDraft& draft, Diagnostics& diagnostics) {
  if (draft.input.text == housing_name || draft.output.text == housing_name ||
      draft.input.text == draft.output.text) {
    diagnostics.add(set_shape, draft.output.place,
                    "input and output are two shafts, and neither is the case");
  }
}

}  // namespace

std::optional<Train> build_train(const TrainDraft& draft, const std::vector<ElementDraft>& elements,
                                 Diagnostics& diagnostics) {
  const std::size_t errors_before = diagnostics.error_count();
  Shafts shafts;
  const ShaftId housing = shafts.add(housing_name);
  std::vector<Mesh> meshes;
  for (const SetDraft& set : draft.sets) {
    check_parts(set, diagnostics);
    for (const Mesh& mesh : meshes_of(set, shafts)) meshes.push_back(mesh);
  }
  check_ends(draft, diagnostics);
  // A unit may drive straight through: input and output need not be part of a set.
  const ShaftId input = shafts.add(draft.input.text);
  const ShaftId output = shafts.add(draft.output.text);

  std::vector<Joint> joints;
  std::vector<bool> one_way;
  for (const ElementDraft& element : elements) {
    joints.push_back(joint_of(element, shafts, diagnostics).value_or(Joint{}));
    one_way.push_back(element.one_way_clutch);
  }
  if (diagnostics.error_count() != errors_before) return std::nullopt;
  return Train{GearTrain(shafts.names().size(), housing, input, output, std::move(meshes)),
               std::move(joints), std::move(one_way)};
}

}  // namespace slipcase::profile

// Any text as a unit profile: it is read or refused, and what is read is whole.
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>

#include "profile/read_profile.h"

namespace {

using slipcase::profile::Profile;

void require(bool holds) {
  if (!holds) std::abort();
}

void check_vocabulary(const slipcase::rulebase::UnitVocabulary& vocabulary) {
  for (const auto& relation : vocabulary.relations) {
    require(relation.holds.size() == vocabulary.scope(relation.subject).members.size());
    for (const auto& row : relation.holds) {
      require(row.size() == vocabulary.scope(relation.object).members.size());
    }
    require(vocabulary.find_relation(relation.subject, relation.word, relation.object).has_value());
  }
  for (const auto& mark : vocabulary.marks) {
    require(mark.on.size() == vocabulary.scope(mark.scope).members.size());
  }
}

void check_gears(const Profile& profile) {
  const std::size_t elements = profile.vocabulary.scope(profile.element_scope).members.size();
  require(profile.gears.size() == profile.vocabulary.scope(profile.gear_scope).members.size());
  require(profile.shifts.size() == profile.vocabulary.scope(profile.shift_scope).members.size());
  for (const auto& gear : profile.gears) {
    require(std::isfinite(gear.ratio) && gear.ratio != 0.0);
    require(gear.torque_share.size() == elements && gear.speed_across.size() == elements);
    for (const double share : gear.torque_share) require(std::isfinite(share) && share >= 0.0);
    // Without slip the two speeds stand in the ratio of the gear.
    for (const auto& slip : gear.slip) {
      const double at_ratio = slip.turbine * gear.ratio + slip.output;
      require(std::abs(at_ratio) <= 1e-6 * std::max(1.0, std::abs(slip.output)));
    }
  }
}

void check_procedures(const Profile& profile) {
  const std::size_t elements = profile.vocabulary.scope(profile.element_scope).members.size();
  for (const auto& procedure : profile.procedures) {
    for (const auto& manoeuvre : procedure.manoeuvres) {
      require(manoeuvre.repeats > 0);
      for (const auto shift : manoeuvre.shifts) require(shift.at() < profile.shifts.size());
      for (const auto element : manoeuvre.teaches) require(element.at() < elements);
    }
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  slipcase::SourceSet sources;
  const auto source = sources.add("profile.yaml", std::string(data, data + size));
  slipcase::Diagnostics diagnostics;
  const auto profile = slipcase::profile::read_profile(sources, source, diagnostics);
  require(profile.has_value() != diagnostics.has_errors());
  if (profile) {
    check_vocabulary(profile->vocabulary);
    check_gears(*profile);
    check_procedures(*profile);
  }

  std::size_t shown = 0;
  for (const slipcase::Diagnostic& diagnostic : diagnostics.list()) {
    require(!diagnostic.place || diagnostic.place->begin <= size);
    if (shown++ < 20) require(!slipcase::render(diagnostic, sources).empty());
  }
  return 0;
}

#include "network/situation.h"

#include <algorithm>
#include <cstring>
#include <stdexcept>

namespace slipcase::network {
namespace {

void note_observation(const Wiring& wiring, const Observation& seen, Situation& situation) {
  if (seen.finding.at() >= wiring.finding_count())
    throw std::invalid_argument("an observation of a finding that is not there");
  const std::uint32_t grades = wiring.grades[seen.finding.at()];
  if (seen.at_most > grades || seen.at_least > grades)
    throw std::invalid_argument("an observation of a grade that is not there");
  if (seen.at_least > seen.at_most) situation.contradiction = true;
  const Sighting sighting{seen.finding.index, seen.at_least, seen.at_most};
  if (seen.at_least > 0) situation.positives.push_back(sighting);
  if (seen.at_most < grades) situation.absences.push_back(sighting);
}

void mark_parents(std::span<const std::uint32_t> parents, std::vector<bool>& touched) {
  for (const std::uint32_t p : parents) touched[p] = true;
}

/// Children come after their parents, so one backward walk carries "something known below" upwards.
void assign_roles(const Wiring& wiring, std::vector<bool> touched, Situation& situation) {
  for (std::size_t h = wiring.hidden_count(); h-- > 0;) {
    const bool branch = situation.role[h] != Role::unobserved;
    if (wiring.is_root(h) || !(touched[h] || branch)) continue;
    if (!branch) situation.role[h] = Role::observed;
    mark_parents(wiring.parents_of_hidden(h), touched);
  }
}

void sort_by_finding(std::vector<Sighting>& sightings) {
  std::ranges::sort(sightings, {}, &Sighting::finding);
}

void note_held(const Wiring& wiring, const Evidence& evidence, Situation& situation,
               std::vector<bool>& touched) {
  std::vector<std::uint8_t> seen(evidence.held.empty() ? 0 : wiring.hidden_count(), 0);
  for (const Held& held : evidence.held) {
    if (held.hidden.at() >= wiring.hidden_count())
      throw std::invalid_argument("a held node that is not there");
    touched[held.hidden.at()] = true;
    std::uint8_t& ways = seen[held.hidden.at()];
    const std::uint8_t way = held.present ? 1 : 2;
    if (ways != 0 && ways != way) situation.contradiction = true;
    if (ways == 0) situation.held.push_back(held);
    ways = static_cast<std::uint8_t>(ways | way);
  }
}

}  // namespace

Situation survey(const Wiring& wiring, const Evidence& evidence, std::span<const Held> branches) {
  Situation situation;
  situation.role.assign(wiring.hidden_count(), Role::unobserved);
  for (const Observation& seen : evidence.findings) note_observation(wiring, seen, situation);
  sort_by_finding(situation.positives);
  sort_by_finding(situation.absences);

  std::vector<bool> touched(wiring.hidden_count(), false);
  for (const Sighting& s : situation.positives)
    mark_parents(wiring.parents_of_finding(s.finding), touched);
  for (const Sighting& s : situation.absences)
    mark_parents(wiring.parents_of_finding(s.finding), touched);
  note_held(wiring, evidence, situation, touched);
  for (const Held& branch : branches)
    situation.role[branch.hidden.at()] =
        branch.present ? Role::branch_present : Role::branch_absent;
  assign_roles(wiring, std::move(touched), situation);
  return situation;
}

std::string Situation::key() const {
  std::string key(role.size() + positives.size() * sizeof(std::uint32_t), '\0');
  char* out = key.data();
  for (const Role r : role) *out++ = static_cast<char>(r);
  for (const Sighting& s : positives) {
    std::memcpy(out, &s.finding, sizeof s.finding);
    out += sizeof s.finding;
  }
  return key;
}

}  // namespace slipcase::network

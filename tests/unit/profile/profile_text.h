// A small sound profile, and small changes of it. Invented.
#pragma once

#include <algorithm>
#include <initializer_list>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include <doctest/doctest.h>

#include "profile/read_profile.h"

namespace slipcase::test {

/// A three-speed Simpson train: common sun, front carrier and rear ring on the output.
inline constexpr std::string_view three_speed = R"(profile: three_speed
title: Three-speed (invented)
gear_train:
  input: turbine
  output: output
  sets:
    front:
      kind: simple
      teeth: { sun: 30, ring: 66 }
      shafts: { sun: sun, ring: front_ring, carrier: output }
      planets: 4
    rear:
      kind: simple
      teeth: { sun: 30, ring: 66 }
      shafts: { sun: sun, ring: output, carrier: rear_carrier }
elements:
  F: { joins: [turbine, front_ring] }
  D: { joins: [turbine, sun] }
  I: { brakes: sun }
  L: { brakes: rear_carrier }
chart:
  N: []
  R: [D, L]
  1: [F, L]
  2: [F, I]
  3: [F, D]
ratios: { 1: 2.455, R: -2.2 }
shifts: [1-2, 2-3, 3-2, 2-1, N-1]
scopes:
  valve: { members: [V1, V2, V3] }
marks:
  valve:
    electric: [V1, V3]
relations:
  valve feeding element:
    inverse: fed_by
    negative: [not_feeding, not_fed_by]
    pairs: { V1: [F], V2: [D, I] }
sign_note: plus is more
readings:
  fill_pressure:
    of: element
    measures: pressure
    possible: [-500 mbar, 500 mbar]
    limits: [-300 mbar, 300 mbar]
    watch: [-100 mbar, 100 mbar]
    scatter: 20 mbar
    except:
      L: { limits: [-400 mbar, 400 mbar] }
  turbine_speed: { of: gear, measures: rotation, possible: [0 rpm, 8000 rpm], scatter: 10 rpm }
turbine_speed: turbine_speed
fresh: { time: 60 days, distance: 3000 km }
resets:
  cleared_by: [values_cleared]
  changed_by: [software_updated]
own_controller: transmission
controllers:
  transmission: [P0700 to P07FF]
  engine: P0300 to P0399
codes:
  ratio_code: { of: gear, each: { 1: P0731, 2: [P0732, P0733] } }
  level_code: { codes: [P0701, P0702] }
learning_temperature: [65 C, 110 C]
labour_rate: 120
currency: units
)";

/// What is said, one text a message; a type of its own so that a failed check can print it.
struct Lines {
  std::vector<std::string> lines;

  Lines() = default;
  Lines(std::initializer_list<std::string> list) : lines(list) {}
  [[nodiscard]] const std::string& at(std::size_t i) const { return lines.at(i); }
  [[nodiscard]] std::size_t size() const { return lines.size(); }
  friend bool operator==(const Lines&, const Lines&) = default;
  friend std::ostream& operator<<(std::ostream& out, const Lines& list) {
    for (const std::string& line : list.lines) out << "\n    " << line;
    return out;
  }
};

struct ProfileReading {
  explicit ProfileReading(std::string text) {
    const SourceId id = sources.add("profile.yaml", std::move(text));
    profile = profile::read_profile(sources, id, diagnostics);
    diagnostics.sort();
  }

  /// "gear-loose: `3`" for every message: its name and the text of its place.
  [[nodiscard]] Lines messages() const {
    Lines said;
    for (const Diagnostic& diagnostic : diagnostics.list()) {
      const std::string_view at = diagnostic.place ? sources.text_at(*diagnostic.place) : "-";
      said.lines.push_back(std::string(diagnostic.name) + ": " + std::string(at));
    }
    return said;
  }

  [[nodiscard]] std::string first_text() const {
    return diagnostics.empty() ? "" : diagnostics.list().front().text;
  }

  SourceSet sources;
  Diagnostics diagnostics;
  std::optional<profile::Profile> profile;
};

/// The three-speed with one piece of text exchanged for another.
inline std::string changed(std::string_view from, std::string_view to) {
  std::string text(three_speed);
  const std::size_t at = text.find(from);
  REQUIRE_MESSAGE(at != std::string::npos, "the profile has no ", std::string(from));
  text.replace(at, from.size(), to);
  return text;
}

/// What is said about the three-speed with that change.
inline Lines said_of(std::string_view from, std::string_view to) {
  const ProfileReading reading(changed(from, to));
  const bool refused = reading.diagnostics.has_errors();
  CHECK(reading.profile.has_value() != refused);
  return reading.messages();
}

/// Members of `object` that stand in a relation to a member of `subject`, blank between: "K1 B2".
inline std::string related(const profile::Profile& unit, std::string_view subject,
                           std::string_view member, std::string_view word,
                           std::string_view object) {
  const rulebase::UnitVocabulary& vocabulary = unit.vocabulary;
  const auto from = vocabulary.find_scope(subject);
  const auto to = vocabulary.find_scope(object);
  REQUIRE(from.has_value());
  REQUIRE(to.has_value());
  const auto relation = vocabulary.find_relation(*from, word, *to);
  const auto one = vocabulary.find_member(*from, member);
  REQUIRE_MESSAGE(relation.has_value(), "no relation ", std::string(word));
  REQUIRE(one.has_value());
  std::string text;
  const std::vector<std::string>& names = vocabulary.scope(*to).members;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (!vocabulary.relations[relation->at()].holds[one->at()][i]) continue;
    text += (text.empty() ? "" : " ") + names[i];
  }
  return text;
}

/// Members with a mark, blank between.
inline std::string marked(const profile::Profile& unit, std::string_view scope,
                          std::string_view mark) {
  const auto id = unit.vocabulary.find_scope(scope);
  REQUIRE(id.has_value());
  const auto found = unit.vocabulary.find_mark(*id, mark);
  REQUIRE_MESSAGE(found.has_value(), "no mark ", std::string(mark));
  std::string text;
  const std::vector<std::string>& names = unit.vocabulary.scope(*id).members;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (!unit.vocabulary.marks[found->at()].on[i]) continue;
    text += (text.empty() ? "" : " ") + names[i];
  }
  return text;
}

}  // namespace slipcase::test

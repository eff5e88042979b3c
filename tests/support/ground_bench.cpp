#include "support/ground_bench.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "language/parse.h"
#include "profile/read_profile.h"
#include "rulebase/resolve.h"

namespace slipcase::test {

namespace {

constexpr std::string_view profile_text = R"(profile: bench
title: Six-speed for tests (invented)
gear_train:
  input: turbine
  output: output
  sets:
    front:
      kind: simple
      teeth:  { sun: 34, ring: 66 }
      shafts: { sun: case, ring: turbine, carrier: front_carrier }
      planets: 4
    rear:
      kind: double_sun
      teeth:  { small_sun: 32, large_sun: 37, ring: 83 }
      shafts: { small_sun: small_sun, large_sun: large_sun, ring: output, carrier: rear_carrier }
      planets: 3
elements:
  K1: { joins: [front_carrier, small_sun] }
  K2: { joins: [front_carrier, large_sun] }
  K3: { joins: [turbine, rear_carrier] }
  B1: { brakes: large_sun }
  B2: { brakes: rear_carrier, one_way_clutch: no }
chart:
  N: [B2]
  R: [K2, B2]
  1: [K1, B2]
  2: [K1, B1]
  3: [K1, K2]
  4: [K1, K3]
  5: [K2, K3]
  6: [B1, K3]
shifts: [1-2, 2-1, 2-3, 3-2, 3-4, 4-3, 4-5, 5-4, 5-6, 6-5]
scopes:
  range: { members: [P, R, N, D] }
marks:
  element:
    unused: []
sign_note: plus is more
readings:
  fill_pressure:
    of: element
    measures: pressure
    possible: [-500 mbar, 500 mbar]
    limits:   [-300 mbar, 300 mbar]
    watch:    [-100 mbar, 100 mbar]
    scatter:  20 mbar
    except:
      B2: { possible: [-600 mbar, 600 mbar], limits: [-200 mbar, 400 mbar] }
  fill_time:
    of: element
    measures: time
    possible: [-100 ms, 100 ms]
    limits:   [-60 ms, 60 ms]
    watch:    [-20 ms, 20 ms]
    scatter:  5 ms
  turbine_speed: { of: gear, measures: rotation, possible: [0 rpm, 9000 rpm], scatter: 10 rpm }
  output_speed: { of: gear, measures: rotation, possible: [-3000 rpm, 12000 rpm], scatter: 10 rpm }
turbine_speed: turbine_speed
output_speed: output_speed
fresh: { time: 60 days, distance: 3000 km }
resets:
  cleared_by: [values_cleared]
  changed_by: [software_updated, drum_rebuilt]
own_controller: transmission
controllers:
  transmission: [P0700 to P09FF]
  engine: [P0100 to P04FF]
codes:
  ratio_code: { of: gear, each: { R: P0736, 1: P0731, 2: P0732, 3: P0733, 4: P0734, 5: P0735 } }
learning_temperature: [65 C, 110 C]
labour_rate: 150
currency: ""
)";

std::shared_ptr<const profile::Profile> load_profile(SourceSet& sources, std::string text) {
  Diagnostics diagnostics;
  const SourceId id = sources.add("bench.yaml", std::move(text));
  auto profile = profile::read_profile(sources, id, diagnostics);
  if (!profile) give_up(diagnostics, sources);
  return std::make_shared<const profile::Profile>(std::move(*profile));
}

std::shared_ptr<const rulebase::Rulebase> load_rules(SourceSet& sources,
                                                     const std::vector<std::string>& texts,
                                                     const profile::Profile& profile) {
  Diagnostics diagnostics;
  std::vector<language::File> files;
  for (const std::string& text : texts) {
    files.push_back(language::parse(sources, sources.add("bench.rules", text), diagnostics));
  }
  auto rules = rulebase::resolve(files, profile.vocabulary, diagnostics);
  if (!rules || diagnostics.has_errors()) give_up(diagnostics, sources);
  return std::make_shared<const rulebase::Rulebase>(std::move(*rules));
}

std::string contents(const std::filesystem::path& path) {
  std::ifstream file(path);
  if (!file) throw std::runtime_error("cannot read " + path.string());
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

}  // namespace

void give_up(const Diagnostics& diagnostics, const SourceSet& sources) {
  std::string all;
  for (const auto& diagnostic : diagnostics.list()) all += render(diagnostic, sources) + "\n";
  throw std::runtime_error(all);
}

GroundBench::GroundBench(std::string_view rules_text) {
  profile = load_profile(sources, std::string(profile_text));
  rules = load_rules(sources, {"language 1\nunit bench\n" + std::string(rules_text)}, *profile);
  unroll();
}

GroundBench::GroundBench(const GroundBench& other, rulebase::Rulebase changed)
    : sources(other.sources), profile(other.profile) {
  rules = std::make_shared<const rulebase::Rulebase>(std::move(changed));
  unroll();
}

GroundBench GroundBench::shipped() {
  const std::filesystem::path folder = std::filesystem::path(SLIPCASE_RULES) / "six_speed";
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".rules") files.push_back(entry.path());
  }
  std::ranges::sort(files);
  std::vector<std::string> texts;
  for (const auto& file : files) texts.push_back(contents(file));
  GroundBench bench;
  bench.profile = load_profile(bench.sources, contents(folder / "profile.yaml"));
  bench.rules = load_rules(bench.sources, texts, *bench.profile);
  bench.unroll();
  return bench;
}

void GroundBench::unroll() {
  auto made = grounding::ground(rules, profile, diagnostics);
  if (made) ground = std::make_shared<const grounding::GroundRules>(std::move(*made));
}

std::vector<std::string> GroundBench::messages() const {
  std::vector<std::string> names;
  for (const auto& diagnostic : diagnostics.list()) names.emplace_back(diagnostic.name);
  return names;
}

}  // namespace slipcase::test

// Profiles that the tests of the calculators ask.
#pragma once

#include <fstream>
#include <iterator>
#include <string>

#include <doctest/doctest.h>

#include "profile/read_profile.h"

namespace slipcase::test {

inline std::string shipped_text() {
  std::ifstream file(SLIPCASE_RULES "/six_speed/profile.yaml");
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

inline profile::Profile unit_of(std::string text) {
  SourceSet sources;
  Diagnostics diagnostics;
  const SourceId id = sources.add("profile.yaml", std::move(text));
  auto unit = profile::read_profile(sources, id, diagnostics);
  for (const Diagnostic& diagnostic : diagnostics.list()) INFO(diagnostic.text);
  REQUIRE(unit);
  return std::move(*unit);
}

/// The invented six-speed: front sun 34 and ring 66, rear suns 32 and 37, rear ring 83.
inline profile::Profile six_speed() { return unit_of(shipped_text()); }

inline std::string replaced(std::string text, std::string_view from, std::string_view to) {
  const std::size_t at = text.find(from);
  REQUIRE_MESSAGE(at != std::string::npos, "the profile has no ", std::string(from));
  return text.replace(at, from.size(), to);
}

}  // namespace slipcase::test

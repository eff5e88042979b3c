// Service data of a profile: texts of codes, fluid, noise.
#include "profile_text.h"

using namespace slipcase;
using namespace slipcase::test;
using units::TroubleCode;

namespace {

constexpr std::string_view labour = "labour_rate: 120\n";

/// The three-speed with these lines added.
ProfileReading with(const std::string& lines) {
  return ProfileReading(changed(labour, std::string(labour) + lines));
}

std::string text_of(const ProfileReading& reading, std::string_view code) {
  REQUIRE(reading.profile);
  const auto found = reading.profile->code_texts.find(*TroubleCode::parse(code));
  return found == reading.profile->code_texts.end() ? "" : found->second;
}

}  // namespace

TEST_CASE("a code has its text alone, from a list, or as a part with its states") {
  const ProfileReading reading = with(
      "code_texts:\n"
      "  p0700: look further\n"
      "  P0731 to P0732: [first, second]\n"
      "  P0720 to P0721: { part: output speed, states: [circuit, implausible] }\n"
      "  P1700 to P17FF: the maker's own\n");
  CHECK(reading.messages() == Lines{});
  CHECK(text_of(reading, "P0700") == "look further");
  CHECK(text_of(reading, "P0732") == "second");
  CHECK(text_of(reading, "P0721") == "output speed: implausible");
  CHECK(text_of(reading, "P17A0") == "the maker's own");
  CHECK(text_of(reading, "P0733").empty());
}

TEST_CASE("a range of codes counts in hexadecimal, and texts that do not fit it are refused") {
  const ProfileReading reading = with("code_texts: { P2718 to P2721: [a, b, c, d] }\n");
  CHECK(reading.messages() == Lines{"code-texts-uneven: P2718 to P2721"});
  CHECK(reading.first_text() ==
        "`P2718 to P2721` is 10 codes and has 4 texts: write one for each, or a single text for "
        "all");
  CHECK(with("code_texts: { P0700: [a, b] }\n").messages() == Lines{"code-texts-uneven: P0700"});
  // A list of one is a list.
  CHECK(with("code_texts: { P0700 to P0701: [a] }\n").messages() ==
        Lines{"code-texts-uneven: P0700 to P0701"});
}

TEST_CASE("a code with two texts is refused, once for a range") {
  CHECK(with("code_texts: { P0700 to P0704: a, P0702 to P0703: b }\n").messages() ==
        Lines{"profile-code-twice: P0702 to P0703"});
}

TEST_CASE("what stands for a code's text must be one") {
  CHECK(with("code_texts: { P07: a }\n").messages() == Lines{"profile-code-shape: P07"});
  CHECK(with("code_texts: { P0700: { states: [a] } }\n").messages() ==
        Lines{"document-missing-key: states"});
  CHECK(with("code_texts: [P0700]\n").messages() == Lines{"document-wrong-shape: ["});
}

TEST_CASE("fill and density of the fluid are quantities above zero") {
  const ProfileReading reading = with("fluid: { fill: 9 l, density: 0.845 kg/l }\n");
  REQUIRE(reading.profile);
  REQUIRE(reading.profile->fluid);
  CHECK(reading.profile->fluid->fill.value == 9000.0);
  CHECK(reading.profile->fluid->density.value == 845.0);
  CHECK(with("fluid: { fill: 0 l, density: 845 kg/m3 }\n").messages() ==
        Lines{"profile-impossible-number: 0 l"});
  CHECK(with("fluid: { fill: 9 l, density: -1 kg/m3 }\n").messages() ==
        Lines{"profile-impossible-number: -1 kg/m3"});
  CHECK(with("fluid: { fill: 9 kg/m3, density: 845 }\n").messages() ==
        Lines{"value-unit-wrong: 9 kg/m3", "value-unit-missing: 845"});
  CHECK(with("fluid: { fill: 9 l }\n").messages() == Lines{"document-missing-key: fill"});
}

TEST_CASE("noise of the turbine is a speed above zero") {
  const ProfileReading reading = with("slip_noise: 25 rpm\n");
  REQUIRE(reading.profile);
  REQUIRE(reading.profile->slip_noise);
  CHECK(reading.profile->slip_noise->value == 25.0);
  CHECK(with("slip_noise: 0 rpm\n").messages() == Lines{"profile-impossible-number: 0 rpm"});
  CHECK(with("slip_noise: 25 ms\n").messages() == Lines{"value-unit-wrong: 25 ms"});
}

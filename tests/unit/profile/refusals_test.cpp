// Every way a profile can be wrong: the name of the message and the text it points at.
#include "profile_text.h"

using namespace slipcase;
using namespace slipcase::test;

TEST_CASE("a sound profile is read without a message") {
  const ProfileReading reading{std::string(three_speed)};
  CHECK(reading.messages() == Lines{});
  CHECK(reading.profile.has_value());
}

TEST_CASE("an unknown key is refused, at the top and deeper down") {
  CHECK(said_of("title:", "titel:") == Lines{"document-unknown-key: titel"});
  CHECK(said_of("    scatter: 20 mbar", "    scater: 20 mbar") ==
        Lines{"document-unknown-key: scater"});
  CHECK(said_of("planets: 4", "planet: 4") == Lines{"document-unknown-key: planet"});
}

TEST_CASE("keys that every profile needs") {
  CHECK(said_of("fresh: { time: 60 days, distance: 3000 km }\n", "") ==
        Lines{"document-missing-key: profile"});
  CHECK(said_of(", distance: 3000 km", "") == Lines{"document-missing-key: time"});
  CHECK(said_of("shifts: [1-2, 2-3, 3-2, 2-1, N-1]\n", "") ==
        Lines{"document-missing-key: profile"});
  CHECK(said_of("own_controller: transmission\n", "") == Lines{"document-missing-key: profile"});
}

TEST_CASE("one run reports the mistakes of all sections") {
  std::string text = changed("1: [F, L]", "1: [F, Q]");
  text.replace(text.find("scatter: 20 mbar"), 16, "scatter: 20 kg");
  text.replace(text.find("2: [P0732, P0733]"), 17, "2: [P0732, Q0733]");
  const ProfileReading reading(text);
  CHECK(reading.messages() == Lines{"profile-unknown-member: Q", "value-unit-unknown: 20 kg",
                                    "profile-code-shape: Q0733"});
}

TEST_CASE("a key written twice is refused") {
  CHECK(said_of("  2: [F, I]", "  2: [F, I]\n  2: [F, D]").at(0) == "document-duplicate-key: 2");
}

// --- names ------------------------------------------------------------------------------------

TEST_CASE("a word of the rule language cannot name a part of the unit") {
  CHECK(said_of("valve feeding element", "valve shows element") ==
        Lines{"profile-reserved-name: shows"});
  CHECK(said_of("electric:", "when:") == Lines{"profile-reserved-name: when"});
  CHECK(said_of("fed_by\n", "then\n") == Lines{"profile-reserved-name: then"});
  CHECK(said_of("ratio_code:", "stored:") == Lines{"profile-reserved-name: stored"});
  CHECK(said_of("cleared_by: [values_cleared]", "cleared_by: [since]") ==
        Lines{"profile-reserved-name: since"});
  CHECK(said_of("V1, V2, V3", "V1, V2, V3, others") == Lines{"profile-reserved-name: others"});
  CHECK(said_of("V1, V2, V3", "V1, V2, V3, any") == Lines{"profile-reserved-name: any"});
}

TEST_CASE("names have the shape that rules can write") {
  CHECK(said_of("profile: three_speed", "profile: Three-Speed") ==
        Lines{"profile-name-shape: Three-Speed"});
  CHECK(said_of("electric:", "Electric:") == Lines{"profile-name-shape: Electric"});
  CHECK(said_of("V1, V2, V3", "V1, V2, V3, valve 4") == Lines{"profile-member-shape: valve 4"});
  CHECK(said_of("V1, V2, V3", "V1, V2, V3, V-") == Lines{"profile-member-shape: V-"});
}

TEST_CASE("one word stands for one kind of thing") {
  CHECK(said_of("valve feeding element", "valve electric element") ==
        Lines{"profile-name-clash: electric"});
  CHECK(said_of("electric:", "applying:") == Lines{"profile-name-clash: applying"});
  CHECK(said_of("level_code:", "valve:") == Lines{"profile-name-clash: valve"});
  CHECK(said_of("  fill_pressure:", "  gears:") == Lines{"profile-name-clash: gears"});
  CHECK(said_of("V1, V2, V3", "V1, V2, V3, gear") == Lines{"profile-name-clash: gear"});
}

TEST_CASE("what is named twice is refused") {
  CHECK(said_of("V1, V2, V3", "V1, V2, V3, V1") == Lines{"profile-named-twice: V1"});
  CHECK(said_of("  valve: { members: [V1, V2, V3] }",
                "  valve: { members: [V1, V2, V3] }\n  element: { members: [X] }")
            .at(0) == "profile-named-twice: element");
  CHECK(said_of("1: [F, L]", "1: [F, L, F]") == Lines{"profile-named-twice: F"});
  CHECK(said_of("V2: [D, I]", "V2: [D, D]") == Lines{"profile-named-twice: D"});
  CHECK(said_of("[1-2, 2-3,", "[1-2, 1-2, 2-3,") == Lines{"profile-named-twice: 1-2"});
  CHECK(said_of("changed_by: [software_updated]", "changed_by: [values_cleared]") ==
        Lines{"profile-named-twice: values_cleared"});
}

TEST_CASE("a relation that is worked out from the chart cannot be typed") {
  CHECK(said_of("  valve feeding element:",
                "  shift applying element:\n    inverse: put_on_by\n"
                "    pairs: {}\n  valve feeding element:") ==
        Lines{"profile-named-twice: applying"});
}

TEST_CASE("unknown scopes and members are refused with what there is") {
  CHECK(said_of("valve feeding element", "valv feeding element") ==
        Lines{"profile-unknown-scope: valv"});
  CHECK(said_of("V2: [D, I]", "V2: [D, J]") == Lines{"profile-unknown-member: J"});
  CHECK(said_of("V2: [D, I]", "V9: [D, I]") == Lines{"profile-unknown-member: V9"});
  CHECK(said_of("electric: [V1, V3]", "electric: [V1, V4]") == Lines{"profile-unknown-member: V4"});
  CHECK(said_of("L: { limits: [-400 mbar, 400 mbar] }", "Q: { limits: [-400 mbar, 400 mbar] }") ==
        Lines{"profile-unknown-member: Q"});
  CHECK(said_of("of: element", "of: elements") == Lines{"profile-unknown-scope: elements"});
  const ProfileReading reading(changed("V2: [D, I]", "V2: [D, J]"));
  CHECK(reading.first_text() == "there is no element `J`; write `F`, `D`, `I` or `L`");
}

TEST_CASE("a relation is written as rules read it") {
  CHECK(said_of("valve feeding element", "valve feeding the element") ==
        Lines{"profile-relation-shape: valve feeding the element"});
  CHECK(said_of("[not_feeding, not_fed_by]", "[not_feeding]") ==
        Lines{"profile-relation-shape: not_feeding"});
  CHECK(said_of("    inverse: fed_by\n", "") == Lines{"document-missing-key: negative"});
}

// --- the gear train ---------------------------------------------------------------------------

TEST_CASE("elements join shafts that some set has") {
  CHECK(said_of("joins: [turbine, sun]", "joins: [turbine, sum]") == Lines{"unknown-shaft: sum"});
  CHECK(said_of("brakes: rear_carrier", "brakes: front_carrier") ==
        Lines{"unknown-shaft: front_carrier"});
}

TEST_CASE("an element is a clutch between two shafts or a brake") {
  CHECK(said_of("L: { brakes: rear_carrier }", "L: { joins: [sun, sun] }") ==
        Lines{"element-shape: L"});
  CHECK(said_of("L: { brakes: rear_carrier }", "L: {}") == Lines{"element-shape: L"});
  CHECK(said_of("L: { brakes: rear_carrier }", "L: { joins: [rear_carrier] }") ==
        Lines{"element-shape: L"});
  CHECK(said_of("L: { brakes: rear_carrier }", "L: { joins: [case, rear_carrier] }") ==
        Lines{"element-shape: L"});
  CHECK(said_of("F: { joins: [turbine, front_ring] }",
                "F: { joins: [turbine, front_ring], one_way_clutch: yes }") ==
        Lines{"element-shape: yes"});
}

TEST_CASE("a set has its parts on different shafts") {
  CHECK(said_of("carrier: rear_carrier }", "carrier: sun }").at(0) == "set-shape: sun");
  CHECK(said_of("kind: simple", "kind: single") == Lines{"set-shape: single"});
  CHECK(said_of("  output: output", "  output: case") == Lines{"set-shape: case"});
  CHECK(said_of("      planets: 4", "      planets: 4\n      ring_to_sun: 2.2") ==
        Lines{"set-shape: 2.2"});
}

TEST_CASE("tooth counts that cannot be are refused") {
  CHECK(said_of("{ sun: 30, ring: 66 }", "{ sun: 66, ring: 30 }") ==
        Lines{"teeth-do-not-fit: { sun: 66, ring: 30"});
  CHECK(said_of("{ sun: 30, ring: 66 }", "{ sun: 2, ring: 66 }") ==
        Lines{"profile-impossible-number: 2"});
  CHECK(said_of("planets: 4", "planets: 13") == Lines{"profile-impossible-number: 13"});
  CHECK(said_of("teeth: { sun: 30, ring: 66 }", "ring_to_sun: 0.5") ==
        Lines{"teeth-do-not-fit: 0.5"});
  CHECK(said_of("      teeth: { sun: 30, ring: 66 }\n", "") ==
        Lines{"document-missing-key: front"});
}

TEST_CASE("planets that cannot be spaced evenly are a warning") {
  // 96 teeth: 4 planets fit, 5 do not.
  CHECK(said_of("planets: 4", "planets: 5") == Lines{"planets-uneven: 5"});
}

TEST_CASE("a ratio stands in for tooth counts that are not known") {
  const ProfileReading reading(changed("teeth: { sun: 30, ring: 66 }", "ring_to_sun: 2.2"));
  REQUIRE(reading.messages() == Lines{});
  CHECK(reading.profile->gears.at(1).ratio == doctest::Approx(1 + 1 / 2.2 + 1));
}

// --- the chart --------------------------------------------------------------------------------

TEST_CASE("a gear that leaves the train loose or locked is refused") {
  CHECK(said_of("1: [F, L]", "1: [F]") == Lines{"gear-loose: 1"});
  CHECK(said_of("1: [F, L]", "1: [F, L, I]") == Lines{"gear-locked: 1"});
  CHECK(said_of("3: [F, D]", "3: [F, D, (L)]") == Lines{"gear-locked: 3"});
  const ProfileReading reading(changed("1: [F, L]", "1: [F]"));
  CHECK(reading.first_text() ==
        "gear `1` is loose: with `F` the output is free of the turbine; an element is missing or a "
        "shaft is wrong");
}

TEST_CASE("a gear in the chart has only elements of the unit") {
  CHECK(said_of("3: [F, D]", "3: [F, E]") == Lines{"profile-unknown-member: E"});
  CHECK(said_of("3: [F, D]", "3: [F, (E)]") == Lines{"profile-unknown-member: E"});
}

TEST_CASE("two gears with the same elements are one gear too many") {
  CHECK(said_of("3: [F, D]", "3: [I, F]") == Lines{"gear-twice: 3"});
}

TEST_CASE("neutral leaves the output free") {
  CHECK(said_of("N: []", "N: [F, L]") == Lines{"neutral-holds: N"});
  CHECK(said_of("N: []", "N: [L]") == Lines{});
}

TEST_CASE("an element that no gear uses is refused") {
  CHECK(said_of("  L: { brakes: rear_carrier }",
                "  L: { brakes: rear_carrier }\n  X: { brakes: rear_carrier }") ==
        Lines{"element-unused: X"});
}

TEST_CASE("a stated ratio that the tooth counts do not give is refused with both numbers") {
  CHECK(said_of("1: 2.455", "1: 2.465") == Lines{"ratio-differs: 2.465"});
  CHECK(said_of("1: 2.455", "1: 2.454") == Lines{});  // cut after three decimals
  CHECK(said_of("R: -2.2 }", "5: -2.2 }") == Lines{"profile-unknown-member: 5"});
  const ProfileReading reading(changed("1: 2.455", "1: 2.465"));
  CHECK(reading.first_text() ==
        "gear `1` is stated as 2.465, but the gear train gives 2.4545; one of tooth counts, chart "
        "and ratio is wrong");
}

TEST_CASE("an element without which the gear is the same must say that it carries nothing") {
  // A third clutch that locks the front set as well: in 3rd any two of the three hold.
  const std::string third = "3: [F, D, C]";
  std::string text = changed("3: [F, D]", third);
  text.replace(text.find("elements:\n"), 10, "elements:\n  C: { joins: [sun, output] }\n");
  CHECK(ProfileReading(text).messages() ==
        Lines{"gear-element-idle: 3", "gear-element-idle: 3", "gear-element-idle: 3"});
  text.replace(text.find(third), third.size(), "3: [F, D, (C)]");
  const ProfileReading reading(text);
  REQUIRE(reading.messages() == Lines{});
  CHECK(related(*reading.profile, "gear", "3", "using", "element") == "C F D");
  CHECK(related(*reading.profile, "gear", "3", "easing", "element") == "C F D");
  CHECK(related(*reading.profile, "shift", "2-3", "applying", "element") == "C D");
}

// --- shifts -----------------------------------------------------------------------------------

TEST_CASE("a shift goes from one gear of the chart to another") {
  CHECK(said_of("[1-2, 2-3,", "[1-2, 2-4,") == Lines{"shift-shape: 2-4"});
  CHECK(said_of("[1-2, 2-3,", "[1-2, 2-2,") == Lines{"shift-shape: 2-2"});
  CHECK(said_of("[1-2, 2-3,", "[1-2, 23,") == Lines{"shift-shape: 23"});
  CHECK(said_of("shifts: [1-2, 2-3, 3-2, 2-1, N-1]", "shifts: all of them") ==
        Lines{"shift-shape: all of them"});
}

TEST_CASE("a shift must apply what the chart says where it is stated") {
  const std::string_view listed = "[1-2, 2-3, 3-2, 2-1, N-1]";
  CHECK(said_of(listed, "{ 1-2: { applies: I, releases: [L], holds: F } }") == Lines{});
  CHECK(said_of(listed, "{ 1-2: { applies: [D] } }") == Lines{"shift-differs: D"});
  CHECK(said_of(listed, "{ 1-2: { releases: [I] } }") == Lines{"shift-differs: I"});
  CHECK(said_of(listed, "{ 1-2: { holds: [F, I] } }") == Lines{"shift-differs: F"});
  CHECK(said_of(listed, "{ 1-2: { holds: [] } }") == Lines{"shift-differs: 1-2"});
  CHECK(said_of(listed, "{ 1-2: { apply: [I] } }") == Lines{"document-unknown-key: apply"});
}

TEST_CASE("a shift that applies nothing is refused") {
  std::string text = changed("[1-2, 2-3, 3-2, 2-1, N-1]", "[1-2, 3-2]");
  text.replace(text.find("3: [F, D]"), 9, "3: [F, D, (C)]");
  text.replace(text.find("2: [F, I]"), 9, "2: [F, D]");
  text.replace(text.find("elements:\n"), 10, "elements:\n  C: { joins: [sun, output] }\n");
  CHECK(ProfileReading(text).messages() == Lines{"element-unused: I"});
  text.replace(text.find("  I: { brakes: sun }\n"), 21, "");
  text.replace(text.find("V2: [D, I]"), 10, "V2: [D]");
  CHECK(ProfileReading(text).messages() == Lines{"shift-applies-nothing: 3-2"});
}

// --- readings ---------------------------------------------------------------------------------

TEST_CASE("bounds of a reading that contradict each other are refused") {
  CHECK(said_of("limits: [-300 mbar, 300 mbar]", "limits: [300 mbar, -300 mbar]").at(0) ==
        "range-reversed: [300 mbar, -300 mbar");
  CHECK(said_of("limits: [-300 mbar, 300 mbar]", "limits: [-300 mbar, 600 mbar]").at(0) ==
        "limit-outside-possible: [-300 mbar, 600 mbar");
  CHECK(said_of("watch: [-100 mbar, 100 mbar]", "watch: [-100 mbar, 310 mbar]").at(0) ==
        "watch-beyond-limit: [-100 mbar, 310 mbar");
  CHECK(said_of("watch: [-100 mbar, 100 mbar]", "watch: [50 mbar, 100 mbar]").at(0) ==
        "zero-outside: [50 mbar, 100 mbar");
  CHECK(said_of("limits: [-300 mbar, 300 mbar]", "limits: [0 mbar, 300 mbar]").at(0) ==
        "zero-outside: [0 mbar, 300 mbar");
  CHECK(said_of("scatter: 20 mbar", "scatter: -20 mbar") ==
        Lines{"profile-impossible-number: -20 mbar"});
  CHECK(said_of("scatter: 20 mbar", "scatter: 20 bar") ==
        Lines{"profile-impossible-number: 20 bar"});
}

TEST_CASE("a wrong common bound is said once, not for every member") {
  CHECK(said_of("watch: [-100 mbar, 100 mbar]", "watch: [-100 mbar, 310 mbar]").size() == 1);
}

TEST_CASE("bounds of one member are judged with what it has in common") {
  CHECK(said_of("L: { limits: [-400 mbar, 400 mbar] }", "L: { limits: [-90 mbar, 90 mbar] }") ==
        Lines{"watch-beyond-limit: [-100 mbar, 100 mbar"});
}

TEST_CASE("a reading needs what is possible and its scatter") {
  CHECK(said_of("    scatter: 20 mbar\n", "") == Lines{"bounds-missing: fill_pressure"});
  CHECK(said_of("    possible: [-500 mbar, 500 mbar]\n", "") ==
        Lines{"bounds-missing: fill_pressure"});
}

TEST_CASE("a reading has units of its dimension") {
  CHECK(said_of("measures: pressure", "measures: presure") ==
        Lines{"profile-unknown-dimension: presure"});
  CHECK(said_of("limits: [-300 mbar, 300 mbar]", "limits: [-300 ms, 300 mbar]") ==
        Lines{"value-unit-wrong: -300 ms"});
  CHECK(said_of("limits: [-300 mbar, 300 mbar]", "limits: 300 mbar") ==
        Lines{"document-wrong-shape: 300 mbar"});
  CHECK(said_of("    of: element\n", "") == Lines{"profile-unknown-scope: L"});
}

TEST_CASE("the speed readings are rotations of gear") {
  CHECK(said_of("turbine_speed: turbine_speed", "turbine_speed: fill_pressure") ==
        Lines{"not-a-speed-reading: fill_pressure"});
  CHECK(said_of("turbine_speed: turbine_speed", "output_speed: output") ==
        Lines{"not-a-speed-reading: output"});
}

TEST_CASE("a reading with a mistake is not missing elsewhere") {
  CHECK(said_of("8000 rpm", "8000 rmp") == Lines{"value-unit-unknown: 8000 rmp"});
}

TEST_CASE("spans, windows and prices that cannot be are refused") {
  CHECK(said_of("time: 60 days", "time: 0 days") == Lines{"profile-impossible-number: 0 days"});
  CHECK(said_of("[65 C, 110 C]", "[110 C, 65 C]") == Lines{"range-reversed: [110 C, 65 C"});
  CHECK(said_of("labour_rate: 120", "labour_rate: -1") == Lines{"profile-impossible-number: -1"});
}

// --- trouble codes ----------------------------------------------------------------------------

TEST_CASE("trouble codes have their shape and go upward in a range") {
  CHECK(said_of("1: P0731", "1: P07311") == Lines{"profile-code-shape: P07311"});
  CHECK(said_of("P0700 to P07FF", "P07FF to P0700") == Lines{"profile-code-shape: P07FF to P0700"});
  CHECK(said_of("P0700 to P07FF", "P0700 to U07FF").at(0) == "profile-code-shape: P0700 to U07FF");
  CHECK(said_of("P0700 to P07FF", "P0700 to PX").at(0) == "profile-code-shape: PX");
}

TEST_CASE("a code stands for one part within its group") {
  CHECK(said_of("2: [P0732, P0733]", "2: [P0731, P0733]") == Lines{"profile-code-twice: P0731"});
  CHECK(said_of("2: [P0732, P0733]", "2: [P0732, P0732]") == Lines{"profile-code-twice: P0732"});
  CHECK(said_of("2: [P0732, P0733]", "2: [P0730 to P0732]") ==
        Lines{"profile-code-twice: P0730 to P0732"});
  CHECK(said_of("[P0701, P0702]", "[P0731]") == Lines{});  // another group may have it too
}

TEST_CASE("a code lies with one controller") {
  CHECK(said_of("engine: P0300 to P0399", "engine: P0300 to P0700") ==
        Lines{"controllers-overlap: P0700 to P07FF"});
  // A range that reaches over several others is held against each.
  CHECK(said_of("engine: P0300 to P0399", "engine: [P0300 to P0FFF, P0400, P0900]") ==
        Lines{"controllers-overlap: P0700 to P07FF", "controllers-overlap: P0400",
              "controllers-overlap: P0900"});
  CHECK(said_of("[P0701, P0702]", "[P0801]") == Lines{"code-without-controller: P0801"});
  CHECK(said_of("own_controller: transmission", "own_controller: gearbox") ==
        Lines{"profile-unknown-controller: gearbox"});
}

TEST_CASE("a part does not have hundreds of codes") {
  CHECK(said_of("[P0701, P0702]", "[P0000 to P3FFF]") == Lines{"profile-too-many: P0000 to P3FFF"});
}

TEST_CASE("a table that no unit needs is refused before it costs anything") {
  std::string members = "V1, V2, V3";
  for (int i = 0; i < 300; ++i) members += ", W" + std::to_string(i);
  CHECK(said_of("V1, V2, V3", members) == Lines{"profile-too-many: V1"});
}

TEST_CASE("what is no profile at all is refused") {
  CHECK(ProfileReading("- a\n- b\n").messages().at(0) == "document-wrong-shape: -");
  CHECK_FALSE(ProfileReading("").profile.has_value());
  CHECK_FALSE(ProfileReading("a: [").profile.has_value());
}

#include "profile_text.h"

using namespace slipcase;
using namespace slipcase::test;

namespace {

profile::Profile read(const std::string& text) {
  const ProfileReading reading(text);
  REQUIRE(reading.messages() == Lines{});
  REQUIRE(reading.profile.has_value());
  return *reading.profile;
}

/// The Simpson train with a one-way clutch beside the low brake.
std::string with_one_way_clutch() {
  return changed("L: { brakes: rear_carrier }", "L: { brakes: rear_carrier, one_way_clutch: yes }");
}

}  // namespace

TEST_CASE("a typed relation reads from either end and in the negative") {
  const profile::Profile unit = read(std::string(three_speed));
  CHECK(related(unit, "valve", "V2", "feeding", "element") == "D I");
  CHECK(related(unit, "valve", "V3", "feeding", "element").empty());
  CHECK(related(unit, "element", "D", "fed_by", "valve") == "V2");
  CHECK(related(unit, "valve", "V2", "not_feeding", "element") == "F L");
  CHECK(related(unit, "element", "D", "not_fed_by", "valve") == "V1 V3");
  CHECK(marked(unit, "valve", "electric") == "V1 V3");
}

TEST_CASE("a relation that is its own inverse holds both ways") {
  const profile::Profile unit =
      read(changed("  valve feeding element:",
                   "  valve beside valve: { inverse: beside, negative: [apart_from, apart_from],"
                   " pairs: { V1: [V2] } }\n  valve feeding element:"));
  CHECK(related(unit, "valve", "V1", "beside", "valve") == "V2");
  CHECK(related(unit, "valve", "V2", "beside", "valve") == "V1");
  CHECK(related(unit, "valve", "V2", "apart_from", "valve") == "V2 V3");
}

TEST_CASE("listed shifts know their ends and what they are") {
  const profile::Profile unit = read(std::string(three_speed));
  CHECK(related(unit, "shift", "2-3", "entering", "gear") == "3");
  CHECK(related(unit, "gear", "2", "left_by", "shift") == "2-3 2-1");
  CHECK(related(unit, "gear", "1", "entered_by", "shift") == "2-1 N-1");
  CHECK(marked(unit, "shift", "upshift") == "1-2 2-3");
  CHECK(marked(unit, "shift", "downshift") == "3-2 2-1");
  CHECK(marked(unit, "shift", "engagement") == "N-1");
  CHECK(marked(unit, "shift", "skipping").empty());
}

TEST_CASE("out of an empty neutral both elements come on") {
  const profile::Profile unit = read(std::string(three_speed));
  CHECK(related(unit, "shift", "N-1", "applying", "element") == "F L");
  CHECK(related(unit, "shift", "N-1", "holding", "element").empty());
}

TEST_CASE("single swaps leave out shifts into reverse and those that change two elements") {
  const profile::Profile unit = read(changed("[1-2, 2-3, 3-2, 2-1, N-1]", "single swaps"));
  std::string names;
  for (const profile::Shift& shift : unit.shifts) names += shift.name + " ";
  CHECK(names == "1-2 1-3 2-3 3-2 3-1 2-1 N-1 N-R ");
  CHECK(marked(unit, "shift", "skipping") == "1-3 3-1");
}

TEST_CASE("a one-way clutch does the brake's work under power, not in reverse") {
  const profile::Profile unit = read(with_one_way_clutch());
  // 1st holds the rear carrier against turning backwards, reverse against turning forwards.
  CHECK(related(unit, "gear", "1", "using", "element") == "F");
  CHECK(related(unit, "gear", "R", "using", "element") == "D L");
  CHECK(related(unit, "gear", "R", "straining", "element") == "D L");
  CHECK(unit.gears.at(1).ratio == doctest::Approx(27.0 / 11.0));
  CHECK(unit.gears.at(1).torque_share.at(3) == 0.0);
  CHECK(unit.gears.at(1).slip.size() == 1);
  CHECK(marked(unit, "element", "one_way_clutched") == "L");
}

TEST_CASE(
    "with a one-way clutch the shift out of 1st releases nothing and the one into it applies "
    "nothing") {
  std::string text = with_one_way_clutch();
  CHECK(related(read(text), "shift", "1-2", "releasing", "element").empty());
  CHECK(related(read(text), "shift", "1-2", "applying", "element") == "I");
  CHECK(related(read(text), "shift", "2-1", "applying", "element").empty());
  text.replace(text.find("[1-2, 2-3, 3-2, 2-1, N-1]"), 25, "single swaps");
  CHECK(read(text).shifts.size() == 8);
}

TEST_CASE("a scope without an s in its plural says so") {
  const profile::Profile unit = read(
      changed("valve: { members: [V1, V2, V3] }",
              "valve: { members: [V1, V2, V3] }\n  pulley: { plural: pulleys_all, members: [] }"));
  CHECK(unit.vocabulary.find_scope("pulleys_all") == unit.vocabulary.find_scope("pulley"));
  CHECK(unit.vocabulary.find_scope("valves") == unit.vocabulary.find_scope("valve"));
  CHECK(unit.vocabulary.member_count(unit.vocabulary.find_scope("pulley")) == 0);
  CHECK(unit.vocabulary.member_count(std::nullopt) == 1);
}

TEST_CASE("codes without a scope stand for the unit") {
  const profile::Profile unit = read(std::string(three_speed));
  const auto family = unit.vocabulary.find_code_family("level_code");
  REQUIRE(family.has_value());
  CHECK_FALSE(unit.vocabulary.code_families.at(family->at()).scope.has_value());
  CHECK(unit.code_maps.at(family->at()).codes.at(0).size() == 2);
  // A gear without a code has none, which is not the same as an unknown one.
  CHECK(unit.code_maps.at(0).codes.at(0).empty());
  CHECK_FALSE(unit.vocabulary.find_code_family("no_code").has_value());
}

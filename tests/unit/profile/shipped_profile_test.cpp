// The shipped six-speed, row by row against tables that were worked out beside the program: by hand
// from the chart, torque shares and slip formulas from the closed equations of the layout.
#include <array>
#include <cmath>
#include <fstream>
#include <sstream>

#include "profile_text.h"

using namespace slipcase;
using namespace slipcase::test;

namespace {

const profile::Profile& six_speed() {
  static const ProfileReading reading = [] {
    std::ifstream file(SLIPCASE_RULES "/six_speed/profile.yaml");
    std::stringstream text;
    text << file.rdbuf();
    return ProfileReading(text.str());
  }();
  REQUIRE(reading.messages() == Lines{});
  REQUIRE(reading.profile.has_value());
  return *reading.profile;
}

const profile::Gear& gear(std::string_view name) {
  const auto& gears = six_speed().gears;
  const auto found =
      std::find_if(gears.begin(), gears.end(), [&](const auto& one) { return one.name == name; });
  REQUIRE(found != gears.end());
  return *found;
}

constexpr std::array<std::string_view, 5> elements{"K1", "K2", "K3", "B1", "B2"};

}  // namespace

TEST_CASE("the shipped profile is read without a message") {
  CHECK(six_speed().name == "six_speed");
  CHECK(six_speed().vocabulary.unit == "six_speed");
  CHECK(six_speed().vocabulary.scope(six_speed().element_scope).members ==
        std::vector<std::string>(elements.begin(), elements.end()));
}

TEST_CASE("ratios of the six-speed come from its tooth counts") {
  struct Row {
    std::string_view gear;
    double ratio;
  };
  for (const Row& row : {Row{"R", -3.399}, Row{"1", 3.930}, Row{"2", 2.260}, Row{"3", 1.515},
                         Row{"4", 1.151}, Row{"5", 0.868}, Row{"6", 0.692}}) {
    CAPTURE(row.gear);
    CHECK(std::abs(gear(row.gear).ratio - row.ratio) < 0.0006);
  }
}

TEST_CASE("every shift applies, releases and holds what the chart says") {
  struct Row {
    std::string_view shift, off, on, holds;
  };
  constexpr std::array rows{
      Row{"1-2", "B2", "B1", "K1"}, Row{"2-1", "B1", "B2", "K1"}, Row{"1-3", "B2", "K2", "K1"},
      Row{"3-1", "K2", "B2", "K1"}, Row{"1-4", "B2", "K3", "K1"}, Row{"4-1", "K3", "B2", "K1"},
      Row{"2-3", "B1", "K2", "K1"}, Row{"3-2", "K2", "B1", "K1"}, Row{"2-4", "B1", "K3", "K1"},
      Row{"4-2", "K3", "B1", "K1"}, Row{"3-4", "K2", "K3", "K1"}, Row{"4-3", "K3", "K2", "K1"},
      Row{"3-5", "K1", "K3", "K2"}, Row{"5-3", "K3", "K1", "K2"}, Row{"4-5", "K1", "K2", "K3"},
      Row{"5-4", "K2", "K1", "K3"}, Row{"4-6", "K1", "B1", "K3"}, Row{"6-4", "B1", "K1", "K3"},
      Row{"5-6", "K2", "B1", "K3"}, Row{"6-5", "B1", "K2", "K3"}, Row{"2-6", "K1", "K3", "B1"},
      Row{"6-2", "K3", "K1", "B1"}, Row{"N-1", "", "K1", "B2"},   Row{"N-R", "", "K2", "B2"}};
  for (const Row& row : rows) {
    CAPTURE(row.shift);
    CHECK(related(six_speed(), "shift", row.shift, "releasing", "element") == row.off);
    CHECK(related(six_speed(), "shift", row.shift, "applying", "element") == row.on);
    CHECK(related(six_speed(), "shift", row.shift, "holding", "element") == row.holds);
  }
  CHECK(six_speed().shifts.size() == rows.size());
}

TEST_CASE("what an element comes on and goes off in is the same read from the other end") {
  const auto of = [](std::string_view element, std::string_view word) {
    return related(six_speed(), "element", element, word, "shift");
  };
  CHECK(of("K1", "applied_by") == "6-4 6-2 5-4 5-3 N-1");
  CHECK(of("K2", "applied_by") == "1-3 2-3 4-5 6-5 4-3 N-R");
  CHECK(of("B1", "applied_by") == "1-2 4-6 5-6 4-2 3-2");
  CHECK(of("B2", "applied_by") == "4-1 3-1 2-1");
  CHECK(of("K3", "applied_by") == "1-4 2-4 2-6 3-4 3-5");
  CHECK(of("K1", "released_by") == "2-6 3-5 4-5 4-6");
  CHECK(of("K2", "released_by") == "3-4 5-6 5-4 3-2 3-1");
  CHECK(of("B1", "released_by") == "2-3 2-4 6-5 6-4 2-1");
  CHECK(of("B2", "released_by") == "1-2 1-3 1-4");
  CHECK(of("K3", "released_by") == "6-2 5-3 4-3 4-2 4-1");
}

TEST_CASE("gears use, strain and ease elements as chart and torque shares say") {
  struct Row {
    std::string_view element, used, strained, eased, unused;
  };
  // Strained: at least three quarters of the largest share, so where a weak element slips first.
  for (const Row& row :
       {Row{"K1", "1 2 3 4", "1 2", "3 4", "R 5 6"}, Row{"K2", "R 3 5", "R", "3 5", "1 2 4 6"},
        Row{"K3", "4 5 6", "5 6", "4", "R 1 2 3"}, Row{"B1", "2 6", "2", "6", "R 1 3 4 5"},
        Row{"B2", "R 1", "R", "1", "2 3 4 5 6"}}) {
    CAPTURE(row.element);
    const auto gears = [&](std::string_view word) {
      return related(six_speed(), "element", row.element, word, "gear");
    };
    CHECK(gears("used_by") == row.used);
    CHECK(gears("strained_by") == row.strained);
    CHECK(gears("eased_by") == row.eased);
    CHECK(gears("unused_by") == row.unused);
  }
  CHECK(related(six_speed(), "gear", "5", "straining", "element") == "K3");
  CHECK(related(six_speed(), "gear", "5", "easing", "element") == "K2");
  CHECK(related(six_speed(), "gear", "5", "without", "element") == "K1 B1 B2");
}

TEST_CASE("torque shares per unit of turbine torque") {
  struct Row {
    std::string_view gear;
    std::array<double, 5> shares;  // K1 K2 K3 B1 B2
  };
  for (const Row& row : {Row{"R", {0, 1.52, 0, 0, 4.91}}, Row{"1", {1.52, 0, 0, 0, 2.41}},
                         Row{"2", {1.52, 0, 0, 0.74, 0}}, Row{"3", {1.02, 0.50, 0, 0, 0}},
                         Row{"4", {0.44, 0, 0.71, 0, 0}}, Row{"5", {0, 0.39, 1.26, 0, 0}},
                         Row{"6", {0, 0, 1.00, 0.31, 0}}}) {
    CAPTURE(row.gear);
    for (std::size_t i = 0; i < elements.size(); ++i) {
      CAPTURE(elements[i]);
      CHECK(std::abs(gear(row.gear).torque_share[i] - row.shares[i]) < 0.0051);
    }
  }
}

TEST_CASE("slip formulas of the element that slips while the other holds") {
  struct Row {
    std::string_view gear, element;
    double turbine, output;
  };
  for (const Row& row :
       {Row{"1", "K1", 0.660, -2.594}, Row{"1", "B2", -0.414, 1.627}, Row{"2", "K1", 0.660, -1.491},
        Row{"2", "B1", -1.343, 3.035}, Row{"3", "K1", 0.984, -1.491}, Row{"3", "K2", 2.003, -3.035},
        Row{"4", "K1", 2.254, -2.594}, Row{"4", "K3", 1.414, -1.627}, Row{"5", "K2", -2.583, 2.243},
        Row{"5", "K3", 0.796, -0.692}, Row{"6", "B1", 3.243, -2.243}, Row{"6", "K3", 1.000, -0.692},
        Row{"R", "K2", 0.660, 2.243}, Row{"R", "B2", 0.203, 0.692}}) {
    CAPTURE(row.gear);
    CAPTURE(row.element);
    const auto& formulas = gear(row.gear).slip;
    const auto found = std::find_if(formulas.begin(), formulas.end(), [&](const auto& formula) {
      return elements.at(formula.element.at()) == row.element;
    });
    REQUIRE(found != formulas.end());
    CHECK(std::abs(found->turbine - row.turbine) < 0.00051);
    CHECK(std::abs(found->output - row.output) < 0.00051);
    // Where nothing slips, turbine and output stand in the ratio of the gear.
    CHECK(std::abs(found->turbine * gear(row.gear).ratio + found->output) < 1e-12);
  }
}

TEST_CASE("open elements turn as fast as the train makes them, per 1000 of the turbine") {
  struct Row {
    std::string_view gear;
    std::array<double, 5> speeds;
  };
  for (const Row& row : {Row{"1", {0, 1231, 1000, 571, 0}}, Row{"2", {0, 660, 694, 0, 306}},
                         Row{"3", {0, 0, 340, 660, 660}}, Row{"4", {0, 634, 0, 1294, 1000}},
                         Row{"5", {733, 0, 0, 660, 1000}}, Row{"6", {1496, 660, 0, 0, 1000}},
                         Row{"R", {1423, 0, 1000, 660, 0}}}) {
    CAPTURE(row.gear);
    for (std::size_t i = 0; i < elements.size(); ++i) {
      CAPTURE(elements[i]);
      REQUIRE(gear(row.gear).speed_across[i].has_value());
      CHECK(std::abs(1000 * std::abs(*gear(row.gear).speed_across[i]) - row.speeds[i]) < 0.51);
    }
  }
}

TEST_CASE("marks of elements, gears and shifts") {
  CHECK(marked(six_speed(), "element", "rotating") == "K1 K2 K3");
  CHECK(marked(six_speed(), "element", "case_fixed") == "B1 B2");
  CHECK(marked(six_speed(), "element", "one_way_clutched").empty());
  CHECK(marked(six_speed(), "gear", "forward") == "1 2 3 4 5 6");
  CHECK(marked(six_speed(), "gear", "reverse") == "R");
  CHECK(marked(six_speed(), "shift", "upshift") == "1-2 1-3 1-4 2-3 2-4 2-6 3-4 3-5 4-5 4-6 5-6");
  CHECK(marked(six_speed(), "shift", "downshift") == "6-5 6-4 6-2 5-4 5-3 4-3 4-2 4-1 3-2 3-1 2-1");
  CHECK(marked(six_speed(), "shift", "engagement") == "N-1 N-R");
  CHECK(marked(six_speed(), "shift", "skipping") ==
        "1-3 1-4 2-4 2-6 3-5 4-6 6-4 6-2 5-3 4-2 4-1 3-1");
}

TEST_CASE("shared feeds of the six-speed") {
  CHECK(related(six_speed(), "regulator", "RK3", "feeding", "element") == "K3");
  CHECK(related(six_speed(), "regulator", "RM", "feeding", "element").empty());
  CHECK(related(six_speed(), "element", "B2", "fed_by", "regulator") == "RB2");
  CHECK(related(six_speed(), "shaft", "input_shaft", "carrying", "element") == "K1 K3");
  CHECK(related(six_speed(), "element", "K2", "carried_by", "shaft") == "support");
  CHECK(related(six_speed(), "regulator", "RK2", "beside", "regulator") == "RK1 RB1");
  CHECK(related(six_speed(), "gear", "R", "driven_in", "range") == "R");
}

TEST_CASE("R is a gear and a range") {
  CHECK(six_speed().vocabulary.scopes_with_member("R").size() == 2);
  CHECK(six_speed().vocabulary.scopes_with_member("K1").size() == 1);
  CHECK(six_speed().vocabulary.scopes_with_member("K9").empty());
}

TEST_CASE("B2 has wider limits than the other elements") {
  const profile::ReadingProfile* pressure = six_speed().find_reading("fill_pressure");
  REQUIRE(pressure != nullptr);
  REQUIRE(pressure->bounds.size() == 5);
  CHECK(pressure->bounds[0].high_limit == 30000.0);  // Pa
  CHECK(pressure->bounds[4].high_limit == 35000.0);
  CHECK(pressure->bounds[4].low_watch == -12000.0);
  CHECK(pressure->bounds[4].scatter == pressure->bounds[0].scatter);
  CHECK(six_speed().find_reading("fill_pressur") == nullptr);
}

TEST_CASE("a reading without limits is no share of anything") {
  const profile::ReadingProfile* speed = six_speed().find_reading("turbine_speed");
  REQUIRE(speed != nullptr);
  CHECK(speed->bounds.size() == 7);
  CHECK(std::isinf(speed->bounds[0].high_limit));
  CHECK(speed->bounds[0].highest_possible == 9000.0);
  CHECK(six_speed().turbine_speed == "turbine_speed");
}

TEST_CASE("ratio codes follow the standard: gear 6 is P0729, reverse P0736") {
  // SAE J2012: P0731 to P0735, P0736 reverse, P0729 gear 6.
  const auto& maps = six_speed().code_maps;
  const auto map = std::find_if(maps.begin(), maps.end(),
                                [](const auto& one) { return one.family == "ratio_code"; });
  REQUIRE(map != maps.end());
  std::string codes;
  for (const auto& member : map->codes) codes += member.at(0).text() + " ";
  CHECK(codes == "P0736 P0731 P0732 P0733 P0734 P0735 P0729 ");
  CHECK(six_speed().own_controller == "transmission");
  CHECK(six_speed().controllers.at(0).name == "transmission");
}

TEST_CASE("service data of the six-speed") {
  CHECK(six_speed().learning_temperature->low == doctest::Approx(65));
  CHECK(six_speed().learning_temperature->high == doctest::Approx(110));
  CHECK(six_speed().level_temperature->high == doctest::Approx(50));
  CHECK(six_speed().fresh_time.value == 60 * 86'400'000.0);
  CHECK(six_speed().fresh_distance.value == 3000 * 1e6);
  CHECK(six_speed().costs.labour_rate == 150);
  CHECK(six_speed().costs.currency == "");
  CHECK(six_speed().resets.at(0).event == "values_cleared");
  CHECK(six_speed().resets.at(0).clears_only);
  CHECK_FALSE(six_speed().resets.at(1).clears_only);
}

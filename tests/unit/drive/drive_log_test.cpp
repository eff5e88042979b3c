// What a log and its mapping may say, and what is refused at which place.
#include <cmath>

#include <doctest/doctest.h>

#include "support/drive_reading.h"

using namespace slipcase;
using namespace slipcase::test;

namespace {

using Said = std::vector<std::string>;

const std::string header = "t;v;n turbine;n output;gear;pedal;oil\n";
const std::string row = "0;0;700;0;N;0;85\n";

/// A mapping with one line in place of another.
Said with_mapping(const std::string& instead_of, const std::string& written) {
  std::string mapping = DriveMaker::mapping();
  const std::size_t at = mapping.find(instead_of);
  REQUIRE(at != std::string::npos);
  mapping.replace(at, instead_of.size(), written);
  return DriveReading(header + row + "1;0;700;0;N;0;85\n", mapping).messages();
}

}  // namespace

TEST_CASE("an empty cell keeps the value of the row above, or takes the first that comes") {
  const DriveReading reading(header + "0;;700;0;N;;85\n1;10;700;0;;5;\n2;;700;0;1;;90\n");
  REQUIRE(reading.log);
  CHECK(reading.log->speed == std::vector<double>{10 / 3.6, 10 / 3.6, 10 / 3.6});
  CHECK(reading.log->pedal == std::vector<double>{0.05, 0.05, 0.05});
  CHECK(reading.log->fluid == std::vector<double>{85, 85, 90});
  CHECK(reading.log->gear == std::vector<drive::GearCode>{7, 7, 1});
  CHECK(reading.log->line == std::vector<std::uint32_t>{2, 3, 4});
}

TEST_CASE("pedal, speed and fluid are carried on for five seconds only") {
  const DriveReading reading(header +
                             "0;10;700;0;N;5;85\n5;;700;0;N;;\n5.1;;;;;;\n6;10;700;0;N;5;86\n");
  REQUIRE(reading.log);
  CHECK(reading.log->fluid[1] == 85);
  for (const auto* column : {&reading.log->fluid, &reading.log->pedal, &reading.log->speed})
    CHECK(std::isnan((*column)[2]));
  CHECK(reading.log->turbine[2] == 700);
  CHECK(reading.log->fluid[3] == 86);
  const DriveReading late(header + "0;10;700;0;N;5;\n6;10;700;0;N;5;\n9;10;700;0;N;5;85\n");
  REQUIRE(late.log);
  CHECK(std::isnan(late.log->fluid[0]));
  CHECK(late.log->fluid[1] == 85);
}

TEST_CASE("gears are known by their names, as numbers, and as the mapping says") {
  const std::string mapping = DriveMaker::mapping() + "\n";
  std::string mapped = mapping;
  mapped.replace(mapped.find("{ means: gear }"), 15,
                 "{ means: gear, values: { \"-1\": R, D: none, P: N } }");
  const DriveReading reading(
      header + row + "1;0;0;0;2.0;0;85\n2;0;0;0;-1;0;85\n3;0;0;0;D;0;85\n4;0;0;0;P;0;85\n", mapped);
  REQUIRE(reading.log);
  CHECK(reading.log->gear == std::vector<drive::GearCode>{7, 2, 0, -1, 7});
  CHECK(DriveReading(header + row + "1;0;0;0;D;0;85\n2;0;0;0;D;0;85\n").messages() ==
        Said{"log.csv:3:9 drive-gear-unknown"});
}

TEST_CASE("time that runs backwards is refused with its line") {
  CHECK(DriveReading(header + row + "1;0;0;0;N;0;85\n0.5;0;0;0;N;0;85\n").messages() ==
        Said{"log.csv:4:1 drive-time-backwards"});
  CHECK(DriveReading(header + row + "0;0;0;0;N;0;85\n").messages().empty());
  CHECK(DriveReading(header + row).messages() == Said{"log.csv:2:1 drive-too-short"});
}

TEST_CASE("values that no vehicle shows are refused, with the unit in doubt") {
  const DriveReading reading(header + row + "1;0;0;0;N;0;850\n2;700;0;0;N;140;85\n");
  CHECK(reading.messages() == Said{"log.csv:4:3 drive-value-impossible",
                                   "log.csv:4:13 drive-value-impossible",
                                   "log.csv:3:13 drive-value-impossible"});
  CHECK(DriveReading(header + "0;;0;0;N;0;85\n1;;0;0;N;0;85\n").messages() ==
        Said{"columns.yaml:4:3 drive-column-empty"});
}

TEST_CASE("more rows with one mistake than a person reads are counted") {
  std::string text = header + row;
  for (int i = 0; i < 200; ++i) text += "1;0;0;0;N;0;999\n";
  const DriveReading reading(text);
  CHECK(reading.diagnostics.list().size() == 6);
}

TEST_CASE("mistakes in the mapping are told at their places") {
  CHECK(with_mapping("means: pedal", "means: paddle") ==
        Said{"columns.yaml:7:23 drive-meaning-unknown"});
  CHECK(with_mapping("means: pedal, unit: \"%\"", "means: pedal") ==
        Said{"columns.yaml:7:3 mapping-column-missing"});
  CHECK(with_mapping("unit: C", "unit: bar") == Said{"columns.yaml:8:48 value-unit-wrong"});
  CHECK(with_mapping("means: turbine_speed", "means: output_speed") ==
        Said{"columns.yaml:6:3 mapping-column-twice"});
  CHECK(with_mapping("{ means: gear }", "{ means: gear, unit: s }") ==
        Said{"columns.yaml:9:35 drive-meaning-unknown"});
  CHECK(with_mapping("{ means: gear }", "{ means: gear, values: { D: 9 } }") ==
        Said{"columns.yaml:9:42 drive-gear-unknown"});
  CHECK(with_mapping("means: vehicle_speed, unit: km/h", "means: turbine_speed, unit: rpm") ==
        Said{"columns.yaml:5:3 mapping-column-twice", "columns.yaml:3:3 mapping-column-missing"});
  CHECK(with_mapping("  gear:      { means: gear }\n", "").empty());
  CHECK(with_mapping("  v:  ", "  vee:") == Said{"columns.yaml:4:3 table-no-such-column"});
}

#include "units/trouble_code.h"

#include <fstream>
#include <string>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using slipcase::units::authority;
using slipcase::units::CodeAuthority;
using slipcase::units::TroubleCode;

namespace {

nlohmann::json reference_codes() {
  std::ifstream file(SLIPCASE_TEST_DATA "/reference/trouble_codes.json");
  return nlohmann::json::parse(file);
}

TroubleCode code(const std::string& text) {
  const auto parsed = TroubleCode::parse(text);
  REQUIRE(parsed);
  return *parsed;
}

}  // namespace

TEST_CASE("two bytes and text of a code agree with the examples of the standard") {
  // SAE J2012 / ISO 15031-6, SAE J1979 / ISO 15031-5; see the file.
  const auto table = reference_codes();
  for (const auto& pair : table.at("codes").at("pairs")) {
    const auto bits =
        static_cast<std::uint16_t>(std::stoul(pair.at(0).get<std::string>(), nullptr, 16));
    const auto text = pair.at(1).get<std::string>();
    CAPTURE(text);
    CHECK(TroubleCode::from_bits(bits).text() == text);
    CHECK(code(text).bits() == bits);
  }
}

TEST_CASE("all 65536 codes read back from their own text") {
  for (unsigned bits = 0; bits <= 0xFFFF; ++bits) {
    const auto before = TroubleCode::from_bits(static_cast<std::uint16_t>(bits));
    const auto after = TroubleCode::parse(before.text());
    REQUIRE(after);
    REQUIRE(*after == before);
  }
}

TEST_CASE("codes may be written in small letters") {
  CHECK(code("p0733") == code("P0733"));
  CHECK(code("b16a1").text() == "B16A1");
}

TEST_CASE("what is not one letter, a digit up to 3 and three hexadecimal digits is no code") {
  for (const char* text : {"", "P73", "P07333", "X0733", "P4733", "P073G", " P0733", "P0733 ",
                           "0733", "P-733", "P0733-00"}) {
    CAPTURE(text);
    CHECK_FALSE(TroubleCode::parse(text));
  }
}

TEST_CASE("who defines a code follows the ranges of the standard") {
  // SAE J2012 / ISO 15031-6; see the file for what is from memory.
  unsigned checked = 0;
  const auto table = reference_codes();
  for (const auto& range : table.at("authorities").at("ranges")) {
    const auto expected = range.at(2).get<std::string>();
    const unsigned first = code(range.at(0).get<std::string>()).bits();
    const unsigned last = code(range.at(1).get<std::string>()).bits();
    for (unsigned bits = first; bits <= last; ++bits, ++checked) {
      const CodeAuthority found =
          authority(TroubleCode::from_bits(static_cast<std::uint16_t>(bits)));
      const bool same = (found == CodeAuthority::standard) == (expected == "standard") &&
                        (found == CodeAuthority::manufacturer) == (expected == "manufacturer");
      CAPTURE(bits);
      REQUIRE(same);
    }
  }
  CHECK(checked == 65'536);
}

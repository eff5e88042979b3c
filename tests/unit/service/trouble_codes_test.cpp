#include "service/trouble_codes.h"

#include <map>
#include <set>
#include <sstream>

#include <nlohmann/json.hpp>

#include "service/code_words.h"
#include "unit/service/units_under_test.h"

using namespace slipcase;
using namespace slipcase::test;
using units::TroubleCode;

namespace {

using Names = std::vector<std::string>;

CodeMeanings explained(const profile::Profile& unit, const Names& texts) {
  std::vector<TroubleCode> codes;
  for (const std::string& text : texts) codes.push_back(TroubleCode::parse(text).value());
  return service::explain_codes(unit, codes);
}

CodeMeaning one(const std::string& text) { return explained(six_speed(), {text}).codes.at(0); }

std::optional<TroubleCode> read(const Names& words) {
  std::size_t at = 0;
  const auto code = service::read_code(words, at);
  if (code) CHECK(at == words.size());
  return code;
}

/// What a text says that can be told apart by machine: states, digits, letters of parts.
std::set<std::string> said(std::string text) {
  std::set<std::string> words;
  for (const std::string part : {"A", "B", "C", "D", "E", "F"}) {
    const bool there = (" " + text + " ").find(" " + part + " ") != std::string::npos ||
                       text.find(" " + part + ":") != std::string::npos;
    if (there) words.insert(part);
  }
  std::string digits;
  for (char& c : text) {
    if ((c >= '0' && c <= '9') || (c == '-' && !digits.empty())) digits += c;
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  if (!digits.empty()) words.insert(digits);
  for (const std::string state : {"stuck off", "stuck on", "intermittent", "electrical",
                                  "no signal", "unstable", "reverse", "too short", "too long"}) {
    if (text.find(state) != std::string::npos) words.insert(state);
  }
  std::istringstream stream(text);
  for (std::string word; stream >> word;) {
    if (word == "low" || word == "high") words.insert(word);
  }
  return words;
}

}  // namespace

TEST_CASE("the standard's examples are read in every form that they are written in") {
  // SAE J2012 / ISO 15031-6, SAE J1979 / ISO 15031-5; see the file.
  std::ifstream file(SLIPCASE_TEST_DATA "/reference/trouble_codes.json");
  const auto table = nlohmann::json::parse(file);
  for (const auto& pair : table.at("codes").at("pairs")) {
    const auto digits = pair.at(0).get<std::string>();
    const auto text = pair.at(1).get<std::string>();
    CAPTURE(text);
    for (const Names& words : {Names{text}, Names{"0x" + digits}, Names{digits},
                               Names{digits.substr(0, 2), digits.substr(2)}}) {
      REQUIRE(read(words));
      CHECK(read(words)->text() == text);
    }
    CHECK(service::in_bytes(*read({text})) == digits.substr(0, 2) + " " + digits.substr(2));
  }
}

TEST_CASE("what is neither a code nor two bytes is read as none") {
  for (const Names& words : {Names{"P73"}, Names{"07"}, Names{"0733x"}, Names{"0x073"},
                             Names{"X0733"}, Names{""}, Names{"07333"}}) {
    CAPTURE(words.front());
    CHECK_FALSE(read(words));
  }
}

TEST_CASE("the letter says which system a code is about") {
  // SAE J2012 / ISO 15031-6.
  CHECK(one("P0733").system == "engine and transmission");
  CHECK(one("C0040").system == "chassis");
  CHECK(one("B0001").system == "body");
  CHECK(one("U0100").system == "network between controllers");
}

TEST_CASE("our texts say what open lists of the standard's codes say") {
  // SAE J2012 / ISO 15031-6 as transcribed in open lists, see README.md beside the file. Compared
  // is what can be compared by machine: states such as low or stuck on, gears, letters of parts.
  const profile::Profile unit = six_speed();
  std::ifstream file(SLIPCASE_TEST_DATA "/reference/code_meanings.csv");
  std::string row;
  std::getline(file, row);
  unsigned compared = 0;
  while (std::getline(file, row)) {
    const auto code = TroubleCode::parse(row.substr(0, 5));
    REQUIRE(code);
    const auto text = unit.code_texts.find(*code);
    if (text == unit.code_texts.end()) continue;
    const std::string meaning = row.substr(6, row.rfind(',') - 6);
    CAPTURE(row);
    CAPTURE(text->second);
    CHECK(said(text->second) == said(meaning));
    ++compared;
  }
  CHECK(compared > 150);
}

TEST_CASE("a ratio code is about its gear and the elements that hold it") {
  const CodeMeaning code = one("P0733");
  CHECK(code.text == "wrong ratio in gear 3");
  CHECK(code.bytes == "07 33");
  CHECK(code.group == "transmission");
  CHECK(code.controller == "transmission");
  CHECK(code.author == CodeAuthor::standard);
  REQUIRE(code.parts.size() == 1);
  CHECK(code.parts[0].family == "ratio_code");
  CHECK(code.parts[0].member == "3");
  CHECK(code.parts[0].elements == Names{"K1", "K2"});
}

TEST_CASE("a regulator's code is about the element that it feeds and the gears of that") {
  const CodeMeaning code = one("P0775");
  REQUIRE(code.parts.size() == 1);
  CHECK(code.parts[0].scope == "regulator");
  CHECK(code.parts[0].member == "RK1");
  CHECK(code.parts[0].elements == Names{"K1"});
  CHECK(code.parts[0].gears == Names{"1", "2", "3", "4"});
  CHECK_FALSE(code.letter_open);
}

TEST_CASE("a word for what is not so brings no elements") {
  const std::string text = replaced(shipped_text(), "    inverse: fed_by\n",
                                    "    inverse: fed_by\n    negative: [not_feeding, not_fed]\n");
  const CodeMeanings codes = explained(unit_of(text), {"P0775"});
  CHECK(codes.codes.at(0).parts.at(0).elements == Names{"K1"});
}

TEST_CASE("a shift's code is about what comes on, goes off and stays") {
  const CodeMeaning code = one("P0782");
  REQUIRE(code.parts.size() == 1);
  CHECK(code.parts[0].applies == Names{"K2"});
  CHECK(code.parts[0].releases == Names{"B1"});
  CHECK(code.parts[0].elements == Names{"K1"});
}

TEST_CASE("an element's code is about the gears that use it") {
  const CodeMeaning code = one("P079E");
  REQUIRE(code.parts.size() == 1);
  CHECK(code.parts[0].elements == Names{"K3"});
  CHECK(code.parts[0].gears == Names{"4", "5", "6"});
}

TEST_CASE("a letter that the profile does not explain is said to be open") {
  CHECK(one("P0755").letter_open);  // shift solenoid B; this unit has none
  CHECK_FALSE(one("P0700").letter_open);
  CHECK_FALSE(one("P0604").letter_open);  // (RAM) is no letter
}

TEST_CASE("a code without a text still says who defines it and where it belongs") {
  const CodeMeaning makers = one("P1701");
  CHECK(makers.text.empty());
  CHECK(makers.author == CodeAuthor::manufacturer);
  CHECK(makers.controller == "transmission");
  const CodeMeaning unknown = one("P0ABC");
  CHECK(unknown.text.empty());
  CHECK(unknown.author == CodeAuthor::standard);
  CHECK(unknown.group == "electric and hybrid drive");
  CHECK(one("B3FFF").author == CodeAuthor::reserved);
  CHECK(one("B3FFF").controller.empty());
}

TEST_CASE("ratio codes of several gears point at the element that all of them need") {
  // By the chart: K3 is in 4, 5 and 6; K1 in 1 to 4; K2 in 3, 5 and R; B1 in 2 and 6; B2 in 1 and
  // R.
  const profile::Profile unit = six_speed();
  const std::map<std::string, Names> pointed_at{{"K3", {"P0734", "P0735", "P0729"}},
                                                {"K1", {"P0731", "P0732", "P0733", "P0734"}},
                                                {"K2", {"P0733", "P0735", "P0736"}},
                                                {"B1", {"P0732", "P0729"}},
                                                {"B2", {"P0731", "P0736"}}};
  for (const auto& entry : pointed_at) {
    const std::string& element = entry.first;
    const Names& codes = entry.second;
    CAPTURE(element);
    CHECK(explained(unit, codes).common_elements == Names{element});
  }
}

TEST_CASE("codes of gears without a common element point at none") {
  const CodeMeanings codes = explained(six_speed(), {"P0731", "P0735"});
  CHECK(codes.common_gears == Names{"1", "5"});
  CHECK(codes.common_elements.empty());
}

TEST_CASE("one gear, or gears of different kinds of code, are not put together") {
  const profile::Profile unit = six_speed();
  CHECK(explained(unit, {"P0731", "P0731"}).common_gears.empty());
  CHECK(explained(unit, {"P0731", "P072F"}).common_gears.empty());
}

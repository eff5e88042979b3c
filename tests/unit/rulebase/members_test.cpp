#include <doctest/doctest.h>

#include "shop.h"

using namespace slipcase::test;

namespace {

std::string member_shows(std::string_view what, std::string_view scope = "") {
  return with_shop("cause a" + std::string(scope) + " found in 1 of 9 jobs\nshows " +
                   std::string(what) + " in 1 of 2 jobs");
}

std::string member_when(std::string_view condition, std::string_view scope = "") {
  return with_shop("finding f" + std::string(scope) + "\nwhen " + std::string(condition));
}

}  // namespace

TEST_CASE("a line reaches each of a selection, the own member or a named one") {
  CHECK(member_shows("harsh of each shift") == "");
  CHECK(member_shows("harsh of 2-3") == "");
  CHECK(member_shows("slips of element", " of element") == "");
  CHECK(member_shows("harsh of each shift applying element", " of element") == "");
  CHECK(member_shows("harsh of each shift applying K1") == "");
  CHECK(member_shows("slips of each element that is rotating") == "");
  CHECK(member_shows("slips of each element that is not rotating") == "");
  CHECK(member_shows("slips of each other element", " of element") == "");
}

TEST_CASE("a line to a thing of many members says which") {
  CHECK(member_shows("harsh") == "3:7 all-or-each");
  CHECK(member_shows("harsh of every shift") == "3:16 all-or-each");
}

TEST_CASE("a condition takes every, any, no or at least, not each") {
  CHECK(member_when("each shift ( flare of shift )").find("each-in-condition") !=
        std::string::npos);
  CHECK(member_when("any shift ( flare of shift )") == "");
  CHECK(member_when("flare of any shift") == "");
  CHECK(member_when("at least 2 shifts ( flare of shift )") == "");
  CHECK(member_when("at least 50 % of shifts ( flare of shift )") == "");
}

TEST_CASE("names of scopes mean the innermost member around them") {
  CHECK(member_when("no other element ( air_check of element )", " of element") == "");
  CHECK(member_when("flare of shift").find("3:15 which-member") == 0);
  CHECK(member_when("no other element ( air_check of element )") == "3:15 which-member");
}

TEST_CASE("a member is one of the right scope") {
  CHECK(member_shows("harsh of K1") == "3:16 wrong-scope");
  CHECK(member_shows("harsh of 9-9") == "3:16 unknown-member");
  CHECK(member_shows("harsh of each element") == "3:21 wrong-scope");
  CHECK(member_shows("slips of shift", " of shift") == "3:16 wrong-scope");
  CHECK(member_shows("level_low of K1") == "3:20 no-members");
  CHECK(member_when("flare") == "3:6 which-member");
}

TEST_CASE("scopes, marks and relations are those of the unit") {
  CHECK(with_shop("finding f of cluch asks \"?\"") == "2:14 unknown-scope");
  CHECK(member_shows("slips of each element that is rotatin") == "3:37 unknown-mark");
  CHECK(member_shows("harsh of each shift aplying element", " of element") ==
        "3:27 unknown-relation");
  CHECK(said_with_shop("cause a of element found in 1 of 9 jobs\n"
                       "shows harsh of each shift aplying element in 1 of 2 jobs") ==
        "`aplying` is no word that joins a shift to something, did you mean `applying`?; you can "
        "write `applying element`");
}

TEST_CASE("an amount fits the number of members") {
  CHECK(member_when("at least 9 shifts ( flare of shift )") == "3:15 amount-out-of-range");
  CHECK(member_when("at least 0 % of shifts ( flare of shift )") == "3:15 amount-out-of-range");
}

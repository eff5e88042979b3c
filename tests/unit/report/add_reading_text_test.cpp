// Readings put onto a card, on screen. All values are invented.
#include <doctest/doctest.h>

#include "slipcase/report.h"

using namespace slipcase;

TEST_CASE("what stands behind a value says which line it has reached, and what it looks like") {
  AddedReadings added{"J-1", "card.yaml", {{"2031-04-17", "", "", "", {}}}};
  const auto add = [&](const char* id, const char* value, ReadingRange range, bool at_bound,
                       const char* looks_like, bool on_card) {
    AddedValue one;
    one.id = id;
    one.value = value;
    one.range = range;
    one.bound = range == ReadingRange::inside ? "" : "300 mbar";
    one.at_bound = at_bound;
    one.looks_like = looks_like;
    one.on_card = on_card;
    added.sessions.front().values.push_back(one);
  };
  add("fill_pressure of K1", "65416 mbar", ReadingRange::beyond_limit, false, "-120 mbar", false);
  add("fill_pressure of K2", "300 mbar", ReadingRange::beyond_watch, true, "", false);
  add("fill_time of K2", "9 ms", ReadingRange::inside, false, "", true);
  CHECK(to_text(added) ==
        "Added to job J-1\n"
        " 2031-04-17\n"
        "   fill_pressure of K1     65416 mbar  beyond its limit of 300 mbar; looks like\n"
        "                                       -120 mbar shown without its sign\n"
        "   fill_pressure of K2       300 mbar  at its watch line of 300 mbar\n"
        "\n"
        "Already on the card of job J-1, not written again\n"
        " 2031-04-17\n"
        "   fill_time of K2     9 ms\n");
}

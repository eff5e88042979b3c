// What the members of one kind of reading say together, in words.
#include <string>

#include <doctest/doctest.h>

#include "slipcase/report.h"

namespace slipcase {
namespace {

std::string compared_text(ReadingPattern pattern) {
  pattern.reading = "fill_pressure";
  Comparison comparison;
  comparison.patterns.push_back(std::move(pattern));
  Comparisons comparisons;
  comparisons.list.push_back(std::move(comparison));
  return to_text(comparisons, {200, false});
}

bool says_together(const ReadingPattern& pattern, const std::string& words) {
  return compared_text(pattern).find(" fill pressure: " + words + "\n") != std::string::npos;
}

TEST_CASE("all point to what they share only on one side of zero") {
  ReadingPattern all;
  all.came_back = ChangePattern::all;
  all.same_way = true;
  CHECK(says_together(all,
                      "all are back. Look first at what all share: level and fluid, main pressure, "
                      "supply."));
  all.same_way = false;
  CHECK(says_together(all, "all are back, but not on the same side of zero."));
}

TEST_CASE("what is new is not back") {
  ReadingPattern grown;
  grown.grown = ChangePattern::one;
  grown.grown_members = {"K1"};
  grown.told = 4;
  CHECK(says_together(grown, "only K1 is new: it was not there before."));
  grown.came_back = ChangePattern::several;
  grown.members = {"K2", "K3"};
  CHECK(says_together(grown,
                      "K2 and K3 are back, K1 is new, the others neither. What is new did not come "
                      "back: look at it by itself."));
  grown.members = {};
  grown.came_back = ChangePattern::none;
  grown.grown = ChangePattern::all;
  grown.grown_members = {"K1", "K2", "B1"};
  CHECK(says_together(grown, "K1, K2 and B1 are new, but not on the same side of zero."));
}

TEST_CASE("all moved only where they moved the same way") {
  ReadingPattern moved;
  moved.moved = ChangePattern::all;
  moved.members = {"K1", "K2", "B1"};
  CHECK(says_together(moved, "K1, K2 and B1 moved, but not the same way."));
  moved.same_way = true;
  CHECK(says_together(moved, "all moved the same way. Look first at what all share."));
}

TEST_CASE("values read soon after may still move") {
  Comparisons comparisons;
  comparisons.list.emplace_back().km_after = 5.0;
  CHECK(to_text(comparisons, {200, false}).find("were read 5 km after") != std::string::npos);
}

}  // namespace
}  // namespace slipcase

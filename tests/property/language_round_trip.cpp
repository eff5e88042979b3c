// What is printed reads back as the same tree, for random trees and for random layouts.
#include <random>

#include <doctest/doctest.h>

#include "property/random_tree.h"
#include "support/rounds.h"
#include "unit/language/reading.h"
#include "unit/language/tree_text.h"

namespace slipcase::language::testing {
namespace {

constexpr unsigned files = test::rounds_of(2000);

TEST_CASE("a random tree is printed, read and the same again") {
  for (unsigned seed = 0; seed < files; ++seed) {
    CAPTURE(seed);
    const File file = RandomTree(seed).file();
    const std::string text = print(file);
    CAPTURE(text);
    const Reading reading = read(text);
    REQUIRE_MESSAGE(reading.diagnostics.empty(), reading.rendered());
    REQUIRE(meaning_text(reading.file) == meaning_text(file));
    REQUIRE(print(reading.file) == text);
  }
}

/// Line breaks and indentation carry no meaning in correct text: here every line break within a
/// clause's indentation is widened, and each line ends in a comment.
std::string with_comments(const std::string& text, std::mt19937_64& random) {
  std::string changed;
  for (const char c : text) {
    if (c != '\n') {
      changed += c;
      continue;
    }
    if (random() % 3 == 0) changed += "  # a comment with \"quotes\" and ( parentheses";
    changed += random() % 2 == 0 ? "\n" : "\r\n";
    if (random() % 4 == 0) changed += "\n   # alone\n";
  }
  return changed;
}

TEST_CASE("comments and line ends change nothing") {
  for (unsigned seed = 0; seed < files; ++seed) {
    CAPTURE(seed);
    std::mt19937_64 random(seed);
    const File file = RandomTree(seed).file();
    const Reading reading = read(with_comments(print(file), random));
    REQUIRE_MESSAGE(reading.diagnostics.empty(), reading.rendered());
    REQUIRE(meaning_text(reading.file) == meaning_text(file));
    const std::string once = print(reading.file);
    REQUIRE(print(read(once).file) == once);
    REQUIRE(read(once).file.comments.size() == reading.file.comments.size());
  }
}

TEST_CASE("a file cut off anywhere is read to its end without harm") {
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    const std::string text = print(RandomTree(seed).file());
    for (std::size_t length = 0; length < text.size(); length += 7) {
      const Reading reading = read(text.substr(0, length));
      REQUIRE(reading.messages().size() <= 3);
    }
  }
}

}  // namespace
}  // namespace slipcase::language::testing

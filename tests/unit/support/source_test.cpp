#include "slipcase/source.h"

#include <doctest/doctest.h>

using namespace slipcase;

namespace {

LineColumn at(std::string text, std::uint32_t offset) {
  SourceSet sources;
  const SourceId id = sources.add("x.rules", std::move(text));
  return sources.position(id, offset);
}

void check_at(const std::string& text, std::uint32_t offset, std::uint32_t line,
              std::uint32_t column) {
  CAPTURE(text);
  CAPTURE(offset);
  CHECK(at(text, offset).line == line);
  CHECK(at(text, offset).column == column);
}

}  // namespace

TEST_CASE("lines and columns count from 1") {
  check_at("ab\ncd", 0, 1, 1);
  check_at("ab\ncd", 2, 1, 3);
  check_at("ab\ncd", 3, 2, 1);
  check_at("ab\ncd", 5, 2, 3);
}

TEST_CASE("columns count characters, not bytes") {
  check_at("°C x", 4, 1, 4);
  check_at("2–3: x", 4, 1, 3);
}

TEST_CASE("all three line ends end a line") {
  check_at("a\r\nb", 3, 2, 1);
  check_at("a\rb", 2, 2, 1);
  check_at("a\n\nb", 3, 3, 1);
}

TEST_CASE("places past the end and in an empty text are still places") {
  check_at("", 0, 1, 1);
  check_at("ab", 99, 1, 3);
  check_at("ab\n", 3, 2, 1);
}

TEST_CASE("the line of a place comes without its line end") {
  SourceSet sources;
  const SourceId id = sources.add("x.rules", "one\r\ntwo\nthree");
  CHECK(sources.line_at(id, 1) == "one");
  CHECK(sources.line_at(id, 5) == "two");
  CHECK(sources.line_at(id, 99) == "three");
}

TEST_CASE("the text of a place is cut to what there is") {
  SourceSet sources;
  const SourceId id = sources.add("x.rules", "one two", Origin::shipped);
  CHECK(sources.text_at({id, 4, 7}) == "two");
  CHECK(sources.text_at({id, 4, 99}) == "two");
  CHECK(sources.text_at({id, 99, 100}).empty());
  CHECK(sources.describe({id, 4, 7}) == "x.rules:1:5");
  CHECK(sources.origin(id) == Origin::shipped);
  CHECK(sources.size() == 1);
}

TEST_CASE("adding a text leaves earlier ones as they are") {
  SourceSet sources;
  const SourceId first = sources.add("a", "short");
  for (int i = 0; i < 100; ++i) static_cast<void>(sources.add("b", "more"));
  CHECK(sources.text(first) == "short");
  CHECK(sources.name(first) == "a");
}

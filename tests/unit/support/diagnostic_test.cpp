#include "slipcase/diagnostic.h"

#include <doctest/doctest.h>

#include "support/utf8.h"

using namespace slipcase;

namespace {

constexpr Message wrong{"some-error"};
constexpr Message odd{"some-warning", Severity::warning};

struct Page {
  explicit Page(std::string text) : id(sources.add("card.yaml", std::move(text))) {}

  [[nodiscard]] std::string show(std::uint32_t begin, std::uint32_t end) {
    Diagnostics diagnostics;
    diagnostics.add(wrong, Place{id, begin, end}, "this is wrong");
    return render(diagnostics.list().front(), sources);
  }

  SourceSet sources;
  SourceId id;
};

std::size_t line_width(const std::string& text, std::size_t line) {
  std::size_t begin = 0;
  for (std::size_t i = 0; i < line; ++i) begin = text.find('\n', begin) + 1;
  const std::string one = text.substr(begin, text.find('\n', begin) - begin);
  std::size_t width = 0;
  for (std::size_t at = 0; at < one.size();) {
    const Character character = decode(std::string_view(one).substr(at));
    width += display_width(character.code);
    at += character.length;
  }
  return width;
}

}  // namespace

TEST_CASE("a message shows the place, the line and the underlined part") {
  Page page("job: J-1\nopened: 2031-02-30\n");
  CHECK(page.show(17, 27) ==
        "card.yaml:2:9: error: this is wrong [some-error]\n"
        "    2 | opened: 2031-02-30\n"
        "      |         ^~~~~~~~~~\n");
}

TEST_CASE("a message without a place is one line") {
  Diagnostics diagnostics;
  diagnostics.add(odd, std::nullopt, "nothing was read");
  CHECK(render(diagnostics.list().front(), SourceSet()) ==
        "warning: nothing was read [some-warning]\n");
}

TEST_CASE("notes follow with their own places") {
  Page page("a: 1\na: 2\n");
  Diagnostics diagnostics;
  auto& entry = diagnostics.add(wrong, Place{page.id, 5, 6}, "written twice");
  entry.notes.push_back({Place{page.id, 0, 1}, "the first is here"});
  entry.notes.push_back({std::nullopt, "keep one"});
  CHECK(render(diagnostics.list().front(), page.sources) ==
        "card.yaml:2:1: error: written twice [some-error]\n"
        "    2 | a: 2\n"
        "      | ^\n"
        "card.yaml:1:1: note: the first is here\n"
        "    1 | a: 1\n"
        "      | ^\n"
        "note: keep one\n");
}

TEST_CASE("tabs and wide characters keep the underline in step") {
  CHECK(Page("\tab: x\n").show(1, 3) ==
        "card.yaml:1:2: error: this is wrong [some-error]\n"
        "    1 |     ab: x\n"
        "      |     ^~\n");
  CHECK(Page("中文: x\n").show(8, 9) ==
        "card.yaml:1:5: error: this is wrong [some-error]\n"
        "    1 | 中文: x\n"
        "      |       ^\n");
  CHECK(Page("中文: x\n").show(3, 6) ==
        "card.yaml:1:2: error: this is wrong [some-error]\n"
        "    1 | 中文: x\n"
        "      |   ^~\n");
}

TEST_CASE("a very long line is cut around the place") {
  std::string line(100'000, 'x');
  line.replace(50'000, 4, "here");
  const std::string shown = Page(line).show(50'000, 50'004);
  CHECK(shown.size() < 400);
  CHECK(shown.find("here") != std::string::npos);
  CHECK(shown.find("^~~~") != std::string::npos);
  CHECK(shown.find("here") - shown.find("    1 | ") == shown.find("^~~~") - shown.find("      | "));
  CHECK(line_width(shown, 1) < 130);
}

TEST_CASE("control characters and broken bytes never reach the terminal") {
  const std::string shown = Page("a: \x1B[31m\xFF x\n").show(0, 1);
  CHECK(shown.find('\x1B') == std::string::npos);
  CHECK(shown.find('\xFF') == std::string::npos);
}

TEST_CASE("what a message quotes neither breaks its line nor buries what to do") {
  slipcase::Diagnostics diagnostics;
  diagnostics.add({"x"}, std::nullopt,
                  "`a\nb\tc` is `\xC2\x9B"
                  "31m` and `\xE2\x80\xAE`");
  diagnostics.add({"x"}, std::nullopt, "`" + std::string(5000, 'n') + "` is no name: write one");
  CHECK(diagnostics.list()[0].text == "`a b c` is `?31m` and `?`");
  CHECK(diagnostics.list()[1].text == "`" + std::string(99, 'n') + "...` is no name: write one");
}

TEST_CASE("a place over several lines is underlined on its first") {
  CHECK(Page("abc\ndef\n").show(1, 6) ==
        "card.yaml:1:2: error: this is wrong [some-error]\n"
        "    1 | abc\n"
        "      |  ^~\n");
}

TEST_CASE("a place at the end of the text gets a mark") {
  CHECK(Page("abc").show(3, 4) ==
        "card.yaml:1:4: error: this is wrong [some-error]\n"
        "    1 | abc\n"
        "      |    ^\n");
  CHECK(Page("").show(0, 1) ==
        "card.yaml:1:1: error: this is wrong [some-error]\n"
        "    1 | \n"
        "      | ^\n");
}

TEST_CASE("messages are sorted by place and the same one is told once") {
  Page page("abc\n");
  Diagnostics diagnostics;
  diagnostics.add(wrong, Place{page.id, 2, 3}, "later");
  diagnostics.add(odd, Place{page.id, 0, 1}, "earlier");
  diagnostics.add(wrong, Place{page.id, 2, 3}, "later");
  diagnostics.add(wrong, std::nullopt, "the whole");
  diagnostics.sort();
  REQUIRE(diagnostics.list().size() == 3);
  CHECK(diagnostics.list()[0].text == "the whole");
  CHECK(diagnostics.list()[1].text == "earlier");
  CHECK(diagnostics.list()[2].text == "later");
  CHECK(diagnostics.error_count() == 2);
  CHECK(diagnostics.warning_count() == 1);
}

TEST_CASE("lists are joined with their counts") {
  Diagnostics all;
  CHECK(all.empty());
  Diagnostics more;
  more.add(odd, std::nullopt, "a warning");
  all.append(more);
  CHECK_FALSE(all.has_errors());
  more.add(wrong, std::nullopt, "an error");
  all.append(std::move(more));
  CHECK(all.error_count() == 1);
  CHECK(all.warning_count() == 2);
}

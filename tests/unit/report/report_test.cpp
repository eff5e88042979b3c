#include "slipcase/report.h"

#include <cmath>
#include <limits>

#include <doctest/doctest.h>

#include "report/lines.h"
#include "report/words.h"

using namespace slipcase;

namespace {

Probability p(double value) { return *Probability::from(value); }

Ranking small_ranking() {
  // Invented.
  Ranking ranking;
  ranking.job = "J-1";
  ranking.unit = "six_speed";
  RankedCause worn;
  worn.id = "worn of K2";
  worn.says = "Worn lining in K2";
  worn.prior = p(0.02);
  worn.chance = p(0.613);
  RankedCause sound = worn;
  sound.id = "leak of K2";
  sound.says = "Leaking seal in K2";
  sound.chance = p(0.01);
  ranking.causes = {worn, sound};
  ranking.first = worn.id;
  ranking.stories = {{worn.id, {}}, {sound.id, {}}};
  ranking.nothing_listed = p(0.03);
  return ranking;
}

bool every_line_fits(const std::string& text, std::size_t width) {
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    if (report::columns(std::string_view(text).substr(at, end - at)) > width) return false;
    at = end + 1;
  }
  return true;
}

}  // namespace

TEST_CASE("chances are told as counts that a person can picture") {
  CHECK(in_plain_counts(p(0.613)) == "about 6 of 10");
  CHECK(in_plain_counts(p(0.03)) == "about 3 of 100");
  CHECK(in_plain_counts(p(0.93)) == "about 93 of 100");
  CHECK(in_plain_counts(p(0.0001)) == "fewer than 1 of 200");
  CHECK(in_plain_counts(p(0.9999)) == "more than 99 of 100");
  CHECK(in_plain_counts(Probability::never()) == "none");
  CHECK(in_plain_counts(Probability::certain()) == "all");
}

TEST_CASE("strength words change at 1.5, 3 and 10 times the odds, either way") {
  for (const double sign : {1.0, -1.0}) {
    CHECK(report::strength_word(sign * std::log(1.4)) == "slightly");
    CHECK(report::strength_word(sign * std::log(2.0)) == "somewhat");
    CHECK(report::strength_word(sign * std::log(5.0)) == "clearly");
    CHECK(report::strength_word(sign * std::log(20.0)) == "strongly");
    CHECK(report::strength_word(sign * std::numeric_limits<double>::infinity()) == "strongly");
  }
}

TEST_CASE("text wraps at blanks and counts characters, not bytes") {
  CHECK(report::wrapped("aa bb cc", 5, 0, 0) == "aa bb\ncc\n");
  CHECK(report::wrapped("°°° °°", 6, 0, 0) == "°°° °°\n");
  CHECK(report::wrapped("aa bbbbbbbbbb", 5, 1, 1) == " aa\n  bbbbbbbbbb\n");
  CHECK(report::wrapped("", 5, 2, 2) == "  \n");
}

TEST_CASE("a count stands at the right edge of its line") {
  const std::string line = report::two_sided("Worn lining", "about 6 of 10", 40, 1, 2);
  CHECK(line == " Worn lining               about 6 of 10\n");
}

TEST_CASE("no line of a ranking is wider than the terminal") {
  Ranking ranking = small_ranking();
  ranking.causes[0].says =
      "A cause with so long a text that it cannot stand on one line of eighty columns at all";
  for (const std::size_t width : {40U, 60U, 80U})
    CHECK(every_line_fits(to_text(ranking, {width, false}), width));
}

TEST_CASE("a story stands on its own lines, the start first and numbered") {
  Ranking ranking = small_ranking();
  ranking.first = "leak of K2";
  ranking.stories = {{"leak of K2", {"worn of K2"}}};
  ranking.causes[0].origins = {{"leak of K2", 0.95}};
  const std::string text = to_text(ranking, {80, false});
  const auto start = text.find("  1  Leaking seal in K2");
  const auto then = text.find("     which then caused: Worn lining in K2");
  CHECK(start != std::string::npos);
  CHECK(then != std::string::npos);
  CHECK(start < then);
  CHECK(text.find("  2  ") == std::string::npos);
  // Where it made it in fewer than nine of ten jobs, the screen says less.
  ranking.causes[0].origins = {{"leak of K2", 0.7}};
  CHECK(to_text(ranking, {80, false}).find("which may have caused: Worn") != std::string::npos);
}

TEST_CASE("JSON names the cause that the screen leads with") {
  Ranking ranking = small_ranking();
  CHECK(to_json(ranking).find("\"first\": \"worn of K2\"") != std::string::npos);
  ranking.first.clear();
  ranking.stories.clear();
  CHECK(to_json(ranking).find("\"first\": null") != std::string::npos);
  CHECK(to_text(ranking, {80, false}).find("Nothing stands out") != std::string::npos);
}

TEST_CASE("facts that could move one cause in one way stand in one line") {
  Ranking ranking = small_ranking();
  const CardGap::Move out{"worn of K2", "Worn lining in K2", p(0.613), p(0.0)};
  ranking.card_gaps = {{{"overhaul"}, "Overhaul?", "", 1.0, {out}, 0.613},
                       {{"renewed"}, "Was K2 renewed?", "", 1.0, {out}, 0.613}};
  const std::string text = to_text(ranking, {80, false});
  CHECK(text.find(" - not on the card: Overhaul? Was K2 renewed?\n     could rule out: Worn lining "
                  "in K2\n") != std::string::npos);
}

TEST_CASE("colour only adds to what the words say") {
  const Ranking ranking = small_ranking();
  const std::string plain = to_text(ranking, {80, false});
  std::string coloured = to_text(ranking, {80, true});
  CHECK(plain != coloured);
  for (const std::string code : {"\x1b[1m", "\x1b[0m"}) {
    for (std::size_t at = coloured.find(code); at != std::string::npos; at = coloured.find(code))
      coloured.erase(at, code.size());
  }
  CHECK(plain == coloured);
}

TEST_CASE("numbers in JSON read back exactly") {
  Ranking ranking = small_ranking();
  ranking.log_evidence = -9.2140000000000022;
  const std::string json = to_json(ranking);
  CHECK(json.find("-9.214000000000002") != std::string::npos);
  CHECK(json.find("\"chance\": 0.613") != std::string::npos);
}

TEST_CASE("an infinite factor is null in JSON and a word on screen") {
  Reasons reasons;
  reasons.cause = "worn of K2";
  ReasonStep step;
  step.finding = "slips of K2";
  step.log_factor = -std::numeric_limits<double>::infinity();
  reasons.chain = {step};
  CHECK(to_json(reasons).find("\"log_factor\": null") != std::string::npos);
  CHECK(to_text(reasons).find("rules it out") != std::string::npos);
}

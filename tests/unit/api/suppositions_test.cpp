// Answers that are tried without writing them on the card, by the public headers.
#include <filesystem>
#include <fstream>
#include <memory>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "slipcase/slipcase.h"

using namespace slipcase;

namespace {

/// The shipped rules, read once.
struct SixSpeed {
  std::shared_ptr<SourceSet> sources = std::make_shared<SourceSet>();
  Knowledge knowledge;

  SixSpeed() : knowledge(read(sources)) {}
  static Knowledge read(const std::shared_ptr<SourceSet>& sources) {
    Diagnostics diagnostics;
    RulePaths paths;
    paths.shipped = std::filesystem::path(SLIPCASE_RULES) / "six_speed";
    return *load_knowledge(paths, sources, diagnostics).knowledge;
  }
};

const SixSpeed& six_speed() {
  static const SixSpeed rules;
  return rules;
}

std::string card(const std::string& answers) {
  return "unit: six_speed\nopened: 2031-04-17\nnot_driven: [6]\n"
         "complaint: { findings: [flare of 3-4] }\nanswers: { " +
         answers + " }\n";
}

JobLoad load(const std::string& text, const std::vector<std::string>& supposed,
             Diagnostics& diagnostics) {
  return load_job({"card.yaml", text, std::nullopt}, six_speed().knowledge, diagnostics, supposed);
}

Ranking ranked(const std::string& text, const std::vector<std::string>& supposed = {}) {
  Diagnostics diagnostics;
  const JobLoad job = load(text, supposed, diagnostics);
  REQUIRE(job.job);
  return std::get<Ranking>(rank(six_speed().knowledge, *job.job));
}

std::string chances(const Ranking& ranking) {
  std::string text;
  for (const RankedCause& cause : ranking.causes)
    text += cause.id + ' ' + std::to_string(cause.chance.log_odds()) + '\n';
  return text;
}

/// Names of what is said of suppositions, each with the text it points at.
std::string said_of(const std::vector<std::string>& supposed) {
  Diagnostics diagnostics;
  const JobLoad job = load(card("late_drive: no"), supposed, diagnostics);
  CHECK_FALSE(job.job);
  const SourceSet& sources = *six_speed().sources;
  std::string text;
  for (const Diagnostic& diagnostic : diagnostics.list())
    text += (text.empty() ? "" : "; ") + std::string(diagnostic.name) + " at " +
            std::string(sources.text_at(*diagnostic.place));
  return text;
}

}  // namespace

TEST_CASE("a supposed answer ranks as if the card said it, and stands in the result") {
  const Ranking supposed =
      ranked(card("late_drive: longer, pump_whine: no"), {"late_drive=no", " slip of 5 = yes"});
  CHECK(chances(supposed) ==
        chances(ranked(card("late_drive: no, pump_whine: no, slip of 5: yes"))));
  REQUIRE(supposed.supposed.size() == 2);
  CHECK(supposed.supposed[0].finding == "late_drive");
  CHECK(supposed.supposed[0].answer == "no");
  CHECK(supposed.supposed[1].finding == "slip of 5");
  CHECK(supposed.supposed[1].answer == "yes");
  CHECK(ranked(card("late_drive: no")).supposed.empty());
}

TEST_CASE("what the card answers can be supposed to be unknown, and the complaint to be absent") {
  const std::string with = card("late_drive: longer");
  CHECK(chances(ranked(with, {"late_drive=unknown"})) == chances(ranked(card(""))));
  CHECK(chances(ranked(with, {"late_drive=not sure"})) ==
        chances(ranked(card("late_drive: not sure"))));
  CHECK(chances(ranked(with, {"flare of 3-4=no"})) != chances(ranked(with)));
}

TEST_CASE("a supposition is refused like an answer on a card, at its own text") {
  CHECK(said_of({"flare of 3-4"}) == "supposition-shape at flare of 3-4");
  CHECK(said_of({"=yes"}) == "supposition-shape at =yes");
  CHECK(said_of({"flare of 3-4 ="}) == "supposition-shape at flare of 3-4 =");
  CHECK(said_of({"level\x01=yes"}) == "supposition-shape at level\x01=yes");
  CHECK(said_of({"flaer of 3-4=no"}) == "card-unknown-name at flaer");
  CHECK(said_of({"flare of 2-9=no"}) == "card-unknown-member at 2-9");
  CHECK(said_of({"flare=no"}) == "card-which-member at flare");
  CHECK(said_of({"flare of 3 4=no"}) == "card-reference-shape at flare of 3 4");
  CHECK(said_of({"flare of 3-4=sometmes"}) == "card-answer-shape at sometmes");
  CHECK(said_of({"fill_pressure of K1=yes"}) == "card-wrong-kind at fill_pressure");
  CHECK(said_of({"slip of 6=yes"}) == "card-not-driven at yes");
  CHECK(said_of({"late_drive=no", "late_drive=longer"}) == "card-contradiction at longer");
  CHECK(said_of({"flaer of 3-4=no", "late_drive=maybe"}) ==
        "card-unknown-name at flaer; card-answer-shape at maybe");
}

TEST_CASE("plans and second opinions say what was supposed in them") {
  Diagnostics diagnostics;
  const JobLoad job = load(card("late_drive: no"), {"burnt_smell=strong"}, diagnostics);
  REQUIRE(job.job);
  const auto advice = std::get<NextAdvice>(next(six_speed().knowledge, *job.job));
  REQUIRE(advice.supposed.size() == 1);
  CHECK(advice.supposed[0].finding == "burnt_smell");
  const auto result = review(six_speed().knowledge, *job.job, {"element_pack of K3"});
  CHECK(std::get<Review>(result).best.supposed.size() == 1);
  const auto why = std::get<Reasons>(reasons(six_speed().knowledge, *job.job, ""));
  CHECK(why.supposed.size() == 1);
}

TEST_CASE("a shop's own costs lie over the profile's") {
  const auto path = std::filesystem::temp_directory_path() / "slipcase_own_costs_test.yaml";
  std::ofstream(path) << "currency: EUR\ncomeback: 90 minutes\n";
  Diagnostics diagnostics;
  const CostsLoad load = load_costs(path, six_speed().knowledge, diagnostics);
  std::filesystem::remove(path);
  REQUIRE(load.costs);
  CHECK(load.costs->currency == "EUR");
  CHECK(load.costs->comeback_minutes == 90);
  CHECK(load.costs->labour_rate == costs_of_profile(six_speed().knowledge).labour_rate);
  CHECK_FALSE(load_costs("no/such/file.yaml", six_speed().knowledge, diagnostics).costs);
}

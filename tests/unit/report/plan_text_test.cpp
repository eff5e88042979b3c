// Plans and second opinions as text and JSON, from results made up here.
#include <string>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include "report/lines.h"
#include "report/plan_words.h"
#include "slipcase/report.h"

using namespace slipcase;

namespace {

// Everything below is invented.
StepReport step(StepKind kind, const std::string& id, const std::string& says) {
  StepReport made;
  made.kind = kind;
  made.id = id;
  made.says = says;
  made.cautions = {{"hot", "Working fluid scalds"}};
  return made;
}

RepairRound round_of(const std::string& id, double cost, double ends) {
  RepairRound round;
  round.repairs = {step(StepKind::repair, id, "Renew " + id)};
  round.before = {step(StepKind::check, "read_values", "Read and save the values")};
  round.cost = cost;
  round.ends = ends;
  return round;
}

CheckAdvice check_of(const std::string& id, double cost, double gain) {
  CheckAdvice check;
  check.step = step(StepKind::check, id, "Look at the " + id);
  FindingReport metal;
  metal.id = "metal";
  metal.says = "Metal on the magnet";
  FindingReport smell;
  smell.id = "smell";
  smell.says = "Burnt smell";
  check.findings = {metal, smell};
  check.cost = cost;
  check.gain = gain;
  check.pays = gain > cost;
  check.outcomes = {
      {{"no", "no"}, 0.8, "worn of K2", "Worn K2", 0.4, 900, {round_of("K2", 800, 0.9)}},
      {{"yes", "strong"},
       0.2,
       "worn of K1",
       "Worn K1",
       0.6,
       700,
       {round_of("K1", 600, 0.7), round_of("K2", 500, 0.95)}}};
  return check;
}

NextAdvice small_advice() {
  NextAdvice advice;
  advice.job = "J-1";
  FindingReport flare;
  flare.id = "flare of 3-4";
  flare.says = "Flares on 3-4";
  flare.state = FindingState::present;
  advice.complaint = {flare};
  advice.in_money = true;
  advice.currency = "EUR";
  advice.labour_rate = 100;
  advice.comeback = 100;
  advice.unsolved = 5000;
  advice.plan = {round_of("K2", 800, 0.9)};
  advice.alone = {round_of("K2", 800, 0.9)};
  advice.cost_of_repairs = 1350;
  advice.cost_with_check = 1350;
  return advice;
}

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }
bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// Lines that are wider.
std::string too_wide(const std::string& text, std::size_t width) {
  std::string wide;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    const std::string line = text.substr(at, end - at);
    if (report::columns(line) > width) wide += line + "\n";
    at = end + 1;
  }
  return wide;
}

Review small_review(Verdict verdict) {
  Review review;
  review.best = small_advice();
  review.best.checks = {check_of("pan", 20, 120)};
  review.repairs = {step(StepKind::repair, "K3", "Renew K3")};
  review.before = {step(StepKind::check, "read_codes", "Read and save the codes")};
  review.verdict = verdict;
  review.ends = 0.3;
  review.cost_of_round = 900;
  review.cost_ahead = 4400;
  review.cost_best = 1250;
  review.must_be_true = {{"worn of K3", "Worn K3", *Probability::from(0.31), 0.25, true, {}}};
  review.evidence = {{"smell", "Burnt smell", FindingState::present, "strong", 0.4, -0.5},
                     {"noise", "Noise", FindingState::absent, "", 0.1, 0.9}};
  return review;
}

}  // namespace

TEST_CASE("the first line says what to do now") {
  NextAdvice advice = small_advice();
  CHECK(first_line(to_text(advice)) == "Job J-1. No check is worth its cost. Repair: Renew K2.");
  advice.checks = {check_of("pan", 20, 120)};
  CHECK(first_line(to_text(advice)) ==
        "Job J-1. Check now: Look at the pan. It costs 20 EUR and saves 120 EUR on");
  advice.checks[0].step = step(StepKind::question, "restart", "Well again after a restart?");
  CHECK(has(to_text(advice), "Ask now: Well again after a restart? It costs"));
  advice.first = {{step(StepKind::repair, "drive", "Drive it in"), "the values were cleared", {}}};
  CHECK(first_line(to_text(advice)) ==
        "Job J-1. First: Drive it in, because the values were cleared.");
  advice = small_advice();
  advice.plan.clear();
  CHECK(has(to_text(advice), "Neither a check nor a repair of the rules is worth its cost"));
  CHECK(has(to_text(advice), "The likeliest to end it: Renew K2, in about 9 of 10 jobs"));
}

TEST_CASE("answers of a check are told with their chance and the plan then") {
  NextAdvice advice = small_advice();
  advice.checks = {check_of("pan", 20, 120), check_of("bell", 50, 10)};
  const std::string text = to_text(advice, {200, false});
  CHECK(has(text, "nothing of it: in about 8 of 10 jobs like this."));
  CHECK(has(text, "the plan below stays; 900 EUR on average."));
  CHECK(has(text, "Metal on the magnet and Burnt smell (strong): in about 2 of 10 jobs"));
  CHECK(has(text, "Renew K1; if that does not help:"));
  CHECK(has(text, "Not worth it now: Look at the bell (costs 50 EUR, saves 10 EUR)."));
}

TEST_CASE("an answer that changes the plan is told before likelier ones that do not") {
  NextAdvice advice = small_advice();
  advice.checks = {check_of("pan", 20, 120)};
  auto& outcomes = advice.checks[0].outcomes;
  outcomes = {outcomes[0], outcomes[0], outcomes[0], outcomes[1]};
  const std::string text = to_text(advice, {200, false}, false);
  CHECK(has(text, "Metal on the magnet and Burnt smell (strong): in about 2 of 10 jobs"));
  CHECK(has(text, "1 more answer (told with --all)"));
}

TEST_CASE("what is missing of a step before, what hides in two complaints, and a cheap way out") {
  NextAdvice advice = small_advice();
  advice.plan[0].before[0].still_missing = {"fill pressure of B2"};
  CHECK(has(to_text(advice, {200, false}),
            "before it: Read and save the values (still missing: fill pressure of B2) (mind 1)"));
  CHECK_FALSE(has(to_text(advice), "dearest repair"));
  advice.dearest = 6000;
  CHECK(has(to_text(advice, {900, false}), "That is less than the dearest repair costs"));
  advice.plan.clear();
  CHECK_FALSE(has(to_text(advice), "two troubles"));
  advice.complaint.push_back(advice.complaint.front());
  CHECK(has(to_text(advice, {200, false}), "The complaint is 2 findings"));
}

TEST_CASE("a caution stands once and is referred to by its number") {
  NextAdvice advice = small_advice();
  const std::string text = to_text(advice);
  const std::size_t first = text.find("Working fluid scalds");
  REQUIRE(first != std::string::npos);
  CHECK(text.find("Working fluid scalds", first + 1) == std::string::npos);
  CHECK(has(text, "before it: Read and save the values (mind 1)"));
}

TEST_CASE("costs are money with a rate, else minutes and hours") {
  NextAdvice advice = small_advice();
  CHECK(report::Amounts(advice).text(1249.6) == "1250 EUR");
  advice.currency.clear();
  CHECK(report::Amounts(advice).text(1249.6) == "1250");
  advice.in_money = false;
  CHECK(report::Amounts(advice).text(45) == "45 minutes");
  CHECK(report::Amounts(advice).text(1) == "1 minute");
  CHECK(report::Amounts(advice).text(150) == "2.5 hours");
  CHECK(has(to_text(advice), "Parts do not count"));
}

TEST_CASE("the complaint, what was assumed, tried and supposed is told") {
  NextAdvice advice = small_advice();
  advice.complaint_assumed = true;
  advice.tried = {step(StepKind::repair, "K1", "Renew K1")};
  advice.supposed = {{"smell", "Burnt smell", "strong"}};
  const std::string text = to_text(advice);
  CHECK(has(text, "SUPPOSED, not on the card: Burnt smell = strong (smell)"));
  CHECK(has(text, "Assumed: nothing that was seen is named as the complaint"));
  CHECK(has(text, "Done already, and it did not help: Renew K1"));
}

TEST_CASE("the verdict comes first, in one sentence") {
  const auto verdict = [](Verdict v) { return first_line(to_text(small_review(v), {100, false})); };
  CHECK(verdict(Verdict::go_ahead) ==
        "The best plan is hardly cheaper, but more likely than not it will not end the complaint: "
        "it does in");
  Review likely = small_review(Verdict::go_ahead);
  likely.cost_best = likely.cost_ahead;
  CHECK(has(to_text(likely, {100, false}), "No cheaper way is in sight, but more likely than"));
  likely.ends = 0.6;
  CHECK(first_line(to_text(likely, {100, false})) ==
        "Go ahead: it ends the complaint in about 6 of 10 jobs like this, and no cheaper way is in "
        "sight.");
  CHECK(verdict(Verdict::check_first) ==
        "Not yet: first look at the pan (costs 20 EUR, saves 120 EUR on average). The repair ends "
        "the");
  CHECK(verdict(Verdict::other_repair) ==
        "Another repair first: Renew K2. This one ends the complaint in about 3 of 10 jobs like "
        "this.");
  CHECK(verdict(Verdict::no_use) ==
        "Not this repair: it ends the complaint in about 3 of 10 jobs like this, too seldom for "
        "what it");
  Review review = small_review(Verdict::not_yet);
  review.best.first = {
      {step(StepKind::repair, "drive", "Drive it in"), "the values were cleared", {}}};
  CHECK(first_line(to_text(review)) ==
        "Not yet: first drive it in, because the values were cleared.");
  review.best.first.clear();
  review.must_be_true = {
      {"worn of K3", "Worn K3", *Probability::from(0.3), 0.25, false, "no level"}};
  CHECK(first_line(to_text(review)) ==
        "Not yet: nothing that it cures may be judged now, because no level.");
  CHECK(has(to_text(review), "not judged yet"));
}

TEST_CASE("a second opinion tells for and against, what is open, and leaves the decision") {
  const std::string text = to_text(small_review(Verdict::check_first));
  CHECK(has(text, "against  somewhat Burnt smell (strong): without it about 4 of 10"));
  CHECK(has(text, "not so: Noise: without it about 1 of 10"));
  CHECK(has(text, "- Read and save the codes (mind 1)"));
  CHECK(has(text, "- Look at the pan (mind 1)"));
  CHECK(has(text, "Decision: ____"));
  CHECK(has(text, "Name:     ____"));
  CHECK(has(text, "Date:     ____"));
}

TEST_CASE("what does not move the figure of an opinion is not printed") {
  Review review = small_review(Verdict::go_ahead);
  review.evidence = {{"smell", "Burnt smell", FindingState::present, "", 0.29}};
  CHECK_FALSE(has(to_text(review), "FOR AND AGAINST"));
  review.ends = 0.002;
  review.evidence = {{"noise", "Noise", FindingState::absent, "", 0.004}};
  CHECK_FALSE(has(to_text(review), "FOR AND AGAINST"));
}

TEST_CASE("of a complaint of several findings it is told which would remain") {
  Review review = small_review(Verdict::go_ahead);
  review.parts = {{"limp_mode", "Stuck in one gear", 0.6, 0.8}, {"slip of 5", "Slips", 0.02, 0.3}};
  const std::string text = to_text(review, {200, false});
  CHECK(has(text,
            "After the repair `limp_mode` would remain in about 6 of 10 jobs; without it the "
            "repair ends the complaint in about 8 of 10."));
  CHECK_FALSE(has(text, "`slip of 5` would remain"));
}

TEST_CASE("what comes first is the first round, and the rest is for its failure") {
  NextAdvice advice = small_advice();
  advice.first = {{step(StepKind::repair, "drive", "Drive it in"), "they were cleared", {}, 0.9}};
  RepairRound drive = round_of("drive", 150, 0.9);
  drive.comes_first = true;
  advice.plan.insert(advice.plan.begin(), drive);
  const std::string text = to_text(advice, {200, false});
  CHECK(has(text, "comes first; ends the complaint in about 9 of 10 jobs"));
  CHECK(has(text, "If that does not end it (about 1 of 10 jobs): this by what is known today."));
  CHECK(has(text, "on average, with what comes first"));
  advice.plan.pop_back();
  const std::string alone = to_text(advice, {200, false});
  CHECK(has(alone, "no repair of the rules is worth its cost by what is known today"));
  CHECK_FALSE(has(alone, "The likeliest to end it"));
}

TEST_CASE("in short only what is to be done now is told in full") {
  NextAdvice advice = small_advice();
  advice.checks = {check_of("pan", 20, 120), check_of("bell", 5, 50)};
  advice.checks[0].still_missing = {"fill pressure of K1", "converter pressure"};
  advice.checks[1].needed_anyway = true;
  const std::string text = to_text(advice, {200, false}, false);
  CHECK(has(text, "still missing: fill pressure of K1, converter pressure"));
  CHECK(has(text, "A repair of the plan asks for it anyway; it is paid once."));
  CHECK(has(text, "before it: Read and save the values (mind 1)\n"));
  CHECK(has(text, "With --all"));
  CHECK(text.size() < to_text(advice, {200, false}).size());
  advice.checks = {check_of("bell", 50, 10)};
  advice.checks[0].needed_anyway = true;
  CHECK_FALSE(has(to_text(advice), "Not worth it now"));
}

TEST_CASE("the numbers of cautions are told in order, three and more in a row as a run") {
  report::CautionNumbers numbers;
  const auto of = [&](std::initializer_list<const char*> ids) {
    std::vector<CautionReport> cautions;
    for (const char* id : ids) cautions.push_back({id, id});
    return numbers.of(cautions);
  };
  CHECK(of({}) == "");
  CHECK(of({"a"}) == "mind 1");
  CHECK(of({"b", "a"}) == "mind 1 and 2");
  CHECK(of({"c", "b", "a"}) == "mind 1 to 3");
  CHECK(of({"d", "b"}) == "mind 2 and 4");
  CHECK(of({"e", "f", "a", "d"}) == "mind 1 and 4 to 6");
}

TEST_CASE("no line of a plan or an opinion is wider than the terminal") {
  NextAdvice advice = small_advice();
  advice.checks = {check_of("pan", 20, 120), check_of("bell", 50, 10)};
  advice.plan[0].repairs[0].says =
      "A repair with so long a text that it cannot stand on one line of eighty columns at all";
  Review review = small_review(Verdict::check_first);
  review.best = advice;
  for (const std::size_t width : {40U, 60U, 80U}) {
    CHECK(too_wide(to_text(advice, {width, false}), width) == "");
    CHECK(too_wide(to_text(review, {width, false}), width) == "");
  }
}

TEST_CASE("the JSON of a plan has what the screen says, and more digits") {
  NextAdvice advice = small_advice();
  advice.checks = {check_of("pan", 20, 120)};
  advice.supposed = {{"smell", "Burnt smell", "strong"}};
  const auto json = nlohmann::json::parse(to_json(advice));
  CHECK(json["supposed"][0] == nlohmann::json{{"finding", "smell"}, {"answer", "strong"}});
  CHECK(json["checks"][0]["net"] == 100);
  CHECK(json["checks"][0]["outcomes"][1]["answers"] == nlohmann::json{"yes", "strong"});
  CHECK(json["plan"][0]["repairs"][0]["id"] == "K2");
  CHECK(json["costs"]["in"] == "money");
  const auto review = nlohmann::json::parse(to_json(small_review(Verdict::other_repair)));
  CHECK(review["verdict"] == "other_repair");
  CHECK(review["must_be_true"][0]["chance"] == 0.31);
  CHECK(review["best"]["cost_of_repairs"] == 1350);
  CHECK(nlohmann::json::parse(to_json(NoComplaint{})) == nlohmann::json{{"no_complaint", true}});
}

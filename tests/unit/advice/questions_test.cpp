// The questionnaire: what is asked next, and what an answer writes.
#include "advice/questions.h"

#include <cmath>

#include <doctest/doctest.h>

#include "slipcase/ask.h"
#include "support/job_bench.h"

namespace slipcase::test {
namespace {

// Invented.
constexpr std::string_view asking_rules = R"(finding noise
  asks driver "Is there a noise?"
  overall in 20 of 100 jobs
finding heat
  asks driver "Does it run hot?"
  otherwise in 10 of 100 jobs
finding smell
  asks driver "Does it smell?"
  otherwise in 10 of 100 jobs
finding no_drive
  asks driver "Does it not move?"
  otherwise in 1 of 100 jobs
  caution stay
finding drip
  asks "Does it drip?"
  otherwise in 10 of 100 jobs
finding flare of shift
  asks driver "Does it flare at {shift}?"
  otherwise in 10 of 100 jobs
detail pull : one of light, heavy asks driver "Which pedal?"
finding heavy_only
  when pull is heavy
  otherwise in 10 of 100 jobs
event cleared
  asks "Were values cleared?"
event shaken
  asks "Was it shaken?"
distrust unlearned
  when happened cleared
  sets aside noise
  until look
  because "values were cleared"
caution stay
  says "Stay where you are."
cause bearing
  found in 20 of 100 jobs
  becomes 9 times as likely when happened shaken
  shows noise in 60 of 100 jobs
  shows heat in 90 of 100 jobs
  shows smell in 20 of 100 jobs
  shows no_drive in 5 of 100 jobs
  shows drip in 90 of 100 jobs
  shows heavy_only in 30 of 100 jobs
  shows flare of each shift applying K1 in 40 of 100 jobs
cause pinion
  found in 10 of 100 jobs
  shows noise in 60 of 100 jobs
check look
  says "Look"
  takes 5 minutes
  answers drip, heat
)";

class AskBench {
 public:
  explicit AskBench(const std::string& card) : job_(asking_rules), card_(card) {}

  AskResult next(const std::vector<std::string>& passed = {}) {
    Diagnostics diagnostics;
    evaluation::Evaluator evaluator(job_.shared_rules());
    const auto network = model::build_network(job_.shared_rules(), diagnostics);
    const evaluation::JobFacts facts = job_.facts(card_);
    advice::JobModel model(network, evaluator.evaluate(facts), std::size_t{1} << 26U);
    advice::JobTitle title;
    title.complaint_findings = facts.complaint;
    return advice::ask_next(model, evaluator, title, passed, job_.sources());
  }
  Question question(const std::vector<std::string>& passed = {}) {
    return std::get<Question>(next(passed));
  }
  /// Passing over each, in the order in which they are asked.
  std::vector<std::string> all() {
    std::vector<std::string> ids;
    for (;;) {
      const AskResult result = next(ids);
      if (!std::holds_alternative<Question>(result)) return ids;
      ids.push_back(std::get<Question>(result).id);
    }
  }
  std::optional<Question> about(std::string_view id) {
    return advice::question_named(job_.rules(), job_.facts(card_), id);
  }

 private:
  JobBench job_;
  std::string card_;
};

const std::string known = "complaint: {findings: [noise]}\nanswers: {noise: yes}\n";

std::size_t place(const std::vector<std::string>& list, const std::string& id) {
  return static_cast<std::size_t>(std::find(list.begin(), list.end(), id) - list.begin());
}

std::string lines(const Question& question, const GivenAnswer& given, std::string_view card) {
  const auto changes = changes_for(question, given, card);
  if (const auto* text = std::get_if<std::string>(&changes)) return "(" + *text + ")";
  std::string out;
  for (const CardChange& change : std::get<std::vector<CardChange>>(changes)) {
    for (const std::string& key : change.path) out += key + "/";
    out += change.value.kind == CardValue::Kind::text ? change.value.text : "...";
    out += change.kind == CardChange::Kind::add ? " added;" : ";";
  }
  return out;
}

TEST_CASE("With nothing seen the first question is what the car came for") {
  CHECK(AskBench("").question().id == "complaint");
  CHECK(AskBench("").question({"complaint"}).id == "no_drive");
}

TEST_CASE(
    "What decides about evidence comes before what a caution goes with, then what tells most") {
  const std::vector<std::string> all = AskBench(known).all();
  REQUIRE(all.size() > 4);
  CHECK(all[0] == "cleared");
  CHECK(all[1] == "no_drive");
  CHECK(place(all, "heat") == 2);  // 90 of 100 against 10
  CHECK(place(all, "heat") < place(all, "smell"));
  CHECK(place(all, "shaken") < all.size());
  CHECK(place(all, "pull") < all.size());
  // Only what no check is needed for: a drip has to be looked for, heat the driver can tell.
  CHECK(place(all, "drip") == all.size());
}

TEST_CASE("Of one kind the part that could tell is asked, and never one that could not") {
  const std::vector<std::string> all = AskBench(known).all();
  CHECK(place(all, "flare of 5-4") < all.size());
  CHECK(place(all, "flare of 5-6") == all.size());
}

// By enumeration of both causes: what the answer to "heat" takes off the entropy of each on
// average.
TEST_CASE("A question's information is the expected drop of entropy over the causes") {
  AskBench bench(known);
  const Question heat = bench.question({"cleared", "no_drive"});
  REQUIRE(heat.id == "heat");
  CHECK(heat.reason == QuestionReason::tells);
  // `shows` counts jobs with that one cause, so P(no noise | one cause) = 0.4; with q for none of
  // them, `overall` asks (0.8 q + 0.2 * 0.4) (0.9 q + 0.1 * 0.4) / q = 0.8, solved for q.
  const double q = (0.696 + std::sqrt(0.696 * 0.696 - 4.0 * 0.72 * 0.0032)) / (2.0 * 0.72);
  const auto noise = [q](bool bearing, bool pinion) {
    return 1.0 - q * (bearing ? 0.4 / q : 1.0) * (pinion ? 0.4 / q : 1.0);
  };
  double joint[2][2];
  double total = 0.0;
  for (int b = 0; b < 2; ++b)
    for (int p = 0; p < 2; ++p)
      total += joint[b][p] = (b ? 0.2 : 0.8) * (p ? 0.1 : 0.9) * noise(b == 1, p == 1);
  const auto entropy = [](double p) {
    return p <= 0.0 || p >= 1.0 ? 0.0 : -p * std::log2(p) - (1.0 - p) * std::log2(1.0 - p);
  };
  double expected = 0.0;
  const double bearing = (joint[1][0] + joint[1][1]) / total;
  const double pinion = (joint[0][1] + joint[1][1]) / total;
  expected += entropy(bearing) + entropy(pinion);
  for (const bool yes : {true, false}) {
    double weight[2][2];
    double all = 0.0;
    for (int b = 0; b < 2; ++b) {
      const double hot = b ? 0.9 : 0.1;
      for (int p = 0; p < 2; ++p) all += weight[b][p] = joint[b][p] * (yes ? hot : 1.0 - hot);
    }
    expected -= all / total *
                (entropy((weight[1][0] + weight[1][1]) / all) +
                 entropy((weight[0][1] + weight[1][1]) / all));
  }
  CHECK(heat.information == doctest::Approx(expected).epsilon(1e-9));
}

TEST_CASE("What is answered, not sure or not known is not asked again") {
  const std::vector<std::string> all =
      AskBench(known + "not_known: [cleared]\nnever: [shaken]\ndetails: {pull: not sure}\n").all();
  for (const char* id : {"cleared", "shaken", "pull", "noise"}) CHECK(place(all, id) == all.size());
  AskBench unsure("complaint: {findings: [noise]}\nanswers: {noise: yes, heat: not sure}\n");
  CHECK(place(unsure.all(), "heat") == unsure.all().size());
}

TEST_CASE("Something seen that is not the complaint asks whether it is") {
  AskBench bench("answers: {noise: yes}\n");
  const std::vector<std::string> all = bench.all();
  CHECK(place(all, "noise") < all.size());
}

TEST_CASE("It ends where no question tells anything, and says how many were passed over") {
  AskBench bench(known);
  const std::vector<std::string> all = bench.all();
  const auto end = std::get<NothingToAsk>(bench.next(all));
  CHECK(end.passed_over == all.size());
  const auto nothing = std::get<NothingToAsk>(
      AskBench("complaint: {findings: [noise]}\nanswers: {noise: yes, heat: yes, smell: no, "
               "no_drive: no, flare: {others: no}}\nhistory: complete\ndetails: {pull: light}\n")
          .next());
  CHECK(nothing.passed_over == 0);
}

TEST_CASE("Answers are written where the card has or wants them") {
  AskBench bench(known);
  const Question flare = *bench.about("flare of 5-4");
  CHECK(lines(flare, {"y", false, {}, false, false}, "job: a\n") == "answers/flare/5-4/yes;");
  CHECK(lines(flare, {"2", false, {}, false, false}, "answers:\n  flare of 5-4: yes\n") ==
        "answers/flare of 5-4/no;");
  CHECK(lines(flare, {"no", true, {}, false, false}, "job: a\n") ==
        "answers/flare/5-4/no;answers/flare/others/no;");
  CHECK(lines(flare, {"y", true, {}, false, false}, "job: a\n") ==
        "(only `no` can be given for all that are not named)");
  CHECK(lines(*bench.about("pull"), {"2", false, {}, false, false}, "job: a\n") ==
        "details/pull/heavy;");
  const Question was_cleared = *bench.about("cleared");
  CHECK(lines(was_cleared, {"n", false, {}, false, false}, "job: a\n") == "never/cleared added;");
  CHECK(lines(was_cleared, {"u", false, {}, false, false}, "job: a\n") ==
        "not_known/cleared added;");
  CHECK(lines(was_cleared, {"y", false, "91400 miles", false, true}, "job: a\n") ==
        "events/... added;");
  CHECK(lines(was_cleared, {"perhaps", false, {}, false, false}, "job: a\n") ==
        "(`perhaps` is no answer here: 1 (yes), 2 (no), 3 (not sure))");
  CHECK(lines(was_cleared, {" ", false, {}, false, false}, "job: a\n") == "(nothing was answered)");
}

TEST_CASE("Codes are typed with blanks or commas, and a plain list on the card is left alone") {
  AskBench bench(known);
  const Question codes = *bench.about("codes of transmission");
  const auto changes = std::get<std::vector<CardChange>>(
      changes_for(codes, {"p0733, P0735", false, {}, false, false}, "job: a\n"));
  REQUIRE(changes.size() == 1);
  REQUIRE(changes[0].value.items.size() == 2);
  CHECK(changes[0].value.items[0].text == "P0733");
  CHECK(lines(codes, {"none", false, {}, false, false}, "job: a\n") == "codes/transmission/none;");
  CHECK(lines(codes, {"none", false, {}, false, false}, "codes: [P0733]\n").find("plain list") !=
        std::string::npos);
}

}  // namespace
}  // namespace slipcase::test

// Plans and second opinions as JSON.
#include "report/json_parts.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::dumped;
using report::Json;
using report::list_json;
using report::number;

std::string_view word_of(StepKind kind) {
  switch (kind) {
    case StepKind::check:
      return "check";
    case StepKind::question:
      return "question";
    case StepKind::repair:
      return "repair";
    case StepKind::event:
      return "event";
  }
  return "check";
}

std::string_view word_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::not_yet:
      return "not_yet";
    case Verdict::check_first:
      return "check_first";
    case Verdict::other_repair:
      return "other_repair";
    case Verdict::go_ahead:
      return "go_ahead";
    case Verdict::no_use:
      return "no_use";
  }
  return "not_yet";
}

Json plan_step_json(const StepReport& step) {
  Json json{{"kind", word_of(step.kind)}, {"id", step.id}, {"says", step.says}};
  if (step.kind == StepKind::event) return json;
  if (!step.how.empty()) json["how"] = step.how;
  json["minutes"] = number(step.minutes);
  json["parts"] = number(step.parts);
  if (!step.still_missing.empty()) json["still_missing"] = step.still_missing;
  json["cautions"] =
      list_json(step.cautions, [](const CautionReport& caution) { return Json(caution.id); });
  return json;
}

Json steps_json(const std::vector<StepReport>& steps) { return list_json(steps, plan_step_json); }

Json round_json(const RepairRound& round) {
  return {{"comes_first", round.comes_first},   {"repairs", steps_json(round.repairs)},
          {"before", steps_json(round.before)}, {"after", steps_json(round.after)},
          {"cost", number(round.cost)},         {"ends", number(round.ends)}};
}

/// Only names: the steps themselves stand in `alone`.
Json short_plan_json(const std::vector<RepairRound>& plan) {
  return list_json(plan, [](const RepairRound& round) {
    return Json{
        {"repairs", list_json(round.repairs, [](const StepReport& r) { return Json(r.id); })},
        {"cost", number(round.cost)},
        {"ends", number(round.ends)}};
  });
}

Json complaint_json(const FindingReport& finding) {
  Json json{{"id", finding.id}, {"says", finding.says}};
  if (!finding.grade.empty()) json["grade"] = finding.grade;
  return json;
}

Json check_json(const CheckAdvice& check) {
  return {
      {"step", plan_step_json(check.step)},
      {"findings",
       list_json(check.findings, [](const FindingReport& finding) { return Json(finding.id); })},
      {"more_findings", check.more_findings},
      {"still_missing", check.still_missing},
      {"needed_anyway", check.needed_anyway},
      {"pays", check.pays},
      {"cost", number(check.cost)},
      {"gain", number(check.gain)},
      {"net", number(check.net())},
      {"outcomes", list_json(check.outcomes, [](const CheckOutcome& outcome) {
         return Json{{"answers", outcome.answers},   {"chance", number(outcome.chance)},
                     {"first", outcome.first},       {"first_chance", number(outcome.first_chance)},
                     {"cost", number(outcome.cost)}, {"plan", short_plan_json(outcome.plan)}};
       })}};
}

Json advice_json(const NextAdvice& advice) {
  Json json{{"job", advice.job}, {"unit", advice.unit}};
  report::add_supposed(advice.supposed, json);
  json["complaint"] = list_json(advice.complaint, complaint_json);
  json["complaint_assumed"] = advice.complaint_assumed;
  json["cautions"] =
      list_json(advice.cautions, [](const CautionReport& caution) { return Json(caution.id); });
  json["tried"] = list_json(advice.tried, [](const StepReport& step) { return Json(step.id); });
  json["costs"] = {
      {"in", advice.in_money ? "money" : "minutes"}, {"currency", advice.currency},
      {"labour_rate", number(advice.labour_rate)},   {"comeback", number(advice.comeback)},
      {"unsolved", number(advice.unsolved)},         {"dearest_repair", number(advice.dearest)}};
  json["first"] = list_json(advice.first, [](const FirstThing& thing) {
    return Json{{"step", plan_step_json(thing.step)},
                {"because", thing.because},
                {"ends", number(thing.ends)},
                {"before", steps_json(thing.before)}};
  });
  json["checks"] = list_json(advice.checks, check_json);
  json["plan"] = list_json(advice.plan, round_json);
  json["cost_of_first"] = number(advice.cost_of_first);
  json["cost_of_repairs"] = number(advice.cost_of_repairs);
  json["cost_with_check"] = number(advice.cost_with_check);
  json["alone"] = list_json(advice.alone, round_json);
  return json;
}

Json review_head_json(const Review& review) {
  Json json{{"job", review.job}, {"unit", review.unit}};
  report::add_supposed(review.best.supposed, json);
  json["verdict"] = word_of(review.verdict);
  json["repairs"] = steps_json(review.repairs);
  json["adds"] = review.adds;
  json["after"] = steps_json(review.after);
  json["ends"] = number(review.ends);
  json["parts"] = list_json(review.parts, [](const ReviewPart& part) {
    return Json{{"finding", part.finding},
                {"says", part.says},
                {"remains", number(part.remains)},
                {"ends_without", number(part.ends_without)}};
  });
  json["cost_of_round"] = number(review.cost_of_round);
  json["cost_ahead"] = number(review.cost_ahead);
  json["cost_best"] = number(review.cost_best);
  json["before"] = steps_json(review.before);
  return json;
}

}  // namespace

std::string to_json(const NextAdvice& advice) { return dumped(advice_json(advice)); }

std::string to_json(const Review& review) {
  Json json = review_head_json(review);
  json["must_be_true"] = list_json(review.must_be_true, [](const CuredCause& cause) {
    Json entry{{"id", cause.id},
               {"says", cause.says},
               {"chance", number(cause.chance.value())},
               {"needed", number(cause.needed)},
               {"judged", cause.judged}};
    if (!cause.judged) entry["because"] = cause.not_judged_because;
    return entry;
  });
  json["ends_by_complaint"] = number(review.ends_by_complaint);
  json["evidence"] = list_json(review.evidence, [](const ReviewEvidence& evidence) {
    Json entry{{"finding", evidence.finding},
               {"says", evidence.says},
               {"state", report::state_word(evidence.state)}};
    if (!evidence.grade.empty()) entry["grade"] = evidence.grade;
    entry["log_factor"] = number(evidence.log_factor);
    entry["ends_without"] = number(evidence.ends_without);
    return entry;
  });
  json["first_place"] = {{"cause", review.first_place.id},
                         {"chance", number(review.first_place.chance.value())},
                         {"tipping", list_json(review.first_place.tipping, report::tipping_json)}};
  json["best"] = advice_json(review.best);
  return dumped(json);
}

std::string to_json(const ComplaintGone& gone) {
  Json json{{"job", gone.job}, {"unit", gone.unit}};
  report::add_supposed(gone.supposed, json);
  json["complaint"] = list_json(gone.complaint, complaint_json);
  json["gone_with"] = gone.by.id;
  json["handover"] = steps_json(gone.handover);
  return dumped(json);
}

std::string to_json(const NoComplaint&) { return dumped({{"no_complaint", true}}); }

}  // namespace slipcase

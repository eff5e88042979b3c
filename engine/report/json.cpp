// Results as JSON.
#include "report/json_parts.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::dumped;
using report::Json;
using report::list_json;
using report::number;

Json cause_json(const RankedCause& cause, bool drawn) {
  Json json{{"id", cause.id},
            {"says", cause.says},
            {"group", cause.group},
            {"prior", number(cause.prior.value())},
            {"chance", number(cause.chance.value())},
            {"judged", cause.judged},
            {"raised", cause.raised}};
  if (drawn) {
    json["low"] = number(cause.low);
    json["high"] = number(cause.high);
    json["first"] = number(cause.first);
  }
  if (!cause.judged) json["because"] = cause.not_judged_because;
  if (!cause.possible) json["possible"] = false;
  const auto end_json = [](const CauseEnd& end) {
    return Json{{"id", end.id}, {"chance", number(end.chance)}};
  };
  json["origins"] = list_json(cause.origins, end_json);
  json["consequences"] = list_json(cause.consequences, end_json);
  return json;
}

Json finding_json(const FindingReport& finding) {
  Json json{{"id", finding.id}, {"state", report::state_word(finding.state)}};
  if (!finding.grade.empty()) json["grade"] = finding.grade;
  if (finding.worked_out) json["worked_out"] = true;
  if (finding.complaint) json["complaint"] = true;
  if (!finding.because.empty()) json["because"] = finding.because;
  return json;
}

Json missing_json(const MissingFinding& missing) {
  return {{"id", missing.id},
          {"says", missing.says},
          {"asks", missing.asks},
          {"check", missing.check},
          {"found_by", missing.found_by},
          {"minutes", number(missing.minutes)},
          {"members", missing.members},
          {"also", list_json(missing.also, [](const OpenName& name) { return Json(name.id); })},
          {"matters", missing.matters},
          {"chance_of_yes", number(missing.chance_of_yes.value())},
          {"information", number(missing.information)},
          {"leader_if_yes", missing.leader_if_yes},
          {"leader_if_no", missing.leader_if_no},
          {"first_if_yes", number(missing.first_if_yes.value())},
          {"first_if_no", number(missing.first_if_no.value())}};
}

Json gap_json(const CardGap& gap) {
  return {{"ids", gap.ids},
          {"asks", gap.asks},
          {"check", gap.check},
          {"minutes", number(gap.minutes)},
          {"moves", list_json(gap.moves, [](const CardGap::Move& move) {
             return Json{{"cause", move.cause},
                         {"now", number(move.now.value())},
                         {"then", number(move.then.value())}};
           })}};
}

Json step_json(const ReasonStep& step) {
  Json json{
      {"finding", step.finding}, {"says", step.says}, {"state", report::state_word(step.state)}};
  if (!step.grade.empty()) json["grade"] = step.grade;
  json["log_factor"] = number(step.log_factor);
  json["chance_without"] = number(step.chance_without.value());
  json["counts"] = step.counts;
  json["rule"] = step.rule;
  json["because"] = step.because;
  json["through"] = step.through;
  json["said_at"] = step.said_at;
  if (!step.worked_out_by.empty()) {
    json["worked_out_by"] = step.worked_out_by;
    json["facts"] = list_json(step.facts, [](const UsedFact& fact) {
      return Json{{"text", fact.text}, {"place", fact.place}};
    });
  }
  return json;
}

Json open_json(const OpenLink& link) {
  Json json{{"finding", link.finding}, {"says", link.says}, {"counts", link.counts}};
  if (!link.looked) {
    json["if_yes"] = number(link.if_yes.value());
    json["if_no"] = number(link.if_no.value());
  }
  return json;
}

Json story_json(const Story& story) { return {{"start", story.start}, {"then", story.then}}; }

Json instead_json(const InsteadCause& cause) {
  return {{"id", cause.id}, {"chance", number(cause.chance.value())}};
}

Json combination_json(const Combination& combination) {
  return {{"causes", combination.causes}, {"chance", number(combination.chance)}};
}

Json distrust_json(const DistrustReport& distrust) {
  return {{"id", distrust.id},
          {"because", distrust.because},
          {"until", distrust.until},
          {"sets_aside", distrust.set_aside},
          {"except", distrust.except},
          {"facts", distrust.facts},
          {"not_judged", distrust.causes_not_judged}};
}

Json undecided_json(const UndecidedRule& rule) {
  return {{"text", rule.text},
          {"place", rule.place},
          {"waits_for", rule.waits_for},
          {"moves", number(rule.moves)}};
}

Json chain_json(const CauseChain& chain) {
  return {{"origin", chain.origin},
          {"consequence", chain.consequence},
          {"chance", number(chain.chance)}};
}

Json evidence_json(const Evidence& evidence) {
  return {{"finding", evidence.finding},
          {"state", report::state_word(evidence.state)},
          {"more", evidence.more},
          {"log_factor", number(evidence.log_factor)}};
}

/// What came out: causes and their chances.
void add_causes(const Ranking& ranking, Json& json) {
  json["causes"] = list_json(ranking.causes, [&](const RankedCause& cause) {
    return cause_json(cause, ranking.draws > 0);
  });
  if (ranking.draws > 0) json["draws"] = {{"count", ranking.draws}, {"seed", ranking.seed}};
  json["groups"] = Json::object();
  for (const auto& group : ranking.groups)
    json["groups"][group.group] = number(group.chance.value());
  json["nothing_listed"] = number(ranking.nothing_listed.value());
  json["first"] = ranking.first.empty() ? Json(nullptr) : Json(ranking.first);
  json["stories"] = list_json(ranking.stories, story_json);
  json["instead"] = list_json(ranking.instead, instead_json);
  json["log_evidence"] = number(ranking.log_evidence);
  json["combinations"] = list_json(ranking.combinations, combination_json);
}

/// What it came out of, and what was not used or is missing.
void add_findings(const Ranking& ranking, Json& json) {
  json["findings"] = list_json(ranking.findings, finding_json);
  json["distrusts"] = list_json(ranking.distrusts, distrust_json);
  json["undecided"] = list_json(ranking.undecided, undecided_json);
  json["card_gaps"] = list_json(ranking.card_gaps, gap_json);
  json["contradictions"] = ranking.contradictions;
  json["missing"] = list_json(ranking.missing, missing_json);
  json["chains"] = list_json(ranking.chains, chain_json);
  json["evidence"] = list_json(ranking.evidence, evidence_json);
  json["other_evidence"] = number(ranking.other_evidence);
}

}  // namespace

std::string to_json(const Ranking& ranking) {
  Json json{{"job", ranking.job},
            {"unit", ranking.unit},
            {"rules", {{"files", ranking.rule_files}, {"fingerprint", ranking.fingerprint}}}};
  report::add_supposed(ranking.supposed, json);
  if (!ranking.gone_with.empty()) json["gone_with"] = ranking.gone_with;
  json["tried"] =
      list_json(ranking.tried, [](const TriedRepair& repair) { return Json(repair.id); });
  add_causes(ranking, json);
  add_findings(ranking, json);
  json["cautions"] =
      list_json(ranking.cautions, [](const CautionReport& caution) { return Json(caution.id); });
  json["width"] = ranking.width;
  return dumped(json);
}

namespace {

Json known_separator_json(const Separator& separator) {
  return Json{{"finding", separator.finding},
              {"says", separator.says},
              {"state", report::state_word(separator.state)},
              {"grade", separator.grade},
              {"log_factor", number(separator.log_factor)}};
}

Json unknown_separator_json(const Separator& separator) {
  return Json{{"finding", separator.finding},
              {"says", separator.says},
              {"bits", number(separator.bits)},
              {"if_this", number(separator.if_this.value())},
              {"if_other", number(separator.if_other.value())},
              {"check", separator.check}};
}

Json against_json(const Against& against) {
  return Json{{"other", against.other},
              {"says", against.says},
              {"chance", number(against.chance.value())},
              {"log_odds", number(against.log_odds)},
              {"known", list_json(against.known, known_separator_json)},
              {"unknown", list_json(against.unknown, unknown_separator_json)}};
}

}  // namespace

std::string to_json(const Reasons& reasons) {
  Json json{{"job", reasons.job},
            {"cause", reasons.cause},
            {"says", reasons.says},
            {"found", number(reasons.found.value())},
            {"prior", number(reasons.prior.value())},
            {"prior_log_odds", number(reasons.prior.log_odds())},
            {"chance", number(reasons.chance.value())},
            {"log_odds", number(reasons.chance.log_odds())},
            {"place", reasons.place},
            {"judged", reasons.judged}};
  report::add_supposed(reasons.supposed, json);
  if (!reasons.judged) json["because"] = reasons.not_judged_because;
  if (!reasons.possible) json["impossible_because"] = reasons.impossible_because;
  if (!reasons.put_right_by.empty()) json["put_right_by"] = reasons.put_right_by;
  json["rate_steps"] = list_json(reasons.rate_steps, [](const RateStep& step) {
    return Json{{"when", step.text}, {"times", number(step.times)}, {"rule", step.rule}};
  });
  json["chain"] = list_json(reasons.chain, step_json);
  json["expected_not_seen"] = list_json(reasons.expected_not_seen, open_json);
  json["unknown"] = list_json(reasons.unknown, open_json);
  json["made_by"] = reasons.made_by;
  json["competitors"] = reasons.competitors;
  json["tipping"] = list_json(reasons.tipping, report::tipping_json);
  json["tipping_answers"] = list_json(reasons.tipping_answers, [](const TippingAnswer& answer) {
    return Json{{"finding", answer.finding},
                {"says", answer.says},
                {"answer", answer.yes ? "yes" : "no"},
                {"chance", number(answer.chance.value())},
                {"then_first", answer.then_first}};
  });
  if (reasons.against) json["against"] = against_json(*reasons.against);
  return dumped(json);
}

std::string to_json(const RulesList& list) {
  Json json;
  json["causes"] = list_json(list.causes, [](const ListedCause& cause) {
    return Json{{"id", cause.id},
                {"says", cause.says},
                {"group", cause.group},
                {"place", cause.place},
                {"rate", number(cause.rate.value())},
                {"share", number(cause.share.value())},
                {"raised", list_json(cause.raised, [](const auto& raised) {
                   return Json{{"when", raised.when}, {"rate", number(raised.rate.value())}};
                 })}};
  });
  json["findings"] = list_json(list.findings, [](const ListedFinding& finding) {
    return Json{{"id", finding.id},
                {"says", finding.says},
                {"place", finding.place},
                {"causes", finding.causes},
                {"asks", finding.asks},
                {"grades", finding.grades},
                {"worked_out", finding.worked_out},
                {"result_of_check", finding.result_of_check},
                {"rates", list_json(finding.rates, [](const auto& rate) {
                   return Json{{"grade", rate.grade},
                               {"share", number(rate.share)},
                               {"share_by_causes", number(rate.share_by_causes)},
                               {"otherwise", number(rate.otherwise)}};
                 })}};
  });
  json["others"] = list_json(list.others, [](const ListedName& other) {
    return Json{{"kind", other.kind},   {"id", other.id},     {"says", other.says},
                {"place", other.place}, {"asks", other.asks}, {"answers", other.answers}};
  });
  return dumped(json);
}

std::string to_json(const ImpossibleEvidence& impossible) {
  return dumped({{"impossible", list_json(impossible.clash, [](const auto& finding) {
                    return Json{{"id", finding.id},
                                {"says", finding.says},
                                {"state", report::state_word(finding.state)}};
                  })}});
}

std::string to_json(const TooWide& wide) {
  return dumped(
      {{"too_wide", {{"width", wide.width}, {"bytes_needed", number(wide.bytes_needed)}}}});
}

namespace {

Json messages_json(const Diagnostics& diagnostics, const SourceSet& sources) {
  return list_json(diagnostics.list(), [&sources](const Diagnostic& diagnostic) {
    Json json{{"name", diagnostic.name},
              {"severity", diagnostic.severity == Severity::error ? "error" : "warning"}};
    if (diagnostic.place) {
      const LineColumn at = sources.position(diagnostic.place->source, diagnostic.place->begin);
      json["file"] = sources.name(diagnostic.place->source);
      json["line"] = at.line;
      json["column"] = at.column;
    }
    json["text"] = diagnostic.text;
    return json;
  });
}

}  // namespace

std::string to_json(const Diagnostics& diagnostics, const SourceSet& sources) {
  return dumped({{"messages", messages_json(diagnostics, sources)}});
}

std::string to_json(const BookCheck& check, std::span<const CheckMessages> messages) {
  Json all = Json::array();
  for (const CheckMessages& some : messages)
    for (Json& message : messages_json(some.diagnostics, *some.sources))
      all.push_back(std::move(message));
  return dumped({{"cards", check.cards},
                 {"with_errors", check.with_errors},
                 {"with_warnings", check.with_warnings},
                 {"others", check.others},
                 {"doubts", list_json(check.doubts,
                                      [](const BookDoubt& doubt) {
                                        Json files = Json::array();
                                        for (const auto& file : doubt.files)
                                          files.push_back(file.string());
                                        return Json{{"text", doubt.text}, {"files", files}};
                                      })},
                 {"messages", all}});
}

}  // namespace slipcase

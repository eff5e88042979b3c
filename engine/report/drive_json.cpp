// The learning drive as JSON.
#include "report/drive_words.h"
#include "report/json_parts.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::dumped;
using report::Json;
using report::list_json;

Json or_null(const std::optional<double>& value) { return value ? Json(*value) : Json(nullptr); }
Json or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json range_json(const DriveRange& range) { return Json{range.low, range.high}; }
Json range_json(const std::optional<DriveRange>& range) {
  return range ? range_json(*range) : Json(nullptr);
}

Json before_json(const std::vector<Precondition>& list) {
  return list_json(list, [](const Precondition& one) {
    return Json{{"id", one.id},
                {"says", one.says},
                {"proof", report::proof_word(one.proof)},
                {"because", or_null(one.because)},
                {"place", or_null(one.place)}};
  });
}

Json first_json(const BeforeDriving& first) {
  Json json{{"work_done", first.work_done}};
  json["cautions"] = list_json(first.cautions, [](const DriveCaution& one) {
    return Json{{"id", one.id}, {"says", one.says}, {"seen", one.seen}};
  });
  json["beyond_limit"] = list_json(first.beyond, [](const BeyondLimit& one) {
    return Json{{"says", one.says}, {"place", or_null(one.place)}};
  });
  return json;
}

Json manoeuvre_json(const SheetManoeuvre& one) {
  return {{"name", one.name},
          {"says", one.says},
          {"path", one.path},
          {"shifts", one.shifts},
          {"speed", range_json(one.speed)},
          {"pedal", range_json(one.pedal)},
          {"fluid", range_json(one.fluid)},
          {"hold", or_null(one.hold)},
          {"standing", one.standing},
          {"repeats", one.repeats},
          {"takes", or_null(one.takes)},
          {"teaches", one.teaches}};
}

Json not_counted_json(const std::vector<NotCountedTimes>& list) {
  return list_json(list, [](const NotCountedTimes& one) {
    return Json{{"why", report::not_counted_word(one.why)},
                {"times", one.times},
                {"first_at", one.first_at},
                {"first_line", one.first_line}};
  });
}

Json moving_json(const MovingValues& moving) {
  Json json{{"cleared_at", or_null(moving.cleared_at)},
            {"read", moving.read},
            {"ordered", moving.ordered}};
  json["values"] = list_json(moving.values, [](const MovingValue& one) {
    return Json{{"id", one.id},
                {"reading", one.kind},
                {"member", or_null(one.member)},
                {"values", one.values},
                {"not_used", one.not_used},
                {"heading", report::heading_word(one.heading)},
                {"because", or_null(one.because)},
                {"estimate", or_null(one.estimate)},
                {"estimate_low", or_null(one.estimate_low)},
                {"estimate_high", or_null(one.estimate_high)},
                {"estimate_says", or_null(one.estimate_says)}};
  });
  return json;
}

Json log_json(const DriveCheck& check) {
  Json json{{"name", check.log},
            {"rows", check.rows},
            {"duration", check.duration},
            {"in_window", check.in_window},
            {"fluid_unknown", check.fluid_unknown},
            {"driven", check.driven},
            {"in_top_gears", check.in_top_gears},
            {"longest_stop", check.longest_stop},
            {"fluid_seen", range_json(check.fluid_seen)},
            {"gear_from_speeds", check.gear_from_speeds},
            {"open_engagements", check.open_engagements}};
  json["gaps"] = list_json(check.gaps, [](const DriveGap& gap) {
    return Json{{"from", gap.from}, {"to", gap.to}, {"line", gap.line}};
  });
  return json;
}

}  // namespace

std::string to_json(const DriveSheet& sheet) {
  Json json{{"job", sheet.job},       {"unit", sheet.unit},  {"procedure", sheet.procedure},
            {"title", sheet.title},   {"note", sheet.note},  {"fluid", range_json(sheet.fluid)},
            {"events", sheet.events}, {"takes", sheet.takes}};
  json["first"] = first_json(sheet.first);
  json["before"] = before_json(sheet.before);
  json["elements"] = list_json(sheet.elements, [](const SheetElement& one) {
    return Json{
        {"name", one.name}, {"taught_by", one.taught_by}, {"needs_it", or_null(one.needs_it)}};
  });
  json["manoeuvres"] = list_json(sheet.manoeuvres, manoeuvre_json);
  return dumped(json);
}

std::string to_json(const DriveCheck& check) {
  Json json{{"job", check.job},
            {"unit", check.unit},
            {"procedure", check.procedure},
            {"title", check.title},
            {"complete", check.complete},
            {"fluid", range_json(check.fluid)},
            {"takes", check.takes},
            {"needed_stop", check.needed_stop}};
  json["record"] = check.record ? Json{{"list", check.record->list},
                                       {"done", check.record->done},
                                       {"not_before", or_null(check.record->not_before)}}
                                : Json(nullptr);
  json["before"] = before_json(check.before);
  json["log"] = log_json(check);
  json["signs"] = list_json(check.signs, [&](DriveSign sign) {
    return Json{{"sign", report::sign_word(sign)}, {"says", report::sign_says(sign, check)}};
  });
  json["elements"] = list_json(check.elements, [](const ElementEvents& one) {
    return Json{{"name", one.name},
                {"counted", one.counted},
                {"needed", one.needed},
                {"not_counted", not_counted_json(one.not_counted)}};
  });
  json["manoeuvres"] = list_json(check.manoeuvres, [](const ManoeuvreTimes& one) {
    return Json{{"name", one.name},
                {"counted", one.counted},
                {"needed", one.needed},
                {"missing", one.missing()},
                {"not_counted", not_counted_json(one.not_counted)}};
  });
  json["values"] = moving_json(check.moving);
  return dumped(json);
}

std::string to_json(const NoProcedure& none) {
  return dumped({{"no_procedure", true},
                 {"unit", none.unit},
                 {"asked", none.asked.empty() ? Json(nullptr) : Json(none.asked)},
                 {"known", none.known}});
}

}  // namespace slipcase

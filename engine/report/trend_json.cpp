// The readings of a vehicle over its visits as JSON.
#include "report/json_parts.h"
#include "report/trend_words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::dumped;
using report::Json;
using report::list_json;
using report::name_of;
using report::number;

Json odometer_json(const std::optional<double>& odometer) {
  return odometer ? number(*odometer) : Json(nullptr);
}

Json value_json(const TrendValue& value) {
  Json json{{"at", value.at},
            {"odometer", odometer_json(value.odometer)},
            {"value", number(value.value)}};
  if (!value.aside.empty()) json["aside"] = value.aside;
  return json;
}

Json slope_json(const std::optional<TrendSlope>& slope) {
  if (!slope) return nullptr;
  return {{"value", number(slope->value)},
          {"low", number(slope->low)},
          {"high", number(slope->high)},
          {"pairs_low", number(slope->pairs_low)},
          {"pairs_high", number(slope->pairs_high)},
          {"confidence", number(slope->confidence)},
          {"from", number(slope->from)},
          {"at_odometer_0", number(slope->at_odometer_0)},
          {"moved", slope->moved}};
}

Json segment_json(const TrendSegment& segment) {
  return {{"split_by", segment.split_by},
          {"since", segment.since},
          {"split_surely", segment.split_surely},
          {"split_at", odometer_json(segment.split_at)},
          {"values", list_json(segment.values, value_json)},
          {"used", segment.used},
          {"shape", name_of(segment.shape)},
          {"steps", list_json(segment.steps,
                              [](const TrendStep& step) {
                                return Json{{"from", step.from},
                                            {"to", step.to},
                                            {"height", number(step.height)},
                                            {"confirmed", step.confirmed}};
                              })},
          {"changed", segment.changed},
          {"slope", slope_json(segment.slope)}};
}

Json distance_json(const ReadingTrend& reading) {
  if (!reading.to_limit) return nullptr;
  return {{"limit", number(reading.to_limit->limit)},
          {"earliest", number(reading.to_limit->earliest)},
          {"latest", odometer_json(reading.to_limit->latest)}};
}

Json reading_json(const ReadingTrend& reading) {
  Json json{{"id", reading.id},
            {"unit", reading.unit},
            {"limits", {number(reading.low_limit), number(reading.high_limit)}},
            {"watch", {number(reading.low_watch), number(reading.high_watch)}},
            {"scatter", number(reading.scatter)},
            {"newest", reading.newest ? value_json(*reading.newest) : Json(nullptr)},
            {"range", name_of(reading.range)},
            {"segments", list_json(reading.segments, segment_json)},
            {"to_limit", distance_json(reading)}};
  if (!reading.to_limit) json["no_distance_because"] = reading.no_distance_because;
  json["notes"] = reading.notes;
  json["look"] = name_of(reading.look);
  if (!reading.look_because.empty()) json["look_because"] = reading.look_because;
  return json;
}

Json mark_json(const TrendMark& mark) {
  return {{"at", mark.at},
          {"odometer", odometer_json(mark.odometer)},
          {"says", mark.says},
          {"splits", mark.splits}};
}

Json pattern_json(const TrendPattern& pattern) {
  return {{"reading", pattern.reading},
          {"moved", name_of(pattern.moved)},
          {"told", pattern.told},
          {"until", pattern.until},
          {"up", pattern.up},
          {"down", pattern.down},
          {"unsteady", pattern.unsteady}};
}

Json next_json(const std::optional<NextLook>& next) {
  if (!next) return nullptr;
  return {{"look", name_of(next->look)},
          {"from", number(next->from)},
          {"to", number(next->to)},
          {"odometer", number(next->odometer)},
          {"because", next->because}};
}

}  // namespace

std::string to_json(const VehicleTrend& trend) {
  return dumped({{"vehicle", trend.vehicle},
                 {"unit", trend.unit},
                 {"cards", trend.cards},
                 {"left_out", trend.left_out},
                 {"disagreements", trend.disagreements},
                 {"snapshots", trend.snapshots},
                 {"ordered", trend.ordered},
                 {"first_at", trend.first_at},
                 {"last_at", trend.last_at},
                 {"distance_unit", trend.distance_unit},
                 {"slope_distance", number(trend.slope_distance)},
                 {"marks", list_json(trend.marks, mark_json)},
                 {"readings", list_json(trend.readings, reading_json)},
                 {"patterns", list_json(trend.patterns, pattern_json)},
                 {"next", next_json(trend.next)}});
}

}  // namespace slipcase

// What a driven learning drive writes on a card.
#include <algorithm>

#include <fmt/core.h>

#include "facts/job_card.h"
#include "slipcase/drive.h"
#include "units/date.h"

namespace slipcase {

namespace {

std::string text_of(const facts::Node& map, std::string_view key) {
  const facts::Node* value = map.find(key);
  return value != nullptr && value->kind == facts::NodeKind::scalar ? value->text : std::string();
}

/// Of the same day, whatever is said of it beside.
bool stands_already(const DriveRecord& record, const std::string& day, std::string_view card_text) {
  SourceSet sources;
  Diagnostics ignored;
  const SourceId source = sources.add("card", std::string(card_text));
  const auto root = facts::read_document(sources, source, facts::card_limits, ignored);
  const facts::Node* list = root ? root->find(record.list) : nullptr;
  return list != nullptr &&
         std::any_of(list->items.begin(), list->items.end(), [&](const facts::Node& item) {
           return text_of(item, "done") == record.done && text_of(item, "date") == day;
         });
}

/// By the day alone; what is no day the card's own reader refuses.
bool is_before(const std::string& day, const std::string& earliest) {
  const auto driven = units::Moment::parse(day);
  const auto first = units::Date::parse(earliest);
  return driven && first && driven->date < *first;
}

}  // namespace

std::variant<std::vector<CardChange>, std::string> changes_for_drive(const DriveRecord& record,
                                                                     const std::string& day,
                                                                     const std::string& odometer,
                                                                     std::string_view card_text) {
  if (stands_already(record, day, card_text))
    return fmt::format("`{}` of {} stands on the card already", record.done, day);
  if (is_before(day, record.not_before))
    return fmt::format(
        "the card has a clearing of {}, so a drive of {} cannot be the one behind it: give its day "
        "with --date",
        record.not_before, day);
  CardValue entry =
      CardValue::map({{"done", CardValue::of(record.done)}, {"date", CardValue::of(day)}});
  if (!odometer.empty()) entry.entries.emplace_back("odometer", CardValue::of(odometer));
  return std::vector<CardChange>{{CardChange::Kind::add, {record.list}, std::move(entry)}};
}

}  // namespace slipcase

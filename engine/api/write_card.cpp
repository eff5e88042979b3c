#include "slipcase/write_card.h"

#include <functional>

#include <fmt/core.h>

#include "api/messages.h"
#include "api/parts.h"
#include "facts/document_edit.h"
#include "facts/job_card.h"
#include "facts/written.h"
#include "support/ascii.h"
#include "support/replace_file.h"

namespace slipcase {

namespace {

std::string where(const CardChange& change) {
  std::string text;
  for (const std::string& key : change.path) text += (text.empty() ? "" : ": ") + key;
  return text;
}

std::optional<std::string> changed(const std::string& text, const CardChange& change) {
  switch (change.kind) {
    case CardChange::Kind::put:
      return facts::with_value(text, change.path, change.value, facts::card_limits);
    case CardChange::Kind::add:
      return facts::with_item(text, change.path, change.value, facts::card_limits);
    case CardChange::Kind::name:
      return facts::with_name(text, change.path, change.value.text, facts::card_limits);
  }
  return std::nullopt;
}

std::optional<std::string> edited(const CardText& card, std::span<const CardChange> changes,
                                  Diagnostics& diagnostics) {
  std::string text = card.text;
  for (const CardChange& change : changes) {
    auto next = changed(text, change);
    if (!next) {
      diagnostics.add(api::card_not_changed, std::nullopt,
                      fmt::format("`{}` could not be put into `{}` as it is written there: add "
                                  "by hand: {}",
                                  where(change), card.name, as_line(change)));
      return std::nullopt;
    }
    text = *std::move(next);
  }
  return text;
}

/// Nothing reaches the disk before the changed card has been read as any card is.
CardWrite written(const CardText& card, std::span<const CardChange> changes,
                  const Knowledge& knowledge, Diagnostics& diagnostics,
                  const std::function<WriteResult(const std::string&)>& write) {
  auto text = edited(card, changes, diagnostics);
  if (!text) return {};
  CardText changed{card.name, *std::move(text), std::nullopt};
  changed.unit = unit_named_in(changed.text);
  JobLoad load = load_job(changed, knowledge, diagnostics);
  if (!load.job) return {};
  const WriteResult result = write(changed.text);
  switch (result.outcome) {
    case Written::done:
      return {CardWritten::done, std::move(changed), std::move(load.job)};
    case Written::changed:
    case Written::exists:
      return {CardWritten::changed, std::nullopt, std::nullopt};
    case Written::failed:
      break;
  }
  diagnostics.add(api::card_not_written, std::nullopt, result.detail);
  return {CardWritten::failed, std::nullopt, std::nullopt};
}

}  // namespace

CardWrite make_card(const std::filesystem::path& path, const std::string& job,
                    std::span<const CardChange> changes, const Knowledge& knowledge,
                    Diagnostics& diagnostics) {
  const bool as_json = in_small_letters(path.extension().string()) == ".json";
  const auto quotes = as_json ? facts::Quotes::always : facts::Quotes::where_needed;
  const std::string name = facts::written_text(job, quotes);
  const std::string first_line = as_json ? "{ \"job\": " + name + " }\n" : "job: " + name + "\n";
  return written({path.string(), first_line, std::nullopt}, changes, knowledge, diagnostics,
                 [&path](const std::string& text) { return create_file(path, text); });
}

CardWrite write_card(const std::filesystem::path& path, const CardText& card,
                     std::span<const CardChange> changes, const Knowledge& knowledge,
                     Diagnostics& diagnostics) {
  return written(card, changes, knowledge, diagnostics, [&](const std::string& text) {
    return text == card.text ? WriteResult{Written::done, {}} : replace_file(path, card.text, text);
  });
}

std::string as_line(const CardChange& change) {
  CardValue value = change.value;
  if (change.kind == CardChange::Kind::add) value = CardValue::list({std::move(value)});
  for (auto key = change.path.rbegin(); key + 1 != change.path.rend(); ++key) {
    std::vector<std::pair<std::string, CardValue>> entries;
    entries.emplace_back(*key, std::move(value));
    value = CardValue::map(std::move(entries));
  }
  return change.path.front() + ": " + facts::written_inline(value, facts::Quotes::where_needed);
}

}  // namespace slipcase

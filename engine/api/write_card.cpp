#include "slipcase/write_card.h"

#include <functional>

#include <fmt/core.h>

#include "api/messages.h"
#include "api/parts.h"
#include "facts/document_edit.h"
#include "facts/job_card.h"
#include "facts/written.h"
#include "support/replace_file.h"

namespace slipcase {

namespace {

std::string where(const CardChange& change) {
  std::string text;
  for (const std::string& key : change.path) text += (text.empty() ? "" : ": ") + key;
  return text;
}

std::optional<std::string> edited(const CardText& card, std::span<const CardChange> changes,
                                  Diagnostics& diagnostics) {
  std::string text = card.text;
  for (const CardChange& change : changes) {
    const bool put = change.kind == CardChange::Kind::put;
    auto next = put ? facts::with_value(text, change.path, change.value, facts::card_limits)
                    : facts::with_item(text, change.path, change.value, facts::card_limits);
    if (!next) {
      diagnostics.add(api::card_not_changed, std::nullopt,
                      fmt::format("`{}` could not be put into `{}` as it is written there: add "
                                  "these lines by hand\n{}",
                                  where(change), card.name, as_lines({&change, 1})));
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
  const std::string first_line =
      "job: " + facts::written_text(job, facts::Quotes::where_needed) + "\n";
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

std::string as_lines(std::span<const CardChange> changes) {
  std::string lines;
  for (const CardChange& change : changes) {
    std::string indent;
    for (const std::string& key : change.path) {
      lines += (indent.empty() ? "" : "\n") + indent + key + ":";
      indent += "  ";
    }
    const std::string value = facts::written_inline(change.value, facts::Quotes::where_needed);
    lines += change.kind == CardChange::Kind::add ? "\n" + indent + "- " + value : " " + value;
    lines += "\n";
  }
  return lines;
}

}  // namespace slipcase

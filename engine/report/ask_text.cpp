// One question on screen and as JSON, and that there is none.
#include <algorithm>

#include <fmt/core.h>

#include "report/json_parts.h"
#include "report/lines.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::Json;
using report::list_json;
using report::wrapped;

std::string_view word(QuestionKind kind) {
  switch (kind) {
    case QuestionKind::event:
      return "event";
    case QuestionKind::codes:
      return "codes";
    case QuestionKind::finding:
      return "finding";
    case QuestionKind::detail:
      return "detail";
    case QuestionKind::complaint:
      return "complaint";
  }
  return "";
}

std::string_view word(QuestionReason reason) {
  switch (reason) {
    case QuestionReason::evidence:
      return "evidence";
    case QuestionReason::safety:
      return "safety";
    case QuestionReason::codes:
      return "codes";
    case QuestionReason::names_complaint:
      return "names_complaint";
    case QuestionReason::tells:
      return "tells";
  }
  return "";
}

/// "1 sometimes   2 always   n no, looked and it is not there   u not sure"
std::string choices_text(const Question& question) {
  if (question.choices.empty()) return question.form;
  std::string text;
  for (const AnswerChoice& choice : question.choices) {
    const std::string key = choice.word.empty() ? choice.key : choice.key + "/" + choice.word;
    text += (text.empty() ? "" : ",  ") + key + " " + choice.says;
  }
  if (question.takes_others) text += ",  o no to this and all others of its kind";
  return text;
}

std::string reason_text(QuestionReason reason) {
  switch (reason) {
    case QuestionReason::evidence:
      return "It is asked first because it decides whether what is on the card may be used.";
    case QuestionReason::safety:
      return "It is asked early because a caution goes with it.";
    case QuestionReason::codes:
    case QuestionReason::names_complaint:
      return "";
    case QuestionReason::tells:
      return "Of all open questions it tells most about what is likely here.";
  }
  return "";
}

}  // namespace

std::string to_text(const Question& question, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out = "\n" + report::heading(question.asks, style);
  if (!question.now.empty()) out += wrapped("on the card: " + question.now, width, 1, 2);
  return out + wrapped(choices_text(question), width, 1, 2);
}

std::string why_text(const Question& question, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out;
  const std::string reason = reason_text(question.reason);
  if (!reason.empty()) out += wrapped(reason, width, 1, 2);
  for (const std::string& why : question.why) out += wrapped(why, width, 1, 2);
  for (const QuestionOutcome& outcome : question.outcomes) {
    const std::string chance =
        outcome.chance ? " (" + in_plain_counts(*outcome.chance) + ")" : std::string();
    const std::string then =
        outcome.first.empty() ? "nothing stands out then" : "then first: " + outcome.first;
    out += wrapped(fmt::format("{}{}: {}", outcome.answer, chance, then), width, 1, 2);
  }
  return out + wrapped("On the card: " + question.id, width, 1, 2);
}

std::string to_text(std::span<const QuestionGroup> groups, std::size_t most,
                    const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out;
  if (groups.size() > most)
    out += wrapped(fmt::format("{} questions have that; the first {}:", groups.size(), most), width,
                   2, 2);
  for (std::size_t i = 0; i < std::min(groups.size(), most); ++i)
    out += report::led(fmt::format("  {:>2}", i + 1), 6, groups[i].asks, width);
  return out;
}

std::string parts_text(const QuestionGroup& group, const TextStyle& style) {
  std::string text = "for which of these:";
  for (const std::string& member : group.members) text += " " + member;
  return wrapped(text, report::usable_width(style), 2, 2);
}

std::string cautions_text(std::span<const CautionReport> cautions, const TextStyle& style) {
  std::string out;
  for (const CautionReport& caution : cautions)
    out += report::led(" !", 3, caution.says, report::usable_width(style));
  return out;
}

std::string to_text(const NothingToAsk& nothing, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out = "\n" + report::heading("No question left that is worth asking.", style);
  if (nothing.open > 0)
    out += wrapped(
        fmt::format("{} more could be asked and would tell next to nothing here.", nothing.open),
        width, 1, 2);
  if (nothing.passed_over > 0)
    out += wrapped(fmt::format("{} passed over: asked again when you call `slipcase ask` again.",
                               nothing.passed_over),
                   width, 1, 2);
  if (nothing.best_check)
    out += wrapped(fmt::format("What tells most for its time now is a check: {} ({:g} min).",
                               nothing.best_check->found_by, nothing.best_check->minutes),
                   width, 1, 2);
  return out + wrapped("Go on with: slipcase next", width, 1, 2);
}

namespace {

Json ids_of(const std::vector<CautionReport>& cautions) {
  return list_json(cautions, [](const CautionReport& caution) { return Json(caution.id); });
}

}  // namespace

std::string to_json(const Question& question) {
  Json json{{"kind", word(question.kind)}, {"reason", word(question.reason)},
            {"id", question.id},           {"asks", question.asks},
            {"now", question.now},         {"information", question.information},
            {"why", question.why}};
  json["choices"] = list_json(question.choices, [](const AnswerChoice& choice) {
    return Json{{"key", choice.key}, {"value", choice.value}, {"says", choice.says}};
  });
  if (!question.form.empty()) json["form"] = question.form;
  if (question.takes_others) json["takes_others"] = true;
  if (question.takes_when) json["takes_when"] = true;
  json["outcomes"] = list_json(question.outcomes, [](const QuestionOutcome& outcome) {
    Json one{{"answer", outcome.answer}, {"first", outcome.first}};
    if (outcome.chance) one["chance"] = outcome.chance->value();
    return one;
  });
  return report::dumped(Json{{"question", json}, {"cautions", ids_of(question.cautions)}});
}

std::string to_json(const NothingToAsk& nothing) {
  Json json{{"job", nothing.job},
            {"question", nullptr},
            {"open", nothing.open},
            {"passed_over", nothing.passed_over},
            {"cautions", ids_of(nothing.cautions)}};
  if (nothing.best_check)
    json["best_check"] = Json{{"check", nothing.best_check->check},
                              {"says", nothing.best_check->found_by},
                              {"minutes", nothing.best_check->minutes}};
  return report::dumped(json);
}

}  // namespace slipcase

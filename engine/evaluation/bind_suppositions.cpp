// Binder: answers that are only tried, in place of what the card says.
#include <fmt/core.h>

#include "evaluation/binder.h"
#include "evaluation/messages.h"

namespace slipcase::evaluation {

void Binder::suppose(std::span<const facts::Supposition> supposed) {
  std::vector<std::optional<Answer>> taken(rules_.findings.size());
  for (const facts::Supposition& one : supposed) {
    if (const auto ground = names_.ground(CardKind::finding, one.finding)) {
      suppose(GroundFinding{*ground}, one.answer, taken[*ground]);
    } else if (const auto known = names_.find(CardKind::finding, one.finding.name.text)) {
      // Which one was reported; its answer can still be wrong too.
      (void)parse_answer(rules_.rules->findings.at(known->index), one.answer);
    }
  }
}

void Binder::suppose(GroundFinding finding, const facts::Scalar& value,
                     std::optional<Answer>& taken) {
  auto said = parse_answer(rules_.declaration(finding), value);
  if (!said) return;
  const bool sure = said->said == Answer::Said::yes || said->said == Answer::Said::no;
  if (sure && !is_driven(finding)) {
    diagnostics_.add(not_driven, value.place,
                     fmt::format("`{}` cannot be supposed: by `not_driven` on the card nobody "
                                 "drove there",
                                 rules_.name_of(finding)));
    return;
  }
  said->place = value.place;
  if (taken && (taken->said != said->said || taken->grade != said->grade)) {
    diagnostics_
        .add(contradiction, value.place,
             fmt::format("`{}` is supposed in two ways", rules_.name_of(finding)))
        .notes.push_back({taken->place, "the other is here"});
    return;
  }
  taken = said;
  facts_.answers[finding.at()] = *said;
}

}  // namespace slipcase::evaluation

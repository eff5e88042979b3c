#include "book/reading_session.h"

#include <algorithm>

#include <fmt/core.h>

#include "book/messages.h"
#include "facts/card_reader.h"
#include "support/utf8.h"

namespace slipcase::book {

namespace {

facts::Node node_of(const facts::Scalar& scalar) {
  facts::Node node;
  node.kind = facts::NodeKind::scalar;
  node.text = scalar.text;
  node.place = scalar.place;
  return node;
}

}  // namespace

void take_texts(SessionTexts texts, ReadSession& session, Diagnostics& diagnostics) {
  if (texts.date) session.moment = facts::read_moment(node_of(*texts.date), diagnostics);
  if (texts.odometer)
    session.odometer = facts::read_odometer(node_of(*texts.odometer), diagnostics);
  if (texts.fluid_temperature)
    (void)facts::read_temperature(node_of(*texts.fluid_temperature), diagnostics);
  if (texts.software && !is_printable(texts.software->text))
    diagnostics.add(reading_shape, texts.software->place,
                    "there is a character here that is none to read: write plain text");
  session.texts = std::move(texts);
}

void take_value(const grounding::GroundRules& rules, SessionValue value, ReadSession& session,
                Diagnostics& diagnostics) {
  const auto same = std::ranges::find(session.values, value.reading, &SessionValue::reading);
  if (same != session.values.end()) {
    diagnostics
        .add(reading_twice, value.place,
             fmt::format("`{}` has two values in one session: keep the one that was read",
                         rules.name_of(value.reading)))
        .notes.push_back({same->place, "the other is here"});
    return;
  }
  session.values.push_back(std::move(value));
}

}  // namespace slipcase::book

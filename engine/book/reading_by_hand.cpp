#include "book/reading_by_hand.h"

#include <fmt/core.h>

#include "book/messages.h"
#include "evaluation/card_names.h"
#include "evaluation/messages.h"
#include "evaluation/possible.h"
#include "facts/node_reader.h"
#include "facts/supposition.h"

namespace slipcase::book {

namespace {

using evaluation::CardKind;
using grounding::GroundReading;

class HandReader {
 public:
  HandReader(const grounding::GroundRules& rules, const SourceSet& sources, ReadSession& session,
             Diagnostics& diagnostics)
      : rules_(rules),
        sources_(sources),
        session_(session),
        diagnostics_(diagnostics),
        names_(rules, diagnostics) {}

  void read(SourceId source) {
    const facts::NamedValueWords words{
        reading_shape,
        "is no reading: write its name, `=` and the value with its unit, as in "
        "`fill_pressure of K1=40 mbar`",
        "a reading"};
    const auto named = facts::read_named_value(sources_, source, words, diagnostics_);
    if (!named || is_of_the_session(named->name.name)) return;
    const auto reading = names_.ground(CardKind::reading, named->name);
    if (!reading) return;
    auto value = value_of(GroundReading{*reading}, named->value);
    if (!value) return;
    value->place = {source, 0, static_cast<std::uint32_t>(sources_.text(source).size())};
    take_value(rules_, *std::move(value), session_, diagnostics_);
  }

 private:
  /// These have options of their own.
  bool is_of_the_session(const facts::Scalar& name) {
    std::string option;
    for (const std::string_view key : {"date", "odometer", "software"})
      if (name.text == key) option = key;
    if (name.text == "fluid_temperature") option = "fluid-temperature";
    if (option.empty()) return false;
    diagnostics_.add(
        reading_shape, name.place,
        fmt::format("`{}` is said of the whole session: give it behind `--{}`", name.text, option));
    return true;
  }

  std::optional<SessionValue> value_of(GroundReading reading, const facts::Scalar& written) {
    if (written.text == not_learned_text) return SessionValue{reading, written.text, {}, {}, {}};
    const auto declaration = rules_.readings.origins[reading.at()].declaration;
    const units::Dimension& dimension = rules_.rules->readings[declaration].dimension;
    const auto quantity = facts::read_quantity(written, dimension, diagnostics_);
    if (!quantity) return std::nullopt;
    const auto& bounds = rules_.bounds[reading.at()];
    if (bounds && !evaluation::is_possible(*bounds, quantity->value)) {
      diagnostics_.add(evaluation::impossible_value, written.place,
                       evaluation::impossible_written(rules_, reading, written.text, dimension));
      return std::nullopt;
    }
    const units::Unit* unit = units::parse_quantity(written.text, dimension).unit;
    return SessionValue{reading, written.text, quantity->value, unit, {}};
  }

  const grounding::GroundRules& rules_;
  const SourceSet& sources_;
  ReadSession& session_;
  Diagnostics& diagnostics_;
  evaluation::CardNames names_;
};

}  // namespace

void read_by_hand(const grounding::GroundRules& rules, const SourceSet& sources,
                  std::span<const SourceId> values, ReadSession& session,
                  Diagnostics& diagnostics) {
  HandReader reader(rules, sources, session, diagnostics);
  for (const SourceId value : values) reader.read(value);
}

}  // namespace slipcase::book

// Readings for a job's card: options and files to what is written on it.
#include "slipcase/add_reading.h"

#include "api/parts.h"
#include "api/reading.h"
#include "book/add_reading.h"
#include "book/messages.h"
#include "book/reading_by_hand.h"
#include "book/reading_table.h"
#include "facts/table.h"
#include "support/listed.h"

namespace slipcase {

namespace {

using Sessions = std::vector<book::ReadSession>;

/// A source of its own, so that a message can point into it.
std::optional<facts::Scalar> text_behind(const char* option, const std::string& text,
                                         SourceSet& sources) {
  if (text.empty()) return std::nullopt;
  const SourceId source = sources.add(option, text);
  return facts::Scalar{text, {source, 0, static_cast<std::uint32_t>(text.size())}};
}

book::SessionTexts texts_of(const NewReadings& given, SourceSet& sources) {
  return {text_behind("--date", given.date, sources),
          text_behind("--odometer", given.odometer, sources),
          text_behind("--software", given.software, sources),
          text_behind("--fluid-temperature", given.fluid_temperature, sources)};
}

Sessions by_hand(const NewReadings& given, book::SessionTexts texts,
                 const grounding::GroundRules& rules, SourceSet& sources,
                 Diagnostics& diagnostics) {
  std::vector<SourceId> values;
  values.reserve(given.values.size());
  for (const std::string& value : given.values) values.push_back(sources.add("--value", value));
  Sessions sessions(1);
  book::take_texts(std::move(texts), sessions.front(), diagnostics);
  book::read_by_hand(rules, sources, values, sessions.front(), diagnostics);
  return sessions;
}

std::optional<SourceId> read_source(const std::filesystem::path& path, std::uintmax_t most_bytes,
                                    SourceSet& sources, Diagnostics& diagnostics, Loaded& outcome) {
  auto text = read_file(path, most_bytes);
  if (const auto* failure = std::get_if<FileFailure>(&text)) {
    outcome = api::worse(outcome, api::report(*failure, diagnostics));
    return std::nullopt;
  }
  return sources.add(path.string(), std::move(std::get<std::string>(text)));
}

std::optional<Sessions> from_table(const NewReadings& given, const book::SessionTexts& texts,
                                   const grounding::GroundRules& rules, SourceSet& sources,
                                   Diagnostics& diagnostics, Loaded& outcome) {
  const auto columns =
      read_source(given.mapping, api::most_profile_bytes, sources, diagnostics, outcome);
  const auto table =
      read_source(given.table, facts::most_table_bytes, sources, diagnostics, outcome);
  const auto mapping =
      columns ? book::read_reading_mapping(sources, *columns, rules, diagnostics) : std::nullopt;
  if (!table || !mapping) return std::nullopt;
  return book::read_session_table(sources, *table, *mapping, rules, texts, diagnostics);
}

/// Where a date was given, well or badly, it is not missing.
void refuse_timeless(const Sessions& sessions, bool from_table, Diagnostics& diagnostics) {
  for (const book::ReadSession& session : sessions) {
    if (session.texts.date || session.texts.odometer) continue;
    std::string text =
        "it is not said when this was read: give `--date 2031-04-17`, `--odometer \"148200 km\"` "
        "or both";
    if (from_table) text += ", or say of a column that it `means: date`, and fill it in each row";
    std::optional<Place> place;
    if (from_table && !session.values.empty()) place = session.values.front().place;
    diagnostics.add(book::reading_no_time, place, text);
  }
}

AddReadings finished(Diagnostics& diagnostics, AddReadings result) {
  diagnostics.sort();
  diagnostics = listed(diagnostics);
  return result;
}

}  // namespace

AddReadings add_readings(const NewReadings& given, const CardText& card, const Job& job,
                         const Knowledge& knowledge, Diagnostics& diagnostics) {
  const Knowledge::Parts& parts = knowledge.parts();
  const grounding::GroundRules& rules = *parts.ground;
  AddReadings result;
  book::SessionTexts texts = texts_of(given, *parts.sources);
  std::optional<Sessions> sessions;
  if (given.table.empty()) {
    sessions = by_hand(given, std::move(texts), rules, *parts.sources, diagnostics);
  } else {
    sessions = from_table(given, texts, rules, *parts.sources, diagnostics, result.outcome);
  }
  if (sessions) refuse_timeless(*sessions, !given.table.empty(), diagnostics);
  if (!sessions || diagnostics.has_errors()) return finished(diagnostics, std::move(result));
  AddedReadings added{job.parts().title.job, card.name, {}};
  added.sessions = book::compare_with_card(rules, job.parts().facts, *sessions, diagnostics);
  if (diagnostics.has_errors()) return finished(diagnostics, std::move(result));
  result.outcome = Loaded::good;
  result.changes = book::changes_for(rules, *sessions, added.sessions);
  result.readings = std::move(added);
  return finished(diagnostics, std::move(result));
}

}  // namespace slipcase

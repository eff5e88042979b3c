// Any text as a mapping and a table of readings, `---` on a line of its own between them: it is
// read or refused, places of messages lie in the texts, and what is let through makes a sound card.
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <string>

#include "api/parts.h"
#include "book/add_reading.h"
#include "book/reading_table.h"
#include "evaluation/bind.h"
#include "facts/document_edit.h"
#include "facts/job_card.h"
#include "slipcase/report.h"

namespace {

using namespace slipcase;

constexpr const char* empty_card = "job: J-1\nunit: six_speed\nopened: 2031-04-17\n";

void require(bool holds) {
  if (!holds) std::abort();
}

const grounding::GroundRules& fuzzed_rules() {
  static const Knowledge knowledge = [] {
    Diagnostics diagnostics;
    RulePaths paths;
    paths.shipped = std::filesystem::path(SLIPCASE_RULES) / "six_speed";
    return *load_knowledge(paths, std::make_shared<SourceSet>(), diagnostics).knowledge;
  }();
  return *knowledge.parts().ground;
}

evaluation::JobFacts facts_of(const std::string& card) {
  SourceSet sources;
  Diagnostics diagnostics;
  const SourceId source = sources.add("card.yaml", card);
  const auto read = facts::read_job_card(sources, source, diagnostics);
  require(read.has_value());
  auto facts = evaluation::bind(fuzzed_rules(), *read, diagnostics);
  require(facts.has_value());
  return std::move(*facts);
}

void put_on_a_card(const std::vector<book::ReadSession>& sessions, Diagnostics& diagnostics) {
  const grounding::GroundRules& rules = fuzzed_rules();
  AddedReadings added{"J-1", "card.yaml", {}};
  added.sessions = book::compare_with_card(rules, facts_of(empty_card), sessions, diagnostics);
  require(!to_text(added).empty() && !to_json(added).empty());
  if (diagnostics.has_errors()) return;
  std::string card = empty_card;
  for (const CardChange& change : book::changes_for(rules, sessions, added.sessions)) {
    auto next = facts::with_item(card, change.path, change.value, facts::card_limits);
    require(next.has_value());
    card = *std::move(next);
  }
  // Once more the same: all of it is there.
  Diagnostics again;
  const auto same = book::compare_with_card(rules, facts_of(card), sessions, again);
  require(!again.has_errors() && book::changes_for(rules, sessions, same).empty());
}

bool all_have_a_time(const std::vector<book::ReadSession>& sessions) {
  for (const book::ReadSession& session : sessions)
    if (!session.moment && !session.odometer) return false;
  return true;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(data, data + size);
  const std::string_view mark = "\n---\n";
  const std::size_t cut = text.find(mark);
  if (cut == std::string::npos) return 0;
  SourceSet sources;
  Diagnostics diagnostics;
  const SourceId columns = sources.add("columns.yaml", text.substr(0, cut + 1));
  const SourceId table = sources.add("table.csv", text.substr(cut + mark.size()));
  const auto mapping = book::read_reading_mapping(sources, columns, fuzzed_rules(), diagnostics);
  if (mapping) {
    const auto sessions =
        book::read_session_table(sources, table, *mapping, fuzzed_rules(), {}, diagnostics);
    require(sessions.has_value() != diagnostics.has_errors());
    if (sessions && all_have_a_time(*sessions)) put_on_a_card(*sessions, diagnostics);
  }
  std::size_t shown = 0;
  for (const Diagnostic& one : diagnostics.list()) {
    require(!one.place || one.place->end <= sources.text(one.place->source).size() + 1);
    if (shown++ < 20) require(!render(one, sources).empty());
  }
  return 0;
}

#include "support/rules_text.h"

#include <utility>

#include <fmt/core.h>

#include "language/parse.h"

namespace slipcase::test {

namespace {

using rulebase::Relation;
using rulebase::Scope;
using rulebase::ScopeId;
using Table = std::vector<std::vector<bool>>;

Table turned(const Table& table) {
  Table result(table.front().size(), std::vector<bool>(table.size()));
  for (std::size_t i = 0; i < table.size(); ++i) {
    for (std::size_t j = 0; j < table[i].size(); ++j) result[j][i] = table[i][j];
  }
  return result;
}

Table inverted(Table table) {
  for (auto& row : table) row.flip();
  return table;
}

std::string short_text(const Diagnostic& diagnostic, const SourceSet& sources) {
  if (!diagnostic.place) return std::string(diagnostic.name);
  const auto at = sources.position(diagnostic.place->source, diagnostic.place->begin);
  const std::string file =
      sources.size() > 1 ? fmt::format("{}:", sources.name(diagnostic.place->source)) : "";
  return fmt::format("{}{}:{} {}", file, at.line, at.column, diagnostic.name);
}

std::vector<NamedText> with_header(std::string_view text) {
  return {{"own.rules", "language 1 unit small\n" + std::string(text), Origin::own}};
}

}  // namespace

rulebase::UnitVocabulary small_unit() {
  rulebase::UnitVocabulary unit;
  unit.unit = "small";
  const ScopeId element{0};
  const ScopeId shift{1};
  const ScopeId gear{2};
  unit.scopes = {Scope{"element", "elements", {"K1", "K2", "K3", "B1", "B2"}},
                 Scope{"shift", "shifts", {"1-2", "2-3", "3-4", "4-3"}},
                 Scope{"gear", "gears", {"1", "2", "3", "4"}}};
  unit.marks = {{"rotating", element, {true, true, true, false, false}}};
  // Which elements each gear uses, and each shift applies and releases.
  const Table uses{{true, false, false, false, true},
                   {true, false, false, true, false},
                   {true, true, false, false, false},
                   {false, true, true, false, false}};
  const Table applies{{false, false, false, true, false},
                      {false, true, false, false, false},
                      {false, false, true, false, false},
                      {true, false, false, false, false}};
  unit.relations = {Relation{"applying", shift, element, applies},
                    Relation{"applied_by", element, shift, turned(applies)},
                    Relation{"using", gear, element, uses},
                    Relation{"straining", gear, element, uses},
                    Relation{"used_in", element, gear, turned(uses)},
                    Relation{"without", gear, element, inverted(uses)}};
  unit.code_families = {{"ratio_code", gear}, {"converter_code", std::nullopt}};
  return unit;
}

std::string Resolved::messages() const {
  Diagnostics sorted = diagnostics;
  sorted.sort();
  std::string texts;
  for (const Diagnostic& diagnostic : sorted.list()) {
    if (!texts.empty()) texts += "; ";
    texts += short_text(diagnostic, sources);
  }
  return texts;
}

std::string Resolved::text() const {
  Diagnostics sorted = diagnostics;
  sorted.sort();
  std::string result;
  for (const Diagnostic& diagnostic : sorted.list()) result += render(diagnostic, sources);
  return result;
}

Resolved resolve_texts(const std::vector<NamedText>& texts) {
  Resolved result;
  std::vector<language::File> files;
  for (const NamedText& text : texts) {
    const SourceId source = result.sources.add(text.name, text.text, text.origin);
    files.push_back(language::parse(result.sources, source, result.diagnostics));
  }
  result.rules = rulebase::resolve(files, small_unit(), result.diagnostics);
  return result;
}

Resolved resolve_text(std::string_view text) { return resolve_texts(with_header(text)); }

std::string messages_of(std::string_view text) { return resolve_text(text).messages(); }

std::string warnings_of(std::string_view text) {
  Resolved resolved = resolve_text(text);
  if (resolved.rules) rulebase::check_meaning(*resolved.rules, resolved.diagnostics);
  return resolved.messages();
}

}  // namespace slipcase::test

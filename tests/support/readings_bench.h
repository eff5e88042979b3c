// A table of readings and its mapping for the shipped unit, with what was said about them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/reading_table.h"
#include "support/card_reading.h"
#include "support/ground_bench.h"

namespace slipcase::test {

struct TableReading {
  TableReading(const std::string& mapping, const std::string& csv,
               const book::SessionTexts& given = {}) {
    static const GroundBench bench = GroundBench::shipped();
    rules = bench.ground;
    const SourceId columns = sources.add("map.yaml", mapping);
    const SourceId table = sources.add("t.csv", csv);
    const auto read = book::read_reading_mapping(sources, columns, *rules, diagnostics);
    if (read)
      sessions = book::read_session_table(sources, table, *read, *rules, given, diagnostics);
    diagnostics.sort();
  }

  [[nodiscard]] std::vector<std::string> messages() const {
    std::vector<std::string> texts;
    for (const Diagnostic& one : diagnostics.list())
      texts.push_back((one.place ? sources.describe(*one.place) + " " : "") +
                      std::string(one.name));
    return texts;
  }
  /// "fill_pressure of K1=40 mbar" of one session.
  [[nodiscard]] std::vector<std::string> values(std::size_t session = 0) const {
    std::vector<std::string> list;
    for (const book::SessionValue& value : sessions->at(session).values)
      list.push_back(rules->name_of(value.reading) + "=" + value.text);
    return list;
  }

  SourceSet sources;
  Diagnostics diagnostics;
  std::shared_ptr<const grounding::GroundRules> rules;
  std::optional<std::vector<book::ReadSession>> sessions;
};

}  // namespace slipcase::test

// Reading a text as a job card or a document, with what was said about it.
#pragma once

#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "facts/document.h"
#include "facts/job_card.h"

// So that a failed comparison of message lists shows both.
template <>
struct doctest::StringMaker<std::vector<std::string>> {
  static String convert(const std::vector<std::string>& lines) {
    std::string all;
    for (const std::string& line : lines) all += (all.empty() ? "" : ", ") + line;
    return all.c_str();
  }
};

namespace slipcase::test {

/// "3:11 value-no-such-day" for every message, in order; "- name" for one without a place.
inline std::vector<std::string> places_and_names(const Diagnostics& diagnostics,
                                                 const SourceSet& sources) {
  std::vector<std::string> lines;
  for (const Diagnostic& diagnostic : diagnostics.list()) {
    std::string place = "-";
    if (diagnostic.place) {
      const auto at = sources.position(diagnostic.place->source, diagnostic.place->begin);
      place = std::to_string(at.line) + ":" + std::to_string(at.column);
    }
    lines.push_back(place + " " + std::string(diagnostic.name));
  }
  return lines;
}

struct CardReading {
  explicit CardReading(std::string text) {
    const SourceId id = sources.add("card.yaml", std::move(text));
    card = facts::read_job_card(sources, id, diagnostics);
  }

  [[nodiscard]] std::vector<std::string> messages() const {
    return places_and_names(diagnostics, sources);
  }
  [[nodiscard]] std::string first_text() const {
    return diagnostics.empty() ? "" : diagnostics.list().front().text;
  }
  [[nodiscard]] bool usable() const { return card && !card->faulty; }

  SourceSet sources;
  Diagnostics diagnostics;
  std::optional<facts::JobCard> card;
};

struct DocumentReading {
  explicit DocumentReading(std::string text, const facts::DocumentLimits& limits = {}) {
    id = sources.add("text.yaml", std::move(text));
    root = facts::read_document(sources, id, limits, diagnostics);
  }

  [[nodiscard]] std::vector<std::string> messages() const {
    return places_and_names(diagnostics, sources);
  }
  [[nodiscard]] std::string_view source_of(const facts::Node& node) const {
    return sources.text_at(node.place);
  }

  SourceSet sources;
  SourceId id;
  Diagnostics diagnostics;
  std::optional<facts::Node> root;
};

}  // namespace slipcase::test

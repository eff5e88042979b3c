#include "support/job_bench.h"

#include <stdexcept>

#include "evaluation/bind.h"
#include "facts/job_card.h"

namespace slipcase::test {

namespace {

bool opens_a_day(std::string_view card) { return card.find("opened:") != std::string_view::npos; }

}  // namespace

JobBench::JobBench(std::string_view rules) : bench_(rules) {
  if (!bench_.ground) give_up(bench_.diagnostics, bench_.sources);
}

std::optional<evaluation::JobFacts> JobBench::bind(std::string_view card,
                                                   Diagnostics& diagnostics) {
  std::string text(card);
  if (!opens_a_day(card)) text += "\nopened: 2031-04-17\n";
  const SourceId id = bench_.sources.add("card.yaml", text);
  const auto read = facts::read_job_card(bench_.sources, id, diagnostics);
  if (!read) give_up(diagnostics, bench_.sources);
  return evaluation::bind(*bench_.ground, *read, diagnostics);
}

evaluation::JobFacts JobBench::facts(std::string_view card) {
  Diagnostics diagnostics;
  auto facts = bind(card, diagnostics);
  if (!facts) give_up(diagnostics, bench_.sources);
  return std::move(*facts);
}

evaluation::Evaluation JobBench::evaluate(std::string_view card) {
  return evaluation::evaluate(bench_.ground, facts(card));
}

std::string JobBench::state(std::string_view name, std::string_view card) {
  return text_of(evaluate(card).findings.at(finding(name).at()).state);
}

std::vector<std::string> JobBench::messages(std::string_view card) {
  Diagnostics diagnostics;
  (void)bind(card, diagnostics);
  diagnostics.sort();
  std::vector<std::string> lines;
  for (const auto& diagnostic : diagnostics.list()) {
    std::string place = "-";
    if (diagnostic.place) {
      const auto at = bench_.sources.position(diagnostic.place->source, diagnostic.place->begin);
      place = std::to_string(at.line) + ":" + std::to_string(at.column);
    }
    lines.push_back(place + " " + std::string(diagnostic.name));
  }
  return lines;
}

std::string JobBench::message_text(std::string_view card) {
  Diagnostics diagnostics;
  (void)bind(card, diagnostics);
  return diagnostics.empty() ? "" : diagnostics.list().front().text;
}

grounding::GroundFinding JobBench::finding(std::string_view name) const {
  const auto found = bench_.ground->find_finding(name);
  if (!found) throw std::runtime_error("no finding " + std::string(name));
  return *found;
}

grounding::GroundCause JobBench::cause(std::string_view name) const {
  const auto found = bench_.ground->find_cause(name);
  if (!found) throw std::runtime_error("no cause " + std::string(name));
  return *found;
}

std::string text_of(evaluation::State state) {
  switch (state) {
    case evaluation::State::absent:
      return "absent";
    case evaluation::State::present:
      return "present";
    case evaluation::State::unknown:
      return "unknown";
    case evaluation::State::left_out:
      return "left out";
    case evaluation::State::set_aside:
      break;
  }
  return "set aside";
}

}  // namespace slipcase::test

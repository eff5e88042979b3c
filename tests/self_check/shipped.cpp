#include "self_check/shipped.h"

#include <algorithm>
#include <set>
#include <stdexcept>

#include "evaluation/leaves.h"
#include "slipcase/job.h"

namespace self_check {

namespace {

using slipcase::grounding::GroundDetail;
using slipcase::grounding::GroundEvent;
using slipcase::grounding::GroundReading;
using slipcase::grounding::ProgramId;

void stop_on_messages(const slipcase::Diagnostics& diagnostics,
                      const slipcase::SourceSet& sources) {
  if (diagnostics.empty()) return;
  std::string text;
  for (const slipcase::Diagnostic& diagnostic : diagnostics.list())
    text += slipcase::render(diagnostic, sources) + '\n';
  throw std::runtime_error(text);
}

History read_history(const std::filesystem::path& card, const slipcase::Knowledge& knowledge) {
  auto& parts = knowledge.parts();
  slipcase::Diagnostics diagnostics;
  const auto text = slipcase::read_card(card, diagnostics);
  stop_on_messages(diagnostics, *parts.sources);
  const auto load = slipcase::load_job(text.card.value(), knowledge, diagnostics);
  stop_on_messages(diagnostics, *parts.sources);
  History history{
      card.stem().string(), parts.evaluator.evaluate(load.job.value().parts().facts), {}};
  history.network = slipcase::model::network_for(parts.network, history.states);
  return history;
}

/// The details, readings and findings that conditions ask.
class Asked {
 public:
  explicit Asked(const GroundRules& ground) : ground_(ground) {}

  void condition(ProgramId id) {
    const auto& program = ground_.programs.at(id);
    for (std::uint32_t at = program.begin; at < program.end; ++at)
      slipcase::evaluation::visit_leaves_of(ground_.programs, ground_.programs.code[at], *this);
  }

  [[nodiscard]] bool shares_with(const Asked& other) const {
    return std::ranges::any_of(keys_, [&](const Key& key) { return other.keys_.contains(key); });
  }

  // Leaves (evaluation/leaves.h).
  void finding(GroundFinding finding) { keys_.insert({'f', finding.index}); }
  void detail(GroundDetail detail) { keys_.insert({'d', detail.index}); }
  void reading(GroundReading reading, slipcase::rulebase::ReadingFunction) {
    keys_.insert({'r', reading.index});
  }
  void event(GroundEvent) {}  // no finding that a cause shows asks an event
  void codes(const slipcase::grounding::CodeQuestion&) {}

 private:
  using Key = std::pair<char, std::uint32_t>;

  const GroundRules& ground_;
  std::set<Key> keys_;
};

Asked what_drawn_findings_ask(const Shipped& shipped) {
  const GroundRules& ground = shipped.ground();
  Asked asked(ground);
  for (std::uint32_t f = 0; f < ground.findings.size(); ++f) {
    if (shipped.rules().numbers.findings[f].parents.empty()) continue;
    asked.finding(GroundFinding{f});
    for (const auto& grade : ground.finding_rules[f].at_least)
      if (grade) asked.condition(*grade);
  }
  return asked;
}

}  // namespace

Shipped load_shipped(const std::filesystem::path& folder) {
  const auto sources = std::make_shared<slipcase::SourceSet>();
  slipcase::Diagnostics diagnostics;
  slipcase::RulePaths paths;
  paths.shipped = folder;
  const auto load = slipcase::load_knowledge(paths, sources, diagnostics);
  stop_on_messages(diagnostics, *sources);
  Shipped shipped{load.knowledge.value(), {}};

  std::vector<std::filesystem::path> cards;
  for (const auto& entry : std::filesystem::directory_iterator(folder / "jobs"))
    cards.push_back(entry.path());
  std::ranges::sort(cards);
  for (const auto& card : cards) shipped.histories.push_back(read_history(card, shipped.knowledge));
  if (shipped.histories.empty()) throw std::runtime_error("no cards in " + folder.string());
  return shipped;
}

std::vector<std::string> causes_with_drawn_history(const Shipped& shipped) {
  const GroundRules& ground = shipped.ground();
  const Asked drawn = what_drawn_findings_ask(shipped);
  std::set<std::string> names;
  const auto look_at = [&](GroundCause cause, ProgramId when) {
    Asked asked(ground);
    asked.condition(when);
    if (asked.shares_with(drawn)) names.insert(ground.declaration(cause).header.name);
  };
  for (const auto& line : ground.becomes) look_at(line.cause, line.when);
  for (const auto& line : ground.restrictions) look_at(line.cause, line.when);
  return {names.begin(), names.end()};
}

}  // namespace self_check

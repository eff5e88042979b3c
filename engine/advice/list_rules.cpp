#include "advice/list_rules.h"

#include <algorithm>
#include <cctype>

#include "advice/job_model.h"
#include "model/expectation.h"

namespace slipcase::advice {

namespace {

std::string lower(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(),
                 [](unsigned char c) { return std::tolower(c); });
  return out;
}

class Lister {
 public:
  Lister(const model::RuleNetwork& network, const SourceSet& sources, std::string_view word)
      : network_(network),
        ground_(*network.rules),
        sources_(sources),
        expectation_(network.numbers),
        word_(lower(word)) {}

  RulesList list() {
    for (std::uint32_t c = 0; c < ground_.causes.size(); ++c) add(GroundCause{c});
    for (std::uint32_t f = 0; f < ground_.findings.size(); ++f) add(GroundFinding{f});
    const auto& rules = *ground_.rules;
    for (const auto& inside : rules.insides) add("inside", inside.header);
    for (const auto& detail : rules.details) add("detail", detail.header);
    for (const auto& reading : rules.readings) add("reading", reading.header);
    for (const auto& event : rules.events) {
      if (std::holds_alternative<std::monostate>(event.done_by)) add("event", event.header);
    }
    for (const auto& distrust : rules.distrusts) add("distrust", distrust.header);
    for (const auto& check : rules.checks) add("check", check.header);
    for (const auto& access : rules.accesses) add("access", access.header);
    for (const auto& repair : rules.repairs) add("repair", repair.header);
    for (const auto& caution : rules.cautions) add("caution", caution.header);
    return std::move(list_);
  }

 private:
  bool wanted(std::string_view id, std::string_view says) const {
    return word_.empty() || lower(id).find(word_) != std::string::npos ||
           lower(says).find(word_) != std::string::npos;
  }

  void add(GroundCause cause) {
    ListedCause entry;
    entry.id = ground_.name_of(cause);
    entry.says = ground_.says(cause);
    const auto& declaration = ground_.declaration(cause);
    if (declaration.group) entry.group = ground_.rules->groups.at(declaration.group->at()).name;
    if (!wanted(entry.id, entry.says)) return;
    const auto hidden = network_.of_cause.at(cause.at());
    entry.place = sources_.describe(declaration.header.place);
    entry.rate = network_.numbers.hidden.at(hidden.at()).own;
    entry.share = expectation_.marginal(hidden);
    for (const auto& line : ground_.becomes) {
      if (line.cause != cause) continue;
      entry.raised.push_back({std::string(sources_.text_at(line.line->when->place)),
                              entry.rate.with_odds_times(line.times)});
    }
    list_.causes.push_back(std::move(entry));
  }

  void add(GroundFinding finding) {
    ListedFinding entry;
    entry.id = ground_.name_of(finding);
    entry.says = ground_.says(finding);
    if (!wanted(entry.id, entry.says)) return;
    const auto& declaration = ground_.declaration(finding);
    entry.place = sources_.describe(declaration.header.place);
    entry.causes = network_.numbers.findings.at(finding.at()).parents.size();
    const auto implied = model::implied_rates(network_, expectation_, finding);
    for (std::uint32_t g = 0; g < implied.size(); ++g) {
      const auto grades = static_cast<std::uint32_t>(implied.size());
      entry.rates.push_back({grade_text(declaration, g + 1, grades), implied[g].share,
                             implied[g].share_by_causes, implied[g].base.rate.value()});
    }
    list_.findings.push_back(std::move(entry));
  }

  void add(std::string_view kind, const rulebase::Header& header) {
    if (!wanted(header.name, header.says)) return;
    list_.others.push_back(
        {std::string(kind), header.name, header.says, sources_.describe(header.place)});
  }

  const model::RuleNetwork& network_;
  const grounding::GroundRules& ground_;
  const SourceSet& sources_;
  model::Expectation expectation_;
  std::string word_;
  RulesList list_;
};

}  // namespace

RulesList list_rules(const model::RuleNetwork& network, const SourceSet& sources,
                     std::string_view word) {
  return Lister(network, sources, word).list();
}

}  // namespace slipcase::advice

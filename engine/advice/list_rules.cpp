#include "advice/list_rules.h"

#include <algorithm>
#include <cctype>

#include "advice/job_model.h"
#include "model/expectation.h"
#include "units/dimension.h"

namespace slipcase::advice {

namespace {

std::string lower(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(),
                 [](unsigned char c) { return std::tolower(c); });
  return out;
}

std::string upper(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return out;
}

/// "the {shift} shift" becomes "the SHIFT shift".
std::string in_place_of(const std::string& scope, std::string text) {
  const std::string mark = "{" + scope + "}";
  for (auto at = text.find(mark); at != std::string::npos; at = text.find(mark))
    text.replace(at, mark.size(), upper(scope));
  return text;
}

std::vector<std::string> choices_of(const rulebase::Detail& detail) {
  switch (detail.type) {
    case rulebase::Detail::Type::yes_no:
      return {"yes", "no"};
    case rulebase::Detail::Type::choice:
      return detail.words;
    case rulebase::Detail::Type::date:
      return {"a date"};
    case rulebase::Detail::Type::quantity:
      break;
  }
  return {"a " + units::describe(detail.dimension)};
}

std::vector<std::string> answered_by(const rulebase::Rulebase& rules,
                                     const rulebase::Check& check) {
  std::vector<std::string> names;
  for (const auto& target : check.answers) {
    if (const auto* finding = std::get_if<rulebase::FindingId>(&target.what))
      names.push_back(rules.findings.at(finding->at()).header.name);
    if (const auto* detail = std::get_if<rulebase::DetailId>(&target.what))
      names.push_back(rules.details.at(detail->at()).header.name);
    if (const auto* reading = std::get_if<rulebase::ReadingId>(&target.what))
      names.push_back(rules.readings.at(reading->at()).header.name);
  }
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return names;
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
    for (std::uint32_t c = 0; c < ground_.causes.size(); ++c) {
      const auto& header = ground_.declaration(GroundCause{c}).header;
      if (header.in_use(ground_.causes.origins[c].member)) add(GroundCause{c});
    }
    for (std::uint32_t f = 0; f < ground_.findings.size(); ++f) {
      const auto& header = ground_.declaration(GroundFinding{f}).header;
      if (header.in_use(ground_.findings.origins[f].member)) add(GroundFinding{f});
    }
    const auto& rules = *ground_.rules;
    for (const auto& inside : rules.insides) add("inside", inside.header);
    for (const auto& detail : rules.details)
      add("detail", detail.header, detail.asks, choices_of(detail));
    for (const auto& reading : rules.readings) add("reading", reading.header);
    for (const auto& event : rules.events) {
      if (std::holds_alternative<std::monostate>(event.done_by))
        add("event", event.header, event.asks);
    }
    for (const auto& distrust : rules.distrusts) add("distrust", distrust.header);
    for (const auto& check : rules.checks)
      add("check", check.header, {}, answered_by(rules, check));
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
    describe(finding, declaration, entry);
    entry.causes = network_.numbers.findings.at(finding.at()).parents.size();
    const auto implied = model::implied_rates(network_, expectation_, finding);
    for (std::uint32_t g = 0; g < implied.size(); ++g) {
      const auto grades = static_cast<std::uint32_t>(implied.size());
      entry.rates.push_back({grade_text(declaration, g + 1, grades), implied[g].share,
                             implied[g].share_by_causes, implied[g].base.rate.value()});
    }
    list_.findings.push_back(std::move(entry));
  }

  /// How it is answered, and the family it belongs to.
  void describe(GroundFinding finding, const rulebase::Finding& declaration, ListedFinding& entry) {
    const auto& scope = declaration.header.scope;
    entry.asks = ground_.asks(finding);
    for (const auto& grade : declaration.grades) entry.grades.push_back(grade.name);
    entry.worked_out =
        declaration.when || std::any_of(declaration.grades.begin(), declaration.grades.end(),
                                        [](const auto& grade) { return grade.when.has_value(); });
    entry.result_of_check = declaration.result_of_check.has_value();
    if (!scope) return;
    const auto& unit = ground_.rules->unit;
    const std::string& word = unit.scope(*scope).name;
    entry.family = declaration.header.name + " of " + upper(word);
    entry.family_says = in_place_of(word, declaration.header.says);
    entry.family_asks = in_place_of(word, declaration.asks);
    entry.members = unit.scope(*scope).members.size();
  }

  void add(std::string_view kind, const rulebase::Header& header, std::string_view asks = {},
           std::vector<std::string> answers = {}) {
    if (!wanted(header.name, header.says)) return;
    list_.others.push_back({std::string(kind), header.name, header.says,
                            sources_.describe(header.place), std::string(asks),
                            std::move(answers)});
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

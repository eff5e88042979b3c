// A card's text to a job that is bound to rules.
#include <fmt/core.h>

#include "api/messages.h"
#include "api/parts.h"
#include "api/reading.h"
#include "evaluation/bind.h"
#include "facts/document.h"
#include "facts/job_card.h"
#include "facts/supposition.h"
#include "support/listed.h"
#include "support/suggest.h"

namespace slipcase {

CardTextLoad read_card(const std::filesystem::path& path, Diagnostics& diagnostics) {
  auto text = read_file(path, most_card_bytes);
  if (const auto* failure = std::get_if<FileFailure>(&text))
    return {api::report(*failure, diagnostics), std::nullopt};
  CardText card{path.string(), std::move(std::get<std::string>(text)), std::nullopt};
  card.unit = unit_named_in(card.text);
  return {Loaded::good, std::move(card)};
}

std::optional<std::string> unit_named_in(std::string_view text) {
  SourceSet sources;
  Diagnostics ignored;
  const SourceId source = sources.add("card", std::string(text));
  const auto document = facts::read_document(sources, source, facts::card_limits, ignored);
  const facts::Node* unit = document ? document->find("unit") : nullptr;
  const bool named = unit != nullptr && unit->kind == facts::NodeKind::scalar;
  return named ? std::optional(unit->text) : std::nullopt;
}

void refuse_unit(CardText card, std::span<const std::string> units, SourceSet& sources,
                 Diagnostics& diagnostics) {
  const SourceId source = sources.add(std::move(card.name), std::move(card.text));
  const auto read = facts::read_job_card(sources, source, diagnostics);
  if (read && read->unit) {
    const std::string& name = read->unit->text;
    const std::string meant = did_you_mean(name, units);
    diagnostics.add(
        api::unknown_unit, read->unit->place,
        fmt::format("there are no rules for the unit `{}`{}", name,
                    meant.empty() ? "; there are some for " + quoted_list(units) : meant));
  }
  diagnostics.sort();
  diagnostics = listed(diagnostics);
}

namespace {

std::string written(const facts::CardReference& reference) {
  return reference.member ? reference.name.text + " of " + reference.member->text
                          : reference.name.text;
}

/// Each text is a source of its own, so that a message can point into it.
std::vector<facts::Supposition> read_suppositions(std::span<const std::string> texts,
                                                  SourceSet& sources, Diagnostics& diagnostics) {
  std::vector<facts::Supposition> supposed;
  for (const std::string& text : texts) {
    const SourceId source = sources.add("--with", text);
    if (auto one = facts::read_supposition(sources, source, diagnostics))
      supposed.push_back(std::move(*one));
  }
  return supposed;
}

advice::JobTitle title_of(const facts::JobCard& card, const Knowledge& knowledge) {
  advice::JobTitle title;
  title.job = card.job ? card.job->text : std::string();
  title.unit = knowledge.unit();
  title.complaint = card.complaint_text;
  for (const auto& reference : card.complaint_findings)
    if (const auto finding = knowledge.parts().ground->find_finding(written(reference)))
      title.complaint_findings.push_back(*finding);
  return title;
}

std::vector<Supposed> described(const std::vector<facts::Supposition>& supposed,
                                const grounding::GroundRules& ground) {
  std::vector<Supposed> list;
  for (const facts::Supposition& one : supposed)
    if (const auto finding = ground.find_finding(written(one.finding)))
      list.push_back({ground.name_of(*finding), ground.says(*finding), one.answer.text});
  return list;
}

JobLoad bind_job(CardText card, const Knowledge& knowledge, Diagnostics& diagnostics,
                 std::span<const std::string> supposed) {
  const Knowledge::Parts& parts = knowledge.parts();
  const SourceId source = parts.sources->add(std::move(card.name), std::move(card.text));
  const auto read = facts::read_job_card(*parts.sources, source, diagnostics);
  const std::size_t errors_before = diagnostics.error_count();
  const auto tried = read_suppositions(supposed, *parts.sources, diagnostics);
  if (!read) return {};
  auto bound = evaluation::bind(*parts.ground, *read, diagnostics, tried);
  if (!bound || diagnostics.error_count() > errors_before) return {};
  auto job = std::make_shared<Job::Parts>();
  job->title = title_of(*read, knowledge);
  job->supposed = described(tried, *parts.ground);
  job->facts = std::move(*bound);
  return {Loaded::good, Job(std::move(job))};
}

}  // namespace

JobLoad load_job(CardText card, const Knowledge& knowledge, Diagnostics& diagnostics,
                 std::span<const std::string> supposed) {
  JobLoad load = bind_job(std::move(card), knowledge, diagnostics, supposed);
  diagnostics.sort();
  diagnostics = listed(diagnostics);
  return load;
}

}  // namespace slipcase

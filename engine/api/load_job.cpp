// A card's text to a job that is bound to rules.
#include "api/parts.h"
#include "api/reading.h"
#include "evaluation/bind.h"
#include "facts/document.h"
#include "facts/job_card.h"

namespace slipcase {

CardTextLoad read_card(const std::filesystem::path& path, Diagnostics& diagnostics) {
  auto text = read_file(path, api::most_card_bytes);
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
  const auto document = facts::read_document(sources, source, {}, ignored);
  const facts::Node* unit = document ? document->find("unit") : nullptr;
  const bool named = unit != nullptr && unit->kind == facts::NodeKind::scalar;
  return named ? std::optional(unit->text) : std::nullopt;
}

JobLoad load_job(CardText card, const Knowledge& knowledge, Diagnostics& diagnostics) {
  const Knowledge::Parts& parts = knowledge.parts();
  const SourceId source = parts.sources->add(std::move(card.name), std::move(card.text));
  const auto read = facts::read_job_card(*parts.sources, source, diagnostics);
  if (!read) {
    diagnostics.sort();
    return {};
  }
  auto bound = evaluation::bind(*parts.ground, *read, diagnostics);
  diagnostics.sort();
  if (!bound) return {};
  auto job = std::make_shared<Job::Parts>();
  job->title.job = read->job ? read->job->text : std::string();
  job->title.unit = knowledge.unit();
  job->title.complaint = read->complaint_text;
  for (const auto& reference : read->complaint_findings) {
    const std::string name = reference.member
                                 ? reference.name.text + " of " + reference.member->text
                                 : reference.name.text;
    if (const auto finding = parts.ground->find_finding(name))
      job->title.complaint_findings.push_back(*finding);
  }
  job->facts = std::move(*bound);
  return {Loaded::good, Job(std::move(job))};
}

}  // namespace slipcase

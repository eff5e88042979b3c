#include "reference/whole_tool.h"

#include <filesystem>
#include <stdexcept>

#include "golden/process.h"
#include "slipcase/job.h"

namespace reference {

namespace {

slipcase::Knowledge load(std::string_view rules,
                         const std::shared_ptr<slipcase::SourceSet>& sources) {
  const golden::TemporaryFolder folder;
  const std::filesystem::path file = folder.path() / "reference.rules";
  golden::write_file(file, std::string(rules));

  slipcase::RulePaths paths;
  paths.own = {file};
  paths.profile = std::filesystem::path(SLIPCASE_RULES) / "six_speed" / "profile.yaml";
  slipcase::Diagnostics diagnostics;
  const slipcase::KnowledgeLoad load = slipcase::load_knowledge(paths, sources, diagnostics);
  if (!load.knowledge) throw std::runtime_error(as_text(diagnostics, *sources));
  return *load.knowledge;
}

}  // namespace

std::string as_text(const slipcase::Diagnostics& diagnostics, const slipcase::SourceSet& sources) {
  std::string text;
  for (const slipcase::Diagnostic& diagnostic : diagnostics.list()) {
    text += slipcase::render(diagnostic, sources) + '\n';
  }
  return text;
}

WholeTool::WholeTool(std::string_view rules) : knowledge_(load(rules, sources_)) {}

slipcase::Job WholeTool::load_job(std::string_view card) const {
  slipcase::Diagnostics diagnostics;
  const slipcase::JobLoad load =
      slipcase::load_job({"card.yaml", std::string(card), std::nullopt}, knowledge_, diagnostics);
  if (!load.job) throw std::runtime_error(as_text(diagnostics, *sources_));
  return *load.job;
}

slipcase::NextAdvice WholeTool::next(std::string_view card,
                                     const slipcase::NextOptions& options) const {
  auto result = slipcase::next(knowledge_, load_job(card), options);
  auto* advice = std::get_if<slipcase::NextAdvice>(&result);
  if (advice == nullptr) throw std::runtime_error("nothing was planned");
  return std::move(*advice);
}

Answer WholeTool::rank(std::string_view card) const {
  const slipcase::Job job = load_job(card);

  slipcase::RankOptions options;
  options.combinations = 0;
  options.missing = 0;
  const slipcase::RankResult result = slipcase::rank(knowledge_, job, options);
  const auto* ranking = std::get_if<slipcase::Ranking>(&result);
  if (ranking == nullptr) throw std::runtime_error("nothing was ranked");

  Answer answer;
  answer.log_evidence = ranking->log_evidence;
  for (const slipcase::RankedCause& cause : ranking->causes) {
    answer.chance.emplace(cause.id, cause.chance.value());
  }
  return answer;
}

}  // namespace reference

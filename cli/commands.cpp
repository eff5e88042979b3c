#include "commands.h"

#include "add_reading.h"
#include "ask.h"
#include "book.h"
#include "drive.h"
#include "plan.h"
#include "rules_try.h"
#include "service.h"
#include "session.h"
#include "terminal.h"
#include "trend.h"

namespace slipcase::cli {

namespace {

RankOptions rank_options(const Request& request) {
  RankOptions options;
  options.memory_bytes = request.output.memory_megabytes << 20U;
  return options;
}

template <class Result>
Exit print(const Request& request, const Result& result) {
  return print_result(
      request.output.json ? to_json(result) : to_text(result, style_of_standard_output()),
      request.output.json);
}

// No ranking is an answer about the input, so it goes where results go; the status says it is none.
template <class Failure>
Exit print_failure(const Request& request, const Failure& failure) {
  const Exit printed = print(request, failure);
  return printed == Exit::done ? Exit::input_errors : printed;
}

Exit run_command(const Request&, std::monostate) { return Exit::wrong_usage; }

Exit run_command(const Request& request, const RankCommand& command) {
  const auto loaded = load_job_and_rules(request, command.card);
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  const auto& [rules, job] = std::get<LoadedJob>(loaded);
  RankOptions options = rank_options(request);
  options.draws = command.draws;
  if (!request.output.json) {  // the screen does not show them
    options.combinations = 0;
    options.groups = false;
  }
  const RankResult result = rank(rules.knowledge, job, options);
  if (const auto* ranking = std::get_if<Ranking>(&result)) return print(request, *ranking);
  if (const auto* impossible = std::get_if<ImpossibleEvidence>(&result))
    return print_failure(request, *impossible);
  return print_failure(request, std::get<TooWide>(result));
}

Exit run_command(const Request& request, const CompareCommand& command) {
  const auto loaded = load_job_and_rules(request, command.card);
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  const auto& [rules, job] = std::get<LoadedJob>(loaded);
  return print(request, compare_readings(rules.knowledge, job));
}

Exit run_command(const Request& request, const ReasonsCommand& command) {
  const auto loaded = load_job_and_rules(request, command.card);
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  const auto& [rules, job] = std::get<LoadedJob>(loaded);
  const ReasonsResult result =
      reasons(rules.knowledge, job, command.cause, rank_options(request), command.against);
  if (const auto* answer = std::get_if<Reasons>(&result)) return print(request, *answer);
  const auto* unknown = std::get_if<UnknownCause>(&result);
  if (unknown != nullptr && unknown->is_itself)
    return refuse_itself(request, unknown->name, unknown->nearest);
  if (unknown != nullptr)
    return refuse_name(request, rules.knowledge, "cause", unknown->name, unknown->nearest);
  if (const auto* impossible = std::get_if<ImpossibleEvidence>(&result))
    return print_failure(request, *impossible);
  return print_failure(request, std::get<TooWide>(result));
}

Exit run_command(const Request& request, const RulesCheckCommand& command) {
  Request widened = request;
  widened.rules.rules.insert(widened.rules.rules.end(), command.paths.begin(), command.paths.end());
  const CheckedRules checked = check_rules(widened);
  const auto* exit = std::get_if<Exit>(&checked.loaded);
  if (request.output.json) {
    const Exit printed = print_result(to_json(checked.diagnostics, *checked.sources), true);
    return printed == Exit::done && exit != nullptr ? *exit : printed;
  }
  print_messages(checked.diagnostics, *checked.sources, false);
  if (exit != nullptr) return *exit;
  const auto& rules = std::get<LoadedRules>(checked.loaded);
  const RulesList all = list_rules(rules.knowledge, {});
  return print_result(std::to_string(rules.knowledge.rule_files()) +
                          " rule files read: " + std::to_string(all.causes.size()) +
                          " causes and " + std::to_string(all.findings.size()) +
                          " findings for this unit, no errors\n",
                      false);
}

Exit run_command(const Request& request, const RulesListCommand& command) {
  const auto loaded = load_rules(request, {});
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  const RulesList list = list_rules(std::get<LoadedRules>(loaded).knowledge, command.word);
  if (request.output.json) return print_result(to_json(list), true);
  return print_result(to_text(list, command.rates, style_of_standard_output()), false);
}

}  // namespace

Exit run(const Request& request) {
  return std::visit([&request](const auto& command) { return run_command(request, command); },
                    request.command);
}

}  // namespace slipcase::cli

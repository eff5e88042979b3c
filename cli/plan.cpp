#include "plan.h"

#include <string>

#include "messages.h"
#include "session.h"
#include "terminal.h"

namespace slipcase::cli {

namespace {

std::variant<NextOptions, Exit> options_for(const Request& request, const LoadedRules& rules) {
  NextOptions options;
  options.memory_bytes = request.output.memory_megabytes << 20U;
  if (request.job.costs.empty()) return options;
  Diagnostics diagnostics;
  const CostsLoad costs = load_costs(request.job.costs, rules.knowledge, diagnostics);
  print_messages(diagnostics, *rules.sources, request.output.json);
  if (!costs.costs) return exit_for(costs.outcome);
  options.costs = costs.costs;
  return options;
}

template <class Answer>
std::string text_of(const Answer& answer, bool) {
  return to_text(answer, style_of_standard_output());
}
std::string text_of(const NextAdvice& advice, bool all) {
  return to_text(advice, style_of_standard_output(), all);
}

/// A plan is the answer; that there can be none is printed too, and the status says so.
template <class Answer>
Exit print_plan(const Request& request, const Answer& answer, bool all) {
  constexpr bool planned = !std::is_same_v<Answer, NoComplaint> &&
                           !std::is_same_v<Answer, ImpossibleEvidence> &&
                           !std::is_same_v<Answer, TooWide>;
  const Exit printed = print_result(request.output.json ? to_json(answer) : text_of(answer, all),
                                    request.output.json);
  return printed == Exit::done && !planned ? Exit::input_errors : printed;
}

/// Was told apart before.
Exit print_plan(const Request&, const UnknownRepair&, bool) { return Exit::input_errors; }

template <class Result>
Exit print_advice(const Request& request, const Result& result, bool all) {
  return std::visit([&](const auto& answer) { return print_plan(request, answer, all); }, result);
}

}  // namespace

Exit run_command(const Request& request, const NextCommand& command) {
  const auto loaded = load_job_and_rules(request, command.card);
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  const auto& [rules, job] = std::get<LoadedJob>(loaded);
  auto options = options_for(request, rules);
  if (const auto* exit = std::get_if<Exit>(&options)) return *exit;
  std::get<NextOptions>(options).checks = command.checks;
  return print_advice(request, next(rules.knowledge, job, std::get<NextOptions>(options)),
                      command.all);
}

Exit run_command(const Request& request, const ReviewCommand& command) {
  if (command.repairs.size() > most_reviewed) {
    print_error(too_many_repairs,
                "a review takes at most " + std::to_string(most_reviewed) + " repairs together",
                request.output.json);
    return Exit::wrong_usage;
  }
  const auto loaded = load_job_and_rules(request, command.card);
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  const auto& [rules, job] = std::get<LoadedJob>(loaded);
  const auto options = options_for(request, rules);
  if (const auto* exit = std::get_if<Exit>(&options)) return *exit;
  const ReviewResult result =
      review(rules.knowledge, job, command.repairs, std::get<NextOptions>(options));
  if (const auto* unknown = std::get_if<UnknownRepair>(&result))
    return refuse_name(request, rules.knowledge, "repair", unknown->name, unknown->nearest);
  return print_advice(request, result, true);
}

}  // namespace slipcase::cli

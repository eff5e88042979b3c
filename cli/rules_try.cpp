#include "rules_try.h"

#include "messages.h"
#include "session.h"
#include "terminal.h"

namespace slipcase::cli {

Exit run_command(const Request& request, const RulesTryCommand& command) {
  const auto loaded = load_rules(request, {}, LoadFor::trials);
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  const auto& rules = std::get<LoadedRules>(loaded);
  TrialOptions options;
  options.only = command.only;
  options.coverage = command.coverage;
  options.memory_bytes = request.output.memory_megabytes << 20U;
  Diagnostics diagnostics;
  const TrialsRun run = try_rules(rules.knowledge, options, diagnostics);
  print_messages(diagnostics, *rules.sources, request.output.json);
  if (run.trials.empty() && !command.only.empty()) {
    print_error(no_such_trial, "no trial has `" + command.only + "` in its name",
                request.output.json);
    return Exit::input_errors;
  }
  // Who asks for some by name wants to see them.
  const bool all = command.all || !command.only.empty();
  const Exit printed = print_result(
      request.output.json ? to_json(run) : to_text(run, style_of_standard_output(), all),
      request.output.json);
  return printed == Exit::done && !run.all_passed() ? Exit::input_errors : printed;
}

}  // namespace slipcase::cli

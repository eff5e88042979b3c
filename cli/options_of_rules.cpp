// What the commands about rules take.
#include "options.h"

namespace slipcase::cli {

Added add_rules_check(CLI::App& rules, Request& request) {
  const auto check = std::make_shared<RulesCheckCommand>();
  CLI::App* command = rules.add_subcommand("check", "Report every mistake and doubt in the rules");
  command->add_option("PATH", check->paths,
                      "Your own rule files or folders, checked over the shipped ones");
  add_rule_options(*command, request);
  return added(command, check);
}

Added add_rules_list(CLI::App& rules, Request& request) {
  const auto list = std::make_shared<RulesListCommand>();
  CLI::App* command = rules.add_subcommand("list", "What is in the rules");
  command->add_option("WORD", list->word, "Only what has this word in its name or text");
  command->add_flag("--rates", list->rates,
                    "With the share of all jobs that the rules imply for each");
  add_rule_options(*command, request);
  return added(command, list);
}

Added add_rules_try(CLI::App& rules, Request& request) {
  const auto trials = std::make_shared<RulesTryCommand>();
  CLI::App* command = rules.add_subcommand("try", "Run the trials written beside the rules");
  command
      ->add_option("--only", trials->only,
                   "Only trials with this in their name; * stands for anything")
      ->type_name("PATTERN")
      ->check(not_empty());
  command->add_flag("--all", trials->all,
                    "List the shipped trials that come out too, not only yours");
  command->add_flag("--coverage", trials->coverage,
                    "List the lines of the rules that no trial depends on");
  add_rule_options(*command, request);
  return added(command, trials);
}

}  // namespace slipcase::cli

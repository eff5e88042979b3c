#include "command_line.h"

#include <iostream>

#include <CLI/CLI.hpp>

#include "slipcase/version.h"

namespace slipcase::cli {

namespace {

void add_rule_options(CLI::App& command, RuleOptions& options) {
  command
      .add_option("--rules", options.rules,
                  "Your own rules (file or folder) over the shipped ones; can be repeated")
      ->type_name("PATH")
      ->allow_extra_args(false);
  command
      .add_option("--only-rules", options.only_rules,
                  "Use these rules and nothing shipped; can be repeated")
      ->type_name("PATH")
      ->allow_extra_args(false);
  command.add_option("--profile", options.profile, "Unit profile to use instead of the unit's own")
      ->type_name("FILE");
  command.add_option("--unit", options.unit, "Unit, where no job card names one")
      ->type_name("NAME");
}

void add_output_options(CLI::App& command, OutputOptions& options) {
  command.add_flag("--json", options.json, "Print one JSON object");
  command
      .add_option("--memory", options.memory_megabytes,
                  "Memory an exact ranking may take, in megabytes")
      ->type_name("MB")
      ->check(CLI::Range(1, 1'000'000));
}

constexpr std::string_view about =
    "Ranks what is likely wrong with an automatic transmission from a job card and an editable "
    "rule base, and says why.";

}  // namespace

std::variant<Request, Exit> read_command_line(int argc, char** argv) {
  Request request;
  CLI::App app{std::string(about), "slipcase"};
  app.set_version_flag("--version", "slipcase " + std::string(version));
  app.set_help_flag("--help", "Show what a command takes");
  app.require_subcommand(1);

  RankCommand rank;
  CLI::App* rank_command = app.add_subcommand("rank", "Causes of a job, most likely first");
  rank_command->add_option("JOB", rank.card, "Job card (YAML or JSON); - reads standard input")
      ->required();

  ReasonsCommand reasons;
  CLI::App* reasons_command =
      app.add_subcommand("reasons", "The evidence for and against one cause");
  reasons_command
      ->add_option("JOB", reasons.card, "Job card (YAML or JSON); - reads standard input")
      ->required();
  reasons_command->add_option(
      "CAUSE", reasons.cause,
      "For example \"lining_worn of K2\"; the first of the ranking if left out");

  CLI::App* rules_command = app.add_subcommand("rules", "Check and list rules");
  rules_command->require_subcommand(1);
  RulesCheckCommand check;
  CLI::App* check_command =
      rules_command->add_subcommand("check", "Report every mistake and doubt in the rules");
  check_command->add_option("PATH", check.paths,
                            "Your own rule files or folders, checked over the shipped ones");
  RulesListCommand list;
  CLI::App* list_command = rules_command->add_subcommand("list", "What is in the rules");
  list_command->add_option("WORD", list.word, "Only what has this word in its name or text");
  list_command->add_flag("--rates", list.rates,
                         "With the share of all jobs that the rules imply for each");

  for (CLI::App* command : {rank_command, reasons_command, check_command, list_command}) {
    command->set_help_flag("--help", "Show what this command takes");
    add_rule_options(*command, request.rules);
    add_output_options(*command, request.output);
  }

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    const bool help = error.get_exit_code() == 0;
    app.exit(error, std::cout, std::cerr);
    return help ? Exit::done : Exit::wrong_usage;
  }
  if (rank_command->parsed()) request.command = std::move(rank);
  if (reasons_command->parsed()) request.command = std::move(reasons);
  if (check_command->parsed()) request.command = std::move(check);
  if (list_command->parsed()) request.command = std::move(list);
  return request;
}

}  // namespace slipcase::cli

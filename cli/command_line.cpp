#include "command_line.h"

#include <iostream>

#include <CLI/CLI.hpp>

#include "slipcase/version.h"
#include "usage.h"

namespace slipcase::cli {

namespace {

void add_unit_options(CLI::App& command, RuleOptions& options) {
  command.add_option("--profile", options.profile, "Unit profile to use instead of the unit's own")
      ->type_name("FILE");
  command.add_option("--unit", options.unit, "Unit, where no job card names one")
      ->type_name("NAME");
}

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
  add_unit_options(command, options);
}

void add_json(CLI::App& command, OutputOptions& options) {
  command.add_flag("--json", options.json, "Print one JSON object");
}

void add_output_options(CLI::App& command, OutputOptions& options) {
  add_json(command, options);
  command
      .add_option("--memory", options.memory_megabytes,
                  "Memory an exact ranking may take, in megabytes")
      ->type_name("MB")
      ->check(CLI::Range(1, 1'000'000));
}

constexpr std::string_view about_card = "Job card (YAML or JSON); - reads standard input";

void add_supposed(CLI::App& command, JobOptions& options) {
  command
      .add_option(
          "--with", options.supposed,
          "Try an answer without writing it on the card, for example \"level_low=yes\"; can "
          "be repeated")
      ->type_name("FINDING=ANSWER")
      ->allow_extra_args(false);
}

void add_costs(CLI::App& command, JobOptions& options) {
  command.add_option("--costs", options.costs, "What work costs your shop, over the profile's")
      ->type_name("FILE");
}

CLI::App* add_next(CLI::App& app, NextCommand& next) {
  CLI::App* command = app.add_subcommand("next", "What to do next: checks and repairs by worth");
  command->add_option("JOB", next.card, std::string(about_card))->required();
  command->add_option("--checks", next.checks, "How many checks to show; 5 if left out")
      ->type_name("N")
      ->check(CLI::Range(1, 12));
  command->add_flag("--all", next.all,
                    "Also how each step is done, its cautions, and every answer of a check");
  return command;
}

CLI::App* add_review(CLI::App& app, ReviewCommand& review) {
  CLI::App* command = app.add_subcommand("review", "A second opinion on an intended repair");
  command->add_option("JOB", review.card, std::string(about_card))->required();
  command
      ->add_option("--repair", review.repairs,
                   "What is intended, for example \"element_pack of K2\"; repeated: done together")
      ->type_name("REPAIR")
      ->allow_extra_args(false)
      ->required();
  return command;
}

CLI::App* add_ratio(CLI::App& app, RatioQuestion& question) {
  CLI::App* command = app.add_subcommand("ratio", "Gear ratios; slip from two speeds");
  command->add_option("--gear", question.gear, "The gear that was driven, for example 4 or R")
      ->type_name("GEAR");
  command->add_option("--turbine", question.turbine, "Turbine speed, for example \"1790 rpm\"")
      ->type_name("SPEED");
  command
      ->add_option("--output", question.output,
                   "Output speed, for example \"1500 rpm\"; negative in reverse")
      ->type_name("SPEED");
  return command;
}

CLI::App* add_level(CLI::App& app, LevelQuestion& question) {
  CLI::App* command = app.add_subcommand(
      "level", "What a fluid level is worth that was set at another temperature");
  command
      ->add_option("--set-at", question.set_at,
                   "Temperature of the fluid when the level was set, for example \"20 C\"")
      ->type_name("TEMPERATURE")
      ->required();
  command->add_option("--at", question.at, "Temperature asked about, instead of the unit's own")
      ->type_name("TEMPERATURE");
  command->add_option("--fill", question.fill, "Fluid in the unit, instead of the profile's")
      ->type_name("VOLUME");
  command
      ->add_option("--density", question.density,
                   "Density of the fluid at 15 C, for example \"845 kg/m3\"")
      ->type_name("DENSITY");
  return command;
}

CLI::App* add_code(CLI::App& app, CodeCommand& code) {
  CLI::App* command = app.add_subcommand("code", "What trouble codes mean on the unit");
  command->add_option("CODE", code.words, "Codes such as P0733, or their two bytes: 07 33, 0x0733")
      ->required();
  return command;
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
  rank_command
      ->add_option("--draws", rank.draws,
                   "How often every count is drawn anew to say how sure the ranking is; 0: not")
      ->check(CLI::Range(0, 100000))
      ->capture_default_str();

  ReasonsCommand reasons;
  CLI::App* reasons_command =
      app.add_subcommand("reasons", "The evidence for and against one cause");
  reasons_command
      ->add_option("JOB", reasons.card, "Job card (YAML or JSON); - reads standard input")
      ->required();
  reasons_command->add_option(
      "CAUSE", reasons.cause,
      "For example \"lining_worn of K2\"; the first of the ranking if left out");
  reasons_command->add_option("--against", reasons.against,
                              "Another cause: also say what tells the two apart");

  NextCommand next;
  CLI::App* next_command = add_next(app, next);
  ReviewCommand review;
  CLI::App* review_command = add_review(app, review);
  for (CLI::App* command : {rank_command, reasons_command, next_command, review_command})
    add_supposed(*command, request.job);
  for (CLI::App* command : {next_command, review_command}) add_costs(*command, request.job);

  CLI::App* rules_command = app.add_subcommand("rules", "Check, list and try rules");
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
  RulesTryCommand trials;
  CLI::App* try_command =
      rules_command->add_subcommand("try", "Run the trials written beside the rules");
  try_command
      ->add_option("--only", trials.only,
                   "Only trials with this in their name; * stands for anything")
      ->type_name("PATTERN");
  try_command->add_flag("--all", trials.all,
                        "List the shipped trials that come out too, not only yours");
  try_command->add_flag("--coverage", trials.coverage,
                        "List the lines of the rules that no trial depends on");

  RatioCommand ratio;
  LevelCommand level;
  CodeCommand code;
  for (CLI::App* command :
       {add_ratio(app, ratio.question), add_level(app, level.question), add_code(app, code)}) {
    command->set_help_flag("--help", "Show what this command takes");
    add_unit_options(*command, request.rules);
    add_json(*command, request.output);
  }

  for (CLI::App* command : {rank_command, reasons_command, next_command, review_command,
                            check_command, list_command, try_command}) {
    command->set_help_flag("--help", "Show what this command takes");
    add_rule_options(*command, request.rules);
    add_output_options(*command, request.output);
  }

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    if (error.get_exit_code() != 0) {
      std::cerr << explain_usage(app, error, std::vector<std::string>(argv + 1, argv + argc));
      return Exit::wrong_usage;
    }
    app.exit(error, std::cout, std::cerr);
    return Exit::done;
  }
  if (rank_command->parsed()) request.command = std::move(rank);
  if (reasons_command->parsed()) request.command = std::move(reasons);
  if (next_command->parsed()) request.command = std::move(next);
  if (review_command->parsed()) request.command = std::move(review);
  if (check_command->parsed()) request.command = std::move(check);
  if (list_command->parsed()) request.command = std::move(list);
  if (try_command->parsed()) request.command = std::move(trials);
  if (app.got_subcommand("ratio")) request.command = std::move(ratio);
  if (app.got_subcommand("level")) request.command = std::move(level);
  if (app.got_subcommand("code")) request.command = std::move(code);
  return request;
}

}  // namespace slipcase::cli

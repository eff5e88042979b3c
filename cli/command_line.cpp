#include "command_line.h"

#include <algorithm>
#include <functional>
#include <iostream>
#include <memory>
#include <sstream>

#include <CLI/CLI.hpp>

#include "messages.h"
#include "slipcase/version.h"
#include "terminal.h"
#include "usage.h"

namespace slipcase::cli {

namespace {

using Arguments = std::vector<std::string>;

/// A command of the program, and what takes over its options if it is the one that was named.
struct Added {
  CLI::App* app;
  std::function<void(Request&)> take;
};

template <class Command>
Added added(CLI::App* app, const std::shared_ptr<Command>& command) {
  app->set_help_flag("--help", "Show what this command takes");
  return {app, [command](Request& request) { request.command = std::move(*command); }};
}

/// A shell writes nothing where a variable of it is not set.
CLI::Validator not_empty() {
  return {[](const std::string& text) {
            return std::string(text.empty() ? "nothing is written behind it" : "");
          },
          ""};
}

CLI::Validator whole_number(std::size_t least, std::size_t most) {
  return {[least, most](const std::string& text) -> std::string {
            const std::string range = std::to_string(least) + " to " + std::to_string(most);
            const bool digits =
                !text.empty() && text.find_first_not_of("0123456789") == std::string::npos;
            if (!digits) return "`" + text + "` is no whole number: write digits, " + range;
            const bool fits =
                text.size() <= 9 && std::stoul(text) >= least && std::stoul(text) <= most;
            return fits ? "" : "`" + text + "` is not in the range " + range;
          },
          ""};
}

void add_unit_options(CLI::App& command, RuleOptions& options) {
  command.add_option("--profile", options.profile, "Unit profile to use instead of the unit's own")
      ->type_name("FILE")
      ->check(not_empty());
  command.add_option("--unit", options.unit, "Unit, where no job card names one")
      ->type_name("NAME")
      ->check(not_empty());
}

void add_json(CLI::App& command, OutputOptions& options) {
  command.add_flag("--json", options.json, "Print one JSON object");
}

/// What every command about jobs and rules takes.
void add_rule_options(CLI::App& command, Request& request) {
  command
      .add_option("--rules", request.rules.rules,
                  "Your own rules (file or folder) over the shipped ones; can be repeated")
      ->type_name("PATH")
      ->check(not_empty())
      ->allow_extra_args(false);
  command
      .add_option("--only-rules", request.rules.only_rules,
                  "Use these rules and nothing shipped; can be repeated")
      ->type_name("PATH")
      ->check(not_empty())
      ->allow_extra_args(false);
  add_unit_options(command, request.rules);
  add_json(command, request.output);
  command
      .add_option("--memory", request.output.memory_megabytes,
                  "Memory an exact ranking may take, in megabytes")
      ->type_name("MB")
      ->check(whole_number(1, 1'000'000));
}

/// A calculator reads the unit's profile alone.
void add_calculator_options(CLI::App& command, Request& request) {
  add_unit_options(command, request.rules);
  add_json(command, request.output);
}

void add_card(CLI::App& command, std::filesystem::path& card) {
  command.add_option("JOB", card, "Job card (YAML or JSON); - reads standard input")->required();
}

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
      ->type_name("FILE")
      ->check(not_empty());
}

Added add_rank(CLI::App& app, Request& request) {
  const auto rank = std::make_shared<RankCommand>();
  CLI::App* command = app.add_subcommand("rank", "Causes of a job, most likely first");
  add_card(*command, rank->card);
  command
      ->add_option("--draws", rank->draws,
                   "How often every count is drawn anew to say how sure the ranking is; 0: not")
      ->type_name("N")
      ->check(whole_number(0, 100'000))
      ->capture_default_str();
  add_supposed(*command, request.job);
  add_rule_options(*command, request);
  return added(command, rank);
}

Added add_reasons(CLI::App& app, Request& request) {
  const auto reasons = std::make_shared<ReasonsCommand>();
  CLI::App* command = app.add_subcommand("reasons", "The evidence for and against one cause");
  add_card(*command, reasons->card);
  command->add_option("CAUSE", reasons->cause,
                      "For example \"lining_worn of K2\"; the first of the ranking if left out");
  command
      ->add_option("--against", reasons->against,
                   "Another cause: also say what tells the two apart")
      ->check(not_empty());
  add_supposed(*command, request.job);
  add_rule_options(*command, request);
  return added(command, reasons);
}

Added add_next(CLI::App& app, Request& request) {
  const auto next = std::make_shared<NextCommand>();
  CLI::App* command = app.add_subcommand("next", "What to do next: checks and repairs by worth");
  add_card(*command, next->card);
  command->add_option("--checks", next->checks, "How many checks to show; 5 if left out")
      ->type_name("N")
      ->check(whole_number(1, 12));
  command->add_flag("--all", next->all, "Also how each step is done, and every answer of a check");
  add_supposed(*command, request.job);
  add_costs(*command, request.job);
  add_rule_options(*command, request);
  return added(command, next);
}

Added add_review(CLI::App& app, Request& request) {
  const auto review = std::make_shared<ReviewCommand>();
  CLI::App* command = app.add_subcommand("review", "A second opinion on an intended repair");
  add_card(*command, review->card);
  command
      ->add_option("--repair", review->repairs,
                   "What is intended, for example \"element_pack of K2\"; repeated: done together")
      ->type_name("REPAIR")
      ->allow_extra_args(false)
      ->required();
  add_supposed(*command, request.job);
  add_costs(*command, request.job);
  add_rule_options(*command, request);
  return added(command, review);
}

Added add_compare(CLI::App& app, Request& request) {
  const auto compare = std::make_shared<CompareCommand>();
  CLI::App* command = app.add_subcommand(
      "compare", "Readings before and after values were cleared or something was repaired");
  add_card(*command, compare->card);
  add_rule_options(*command, request);
  return added(command, compare);
}

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

Added add_ratio(CLI::App& app, Request& request) {
  const auto ratio = std::make_shared<RatioCommand>();
  RatioQuestion& question = ratio->question;
  CLI::App* command = app.add_subcommand("ratio", "Gear ratios; slip from two speeds");
  command->add_option("--gear", question.gear, "The gear that was driven, for example 4 or R")
      ->type_name("GEAR");
  command->add_option("--turbine", question.turbine, "Turbine speed, for example \"1790 rpm\"")
      ->type_name("SPEED");
  command
      ->add_option("--output", question.output,
                   "Output speed, for example \"1500 rpm\"; negative in reverse")
      ->type_name("SPEED");
  add_calculator_options(*command, request);
  return added(command, ratio);
}

Added add_level(CLI::App& app, Request& request) {
  const auto level = std::make_shared<LevelCommand>();
  LevelQuestion& question = level->question;
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
  add_calculator_options(*command, request);
  return added(command, level);
}

Added add_code(CLI::App& app, Request& request) {
  const auto code = std::make_shared<CodeCommand>();
  CLI::App* command = app.add_subcommand("code", "What trouble codes mean on the unit");
  command->add_option("CODE", code->words, "Codes such as P0733, or their two bytes: 07 33, 0x0733")
      ->required();
  add_calculator_options(*command, request);
  return added(command, code);
}

void add_procedure(CLI::App& command, std::string& procedure) {
  command.add_option("--procedure", procedure, "Procedure of the profile; its first if left out")
      ->type_name("NAME")
      ->check(not_empty());
}

Added add_drive_sheet(CLI::App& drive, Request& request) {
  const auto sheet = std::make_shared<DriveSheetCommand>();
  CLI::App* command = drive.add_subcommand(
      "sheet", "What the card proves before the learning drive, and the sheet to tick");
  add_card(*command, sheet->card);
  add_procedure(*command, sheet->procedure);
  add_rule_options(*command, request);
  return added(command, sheet);
}

Added add_drive_check(CLI::App& drive, Request& request) {
  const auto check = std::make_shared<DriveCheckCommand>();
  CLI::App* command = drive.add_subcommand(
      "check", "Whether a logged drive was a learning drive, and whether values still move");
  add_card(*command, check->card);
  command->add_option("LOG", check->paths.log, "The drive as CSV")->required()->check(not_empty());
  command
      ->add_option("--columns", check->paths.mapping, "Mapping: what the columns of the log mean")
      ->type_name("FILE")
      ->required()
      ->check(not_empty());
  add_procedure(*command, check->procedure);
  add_rule_options(*command, request);
  return added(command, check);
}

constexpr std::string_view about =
    "Ranks what is likely wrong with an automatic transmission from a job card and an editable "
    "rule base, and says why.";

std::vector<Added> add_commands(CLI::App& app, Request& request) {
  std::vector<Added> commands{add_rank(app, request), add_reasons(app, request),
                              add_next(app, request), add_review(app, request),
                              add_compare(app, request)};
  CLI::App* rules = app.add_subcommand("rules", "Check, list and try rules");
  rules->require_subcommand(1);
  for (const auto add : {add_rules_check, add_rules_list, add_rules_try})
    commands.push_back(add(*rules, request));
  CLI::App* drive = app.add_subcommand("drive", "The learning drive: its sheet, and a log of it");
  drive->require_subcommand(1);
  for (const auto add : {add_drive_sheet, add_drive_check})
    commands.push_back(add(*drive, request));
  for (const auto add : {add_ratio, add_level, add_code}) commands.push_back(add(app, request));
  return commands;
}

Exit refuse(const CLI::App& app, const CLI::ParseError& error, const Arguments& words) {
  const bool json = std::find(words.begin(), words.end(), "--json") != words.end();
  std::string text = explain_usage(app, error, words);
  if (json) {
    text.pop_back();  // its line end
    print_error(wrong_usage, text, json);
  } else {
    std::cerr << text;  // more than one line, with the name of the command in front
  }
  return Exit::wrong_usage;
}

/// Help and version are results like any other.
Exit show_help(const CLI::App& app, const CLI::ParseError& error) {
  std::ostringstream text;
  app.exit(error, text, text);
  return print_result(text.str(), false);
}

}  // namespace

std::variant<Request, Exit> read_command_line(int argc, char** argv) {
  Request request;
  CLI::App app{std::string(about), "slipcase"};
  app.set_version_flag("--version", "slipcase " + std::string(version));
  app.set_help_flag("--help", "Show what a command takes");
  app.require_subcommand(1);
  const std::vector<Added> commands = add_commands(app, request);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    if (error.get_exit_code() == 0) return show_help(app, error);
    return refuse(app, error, Arguments(argv + 1, argv + argc));
  }
  for (const Added& command : commands)
    if (command.app->parsed()) command.take(request);
  return request;
}

}  // namespace slipcase::cli

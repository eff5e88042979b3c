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

Added add_ask(CLI::App& app, Request& request) {
  const auto ask = std::make_shared<AskCommand>();
  CLI::App* command = app.add_subcommand(
      "ask", "The questionnaire, most useful question first; answers go onto the card");
  command->add_option("JOB", ask->card, "Job card to write to; made if there is none yet")
      ->required();
  command
      ->add_option("--answer", ask->answers,
                   "Write an answer, for example \"flare of 2-3=always\", and show the next "
                   "question; can be repeated")
      ->type_name("QUESTION=ANSWER")
      ->allow_extra_args(false);
  add_rule_options(*command, request);
  return added(command, ask);
}

Added add_compare(CLI::App& app, Request& request) {
  const auto compare = std::make_shared<CompareCommand>();
  CLI::App* command = app.add_subcommand(
      "compare", "Readings before and after values were cleared or something was repaired");
  add_card(*command, compare->card);
  add_rule_options(*command, request);
  return added(command, compare);
}

/// The folder of all cards: as asked, else that of the environment, else the current one.
void add_book(CLI::App& command, std::filesystem::path& book) {
  command.add_option("--book", book, "Folder of the job cards; the current one if left out")
      ->type_name("FOLDER")
      ->envname("SLIPCASE_BOOK")
      ->check(not_empty());
}

Added add_trend(CLI::App& app, Request& request) {
  const auto trend = std::make_shared<TrendCommand>();
  CLI::App* command =
      app.add_subcommand("trend", "What the readings of one vehicle do over all its visits");
  command->add_option("VEHICLE", trend->vehicle, "The vehicle as its cards call it (`ref`)")
      ->check(not_empty())
      ->required();
  add_book(*command, trend->book);
  command->add_flag("--all", trend->all, "A plot of every reading, not only of those that moved");
  add_rule_options(*command, request);
  return added(command, trend);
}

void add_job(CLI::App& command, std::string& job) {
  command.add_option("JOB", job, "Name of the job in the book, or a card's file")->required();
}

Added add_book_list(CLI::App& book, Request& request) {
  const auto list = std::make_shared<BookListCommand>();
  list->book = ".";
  CLI::App* command = book.add_subcommand("list", "The cards of the book, newest first");
  command->add_option("WORD", list->query.any, "Only what has this word in it");
  command->add_option("--vehicle", list->query.vehicle, "Only of vehicles with this in their name")
      ->type_name("TEXT");
  command->add_option("--complaint", list->query.complaint, "Only with this in the complaint")
      ->type_name("TEXT");
  command->add_option("--cause", list->query.cause, "Only with this in a confirmed cause")
      ->type_name("TEXT");
  CLI::Option* open = command->add_flag(
      "--open", [list](std::int64_t) { list->query.closed = false; }, "Only jobs that are open");
  command
      ->add_flag(
          "--closed", [list](std::int64_t) { list->query.closed = true; },
          "Only jobs that are closed")
      ->excludes(open);
  add_book(*command, list->book);
  add_json(*command, request.output);
  return added(command, list);
}

Added add_book_show(CLI::App& book, Request& request) {
  const auto show = std::make_shared<BookShowCommand>();
  show->book = ".";
  CLI::App* command = book.add_subcommand("show", "One card, as people read it");
  add_job(*command, show->job);
  add_book(*command, show->book);
  add_rule_options(*command, request);
  return added(command, show);
}

Added add_book_close(CLI::App& book, Request& request) {
  const auto close = std::make_shared<BookCloseCommand>();
  close->book = ".";
  Closing& closing = close->closing;
  CLI::App* command =
      book.add_subcommand("close", "What it was, what was repaired, and whether that held");
  add_job(*command, close->job);
  const auto many = [command](const char* name, std::vector<std::string>& list, const char* kind,
                              const char* says) {
    command->add_option(name, list, says)->type_name(kind)->allow_extra_args(false);
  };
  many("--confirmed", closing.confirmed, "CAUSE",
       "Found to be so, for example \"lining_worn of K2\"; can be repeated");
  many("--sound", closing.sound, "CAUSE", "Looked at and found not to be so; can be repeated");
  many("--repaired", closing.repaired, "REPAIR",
       "Done, for example \"element_pack of K2\"; can be repeated, the one that --complaint is "
       "about first");
  command->add_option("--complaint", closing.complaint, "After the repair: gone, same or back")
      ->type_name("WORD")
      ->check(CLI::IsMember({"gone", "same", "back"}));
  command
      ->add_option("--after", closing.after,
                   "How far or how long it was driven until that was known, for example \"300 km\"")
      ->type_name("DISTANCE");
  command->add_option("--date", closing.day, "Day of closing; today if left out")->type_name("DAY");
  command->add_option("--note", closing.note, "In own words")->type_name("TEXT");
  add_book(*command, close->book);
  add_rule_options(*command, request);
  return added(command, close);
}

/// When and how all of it was read.
void add_session(CLI::App& command, NewReadings& given) {
  const auto text = [&command](const char* name, std::string& into, const char* kind,
                               const char* says) {
    command.add_option(name, into, says)->type_name(kind)->check(not_empty());
  };
  text("--date", given.date, "DAY", "When it was read: \"2031-04-17\" or \"2031-04-17 14:30\"");
  text("--odometer", given.odometer, "DISTANCE", "Where it was read, for example \"148200 km\"");
  text("--software", given.software, "TEXT", "Level of the controller's program");
  text("--fluid-temperature", given.fluid_temperature, "TEMPERATURE",
       "Of the fluid when it was read, for example \"84 C\"");
}

Added add_book_reading(CLI::App& book, Request& request) {
  const auto reading = std::make_shared<AddReadingCommand>();
  reading->book = ".";
  NewReadings& given = reading->given;
  CLI::App* command =
      book.add_subcommand("add-reading", "Readings onto a card, from a table or typed in");
  add_job(*command, reading->job);
  CLI::Option* value =
      command
          ->add_option("--value", given.values,
                       "What was read, for example \"fill_pressure of K1=40 mbar\" or "
                       "\"fill_time of K1=not learned\"; can be repeated")
          ->type_name("READING=VALUE")
          ->allow_extra_args(false);
  CLI::Option* table = command->add_option("--table", given.table, "What the tool exported, as CSV")
                           ->type_name("FILE")
                           ->check(not_empty())
                           ->excludes(value);
  CLI::Option* columns =
      command->add_option("--columns", given.mapping, "Mapping: what the columns of the table mean")
          ->type_name("FILE")
          ->check(not_empty())
          ->needs(table);
  table->needs(columns);
  add_session(*command, given);
  add_book(*command, reading->book);
  add_rule_options(*command, request);
  return added(command, reading);
}

Added add_book_check(CLI::App& book, Request& request) {
  const auto check = std::make_shared<BookCheckCommand>();
  check->book = ".";
  CLI::App* command = book.add_subcommand("check", "Read every card and list every problem");
  add_book(*command, check->book);
  add_rule_options(*command, request);
  return added(command, check);
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
  CLI::Option* record = command->add_flag("--record", check->record,
                                          "Write the drive onto the card, if it is complete");
  command->add_option("--date", check->day, "Day of the drive that is written; today if left out")
      ->type_name("DAY")
      ->needs(record);
  command
      ->add_option("--odometer", check->odometer,
                   "Odometer after the drive, for example \"148250 km\"")
      ->type_name("DISTANCE")
      ->needs(record);
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
                              add_ask(app, request),  add_compare(app, request),
                              add_trend(app, request)};
  CLI::App* book =
      app.add_subcommand("book", "The job book: list, show, add to, close and check cards");
  book->require_subcommand(1);
  for (const auto add :
       {add_book_list, add_book_show, add_book_reading, add_book_close, add_book_check})
    commands.push_back(add(*book, request));
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

#include "command_line.h"

#include <algorithm>
#include <iostream>
#include <sstream>

#include "messages.h"
#include "options.h"
#include "slipcase/version.h"
#include "terminal.h"
#include "usage.h"

namespace slipcase::cli {

namespace {

using Arguments = std::vector<std::string>;

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

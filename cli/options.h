// Options that several commands take, and how a command is added to the program's command line.
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>

#include <CLI/CLI.hpp>

#include "command_line.h"

namespace slipcase::cli {

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
[[nodiscard]] CLI::Validator not_empty();
[[nodiscard]] CLI::Validator whole_number(std::size_t least, std::size_t most);
void add_unit_options(CLI::App& command, RuleOptions& options);
void add_json(CLI::App& command, OutputOptions& options);
/// What every command about jobs and rules takes.
void add_rule_options(CLI::App& command, Request& request);
/// A calculator reads the unit's profile alone.
void add_calculator_options(CLI::App& command, Request& request);
void add_card(CLI::App& command, std::filesystem::path& card);
void add_supposed(CLI::App& command, JobOptions& options);
void add_costs(CLI::App& command, JobOptions& options);
/// The folder of all cards: as asked, else that of the environment, else the current one.
void add_book(CLI::App& command, std::filesystem::path& book);
void add_job(CLI::App& command, std::string& job);

// The commands, by what they are about; command_line.cpp puts them together.
[[nodiscard]] Added add_rank(CLI::App& app, Request& request);
[[nodiscard]] Added add_reasons(CLI::App& app, Request& request);
[[nodiscard]] Added add_next(CLI::App& app, Request& request);
[[nodiscard]] Added add_review(CLI::App& app, Request& request);
[[nodiscard]] Added add_ask(CLI::App& app, Request& request);
[[nodiscard]] Added add_compare(CLI::App& app, Request& request);
[[nodiscard]] Added add_trend(CLI::App& app, Request& request);
[[nodiscard]] Added add_book_list(CLI::App& book, Request& request);
[[nodiscard]] Added add_book_show(CLI::App& book, Request& request);
[[nodiscard]] Added add_book_close(CLI::App& book, Request& request);
[[nodiscard]] Added add_book_reading(CLI::App& book, Request& request);
[[nodiscard]] Added add_book_check(CLI::App& book, Request& request);
[[nodiscard]] Added add_rules_check(CLI::App& rules, Request& request);
[[nodiscard]] Added add_rules_list(CLI::App& rules, Request& request);
[[nodiscard]] Added add_rules_try(CLI::App& rules, Request& request);
[[nodiscard]] Added add_ratio(CLI::App& app, Request& request);
[[nodiscard]] Added add_level(CLI::App& app, Request& request);
[[nodiscard]] Added add_code(CLI::App& app, Request& request);
[[nodiscard]] Added add_drive_sheet(CLI::App& drive, Request& request);
[[nodiscard]] Added add_drive_check(CLI::App& drive, Request& request);

}  // namespace slipcase::cli

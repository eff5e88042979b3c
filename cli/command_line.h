// What the command line asks for.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <variant>
#include <vector>

#include "slipcase/add_reading.h"
#include "slipcase/book.h"
#include "slipcase/drive.h"
#include "slipcase/service.h"

namespace slipcase::cli {

/// Exit status of the program.
enum class Exit : int { done = 0, input_errors = 1, wrong_usage = 2, machine_failure = 3 };

/// Options that choose rules; every command takes them.
struct RuleOptions {
  std::vector<std::filesystem::path> rules;       // laid over the shipped ones
  std::vector<std::filesystem::path> only_rules;  // instead of the shipped ones
  std::filesystem::path profile;                  // empty: the unit's own
  std::string unit;                               // empty: the card's, else the shipped one
};

struct OutputOptions {
  bool json = false;
  std::size_t memory_megabytes = 2048;
};

struct RankCommand {
  std::filesystem::path card;
  std::size_t draws = 100;
};
struct ReasonsCommand {
  std::filesystem::path card;
  std::string cause;
  std::string against;
};
struct NextCommand {
  std::filesystem::path card;
  std::size_t checks = 5;
  bool all = false;
};
struct ReviewCommand {
  std::filesystem::path card;
  std::vector<std::string> repairs;
};
struct AskCommand {
  std::filesystem::path card;
  std::vector<std::string> answers;  // "ID=ANSWER"
};
struct CompareCommand {
  std::filesystem::path card;
};
struct TrendCommand {
  std::string vehicle;
  std::filesystem::path book = ".";
  bool all = false;
};
struct BookListCommand {
  std::filesystem::path book;
  BookQuery query;
};
struct BookShowCommand {
  std::filesystem::path book;
  std::string job;  // a file, or a job's name
};
struct BookCloseCommand {
  std::filesystem::path book;
  std::string job;
  Closing closing;
};
struct AddReadingCommand {
  std::filesystem::path book;
  std::string job;
  NewReadings given;
};
struct BookCheckCommand {
  std::filesystem::path book;
};
struct RulesCheckCommand {
  std::vector<std::filesystem::path> paths;
};
struct RulesListCommand {
  std::string word;
  bool rates = false;
};
struct RulesTryCommand {
  std::string only;
  bool all = false;
  bool coverage = false;
};

struct DriveSheetCommand {
  std::filesystem::path card;
  std::string procedure;  // empty: the profile's first
};
struct DriveCheckCommand {
  std::filesystem::path card;
  DriveLogPaths paths;
  std::string procedure;
  bool record = false;
  std::string day;       // empty: today
  std::string odometer;  // empty: not said
};

struct RatioCommand {
  RatioQuestion question;
};
struct LevelCommand {
  LevelQuestion question;
};
struct CodeCommand {
  std::vector<std::string> words;
};

/// What is asked about a job beside its card.
struct JobOptions {
  std::vector<std::string> supposed;  // "FINDING=ANSWER"
  std::filesystem::path costs;        // empty: the profile's
};

struct Request {
  RuleOptions rules;
  JobOptions job;
  OutputOptions output;
  std::variant<std::monostate, RankCommand, ReasonsCommand, NextCommand, ReviewCommand, AskCommand,
               CompareCommand, TrendCommand, BookListCommand, BookShowCommand, BookCloseCommand,
               BookCheckCommand, AddReadingCommand, RulesCheckCommand, RulesListCommand,
               RulesTryCommand, RatioCommand, LevelCommand, CodeCommand, DriveSheetCommand,
               DriveCheckCommand>
      command;
};

/// A request, or the exit status when there is nothing to do any more (help was shown, wrong
/// usage).
[[nodiscard]] std::variant<Request, Exit> read_command_line(int argc, char** argv);

}  // namespace slipcase::cli

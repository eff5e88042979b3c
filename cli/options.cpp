#include "options.h"

namespace slipcase::cli {

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

void add_book(CLI::App& command, std::filesystem::path& book) {
  command.add_option("--book", book, "Folder of the job cards; the current one if left out")
      ->type_name("FOLDER")
      ->envname("SLIPCASE_BOOK")
      ->check(not_empty());
}

void add_job(CLI::App& command, std::string& job) {
  command.add_option("JOB", job, "Name of the job in the book, or a card's file")->required();
}

}  // namespace slipcase::cli

// Loading what a command works on, with every message printed.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <variant>

#include "command_line.h"
#include "slipcase/slipcase.h"

namespace slipcase::cli {

struct LoadedRules {
  Knowledge knowledge;
  std::shared_ptr<SourceSet> sources;
};

struct LoadedJob {
  LoadedRules rules;
  Job job;
};

/// Rules for the unit, their messages printed.
[[nodiscard]] std::variant<LoadedRules, Exit> load_rules(const Request& request,
                                                         const std::string& unit,
                                                         LoadFor what = LoadFor::jobs);

/// The same with the card's text: for commands that write to it.
struct LoadedCard {
  LoadedRules rules;
  CardText card;
  Job job;
  Diagnostics told;  // warnings about the card, printed already
};

struct LoadedUnit {
  Unit unit;
  std::shared_ptr<SourceSet> sources;
};

/// The unit's profile alone, its messages printed.
[[nodiscard]] std::variant<LoadedUnit, Exit> load_unit_profile(const Request& request);

/// The same with every doubt about the meaning of the rules; the messages are the result.
struct CheckedRules {
  std::shared_ptr<SourceSet> sources;
  Diagnostics diagnostics;
  std::variant<LoadedRules, Exit> loaded;
};
[[nodiscard]] CheckedRules check_rules(const Request& request);

/// The rules for the card's unit, and the card.
[[nodiscard]] std::variant<LoadedJob, Exit> load_job_and_rules(const Request& request,
                                                               const std::filesystem::path& card);

[[nodiscard]] std::variant<LoadedCard, Exit> load_card_and_rules(const Request& request,
                                                                 const std::filesystem::path& card);

/// Reports that there are no rules for the unit that the card names; false if there are.
[[nodiscard]] bool is_of_unknown_unit(const Request& request, const CardText& card);

[[nodiscard]] Exit exit_for(Loaded outcome);

/// Says that a cause cannot be told apart from itself, and from which others it can.
[[nodiscard]] Exit refuse_itself(const Request& request, const std::string& name,
                                 const std::vector<std::string>& others);

/// Says that the rules have no such cause or repair (`kind`), what it is instead, or what is near.
[[nodiscard]] Exit refuse_name(const Request& request, const Knowledge& knowledge,
                               std::string_view kind, const std::string& name,
                               const std::vector<std::string>& nearest);

}  // namespace slipcase::cli

#include "session.h"

#include <algorithm>
#include <cerrno>
#include <system_error>
#include <unistd.h>

#include "messages.h"
#include "shipped_rules.h"
#include "terminal.h"

namespace slipcase::cli {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view default_unit = "six_speed";

std::string quoted_units(const std::vector<std::string>& units) {
  std::string text;
  for (const std::string& unit : units) text += (text.empty() ? "`" : ", `") + unit + "`";
  return text;
}

/// A profile of the user's own. A folder of rules can bring one.
std::optional<fs::path> own_profile(const RuleOptions& options) {
  if (!options.profile.empty()) return options.profile;
  for (const fs::path& path : options.only_rules) {
    std::error_code code;
    if (fs::exists(path / "profile.yaml", code)) return path / "profile.yaml";
  }
  return std::nullopt;
}

std::variant<RulePaths, Exit> paths_for(const Request& request, const std::string& unit) {
  const RuleOptions& options = request.rules;
  RulePaths paths;
  paths.own = options.rules;
  paths.profile = own_profile(options);
  paths.own.insert(paths.own.end(), options.only_rules.begin(), options.only_rules.end());
  const bool complete = !options.only_rules.empty() && paths.profile;
  if (complete) return paths;

  const auto folder = shipped_rules_folder();
  if (!folder) {
    print_error(shipped_rules_missing,
                "the rules that come with the program are not where they were installed",
                request.output.json);
    return Exit::machine_failure;
  }
  std::error_code code;
  const bool plain_name = unit.find('/') == std::string::npos;
  if (!plain_name || !fs::exists(*folder / unit / "profile.yaml", code)) {
    print_error(unit_unknown,
                "there are no rules for the unit `" + unit + "`; there are some for " +
                    quoted_units(shipped_units(*folder)),
                request.output.json);
    return Exit::input_errors;
  }
  if (options.only_rules.empty()) {
    paths.shipped = *folder / unit;
  } else {
    paths.profile = *folder / unit / "profile.yaml";
  }
  return paths;
}

std::string unit_for(const RuleOptions& options, const std::optional<std::string>& named) {
  if (named) return *named;
  return options.unit.empty() ? std::string(default_unit) : options.unit;
}

/// The units that there are rules for, where the one that the card names is none of them.
std::vector<std::string> units_instead(const RuleOptions& options, const CardText& card) {
  const bool complete = !options.only_rules.empty() && own_profile(options);
  const auto folder = shipped_rules_folder();
  if (!card.unit || complete || !folder) return {};
  std::vector<std::string> units = shipped_units(*folder);
  if (std::find(units.begin(), units.end(), *card.unit) != units.end()) units.clear();
  return units;
}

/// One byte more than a card may have is enough to refuse it. What cannot be read is no empty card:
/// the streams of the library do not tell the two apart.
std::variant<std::string, Exit> read_standard_input(const Request& request) {
  std::string text(most_card_bytes + 1, '\0');
  std::size_t size = 0;
  while (size < text.size()) {
    const ssize_t got = ::read(STDIN_FILENO, text.data() + size, text.size() - size);
    if (got > 0) size += static_cast<std::size_t>(got);
    if (got == 0) break;
    if (got > 0 || errno == EINTR) continue;
    const bool folder = errno == EISDIR;
    const std::string why = std::generic_category().message(errno);
    print_error(input_unreadable,
                folder ? "standard input is a folder: name the card inside it"
                       : "standard input could not be read: " + why,
                request.output.json);
    return folder ? Exit::input_errors : Exit::machine_failure;
  }
  text.resize(size);
  return text;
}

std::variant<CardText, Exit> read_card_text(const Request& request, const fs::path& path) {
  if (path == "-") {
    auto input = read_standard_input(request);
    if (const auto* exit = std::get_if<Exit>(&input)) return *exit;
    auto& text = std::get<std::string>(input);
    auto unit = unit_named_in(text);
    return CardText{"standard input", std::move(text), std::move(unit)};
  }
  Diagnostics diagnostics;
  CardTextLoad load = read_card(path, diagnostics);
  print_messages(diagnostics, {}, request.output.json);
  if (!load.card) return exit_for(load.outcome);
  return std::move(*load.card);
}

CheckedRules load_into(const Request& request, const std::optional<std::string>& unit,
                       LoadFor what) {
  CheckedRules result{std::make_shared<SourceSet>(), {}, Exit::done};
  const auto paths = paths_for(request, unit_for(request.rules, unit));
  if (const auto* exit = std::get_if<Exit>(&paths)) {
    result.loaded = *exit;
    return result;
  }
  KnowledgeLoad load =
      load_knowledge(std::get<RulePaths>(paths), result.sources, result.diagnostics, what);
  if (load.knowledge) {
    result.loaded = LoadedRules{std::move(*load.knowledge), result.sources};
  } else {
    result.loaded = exit_for(load.outcome);
  }
  return result;
}

/// "a check", where the rules know the name as something else; "" where they do not.
std::string other_kind(const Knowledge& knowledge, const std::string& name) {
  const std::string head = name.substr(0, name.find(" of "));
  const auto same = [&](const auto& listed) {
    return listed.id.substr(0, listed.id.find(" of ")) == head;
  };
  const RulesList list = list_rules(knowledge, head);
  const auto other = std::find_if(list.others.begin(), list.others.end(), same);
  if (other != list.others.end()) {
    constexpr std::string_view vowels = "aeiou";
    const bool vowel = vowels.find(other->kind.front()) != std::string_view::npos;
    return (vowel ? "an " : "a ") + other->kind;
  }
  if (std::any_of(list.causes.begin(), list.causes.end(), same)) return "a cause";
  return std::any_of(list.findings.begin(), list.findings.end(), same) ? "a finding" : "";
}

}  // namespace

Exit refuse_itself(const Request& request, const std::string& name,
                   const std::vector<std::string>& others) {
  std::string text = "`" + name + "` cannot be told apart from itself";
  for (std::size_t i = 0; i < others.size() && i < 4; ++i)
    text += (i == 0 ? "; name another after --against, such as `" : ", `") + others[i] + "`";
  print_error(same_cause, text, request.output.json);
  return Exit::input_errors;
}

Exit refuse_name(const Request& request, const Knowledge& knowledge, std::string_view kind,
                 const std::string& name, const std::vector<std::string>& nearest) {
  constexpr std::size_t most = 8;
  std::string text = "the rules have no " + std::string(kind);
  if (!name.empty()) text += " `" + name + "`";
  for (std::size_t i = 0; i < nearest.size() && i < most; ++i)
    text += (i == 0 ? "; perhaps `" : ", `") + nearest[i] + "`";
  if (nearest.empty()) {
    const std::string other = other_kind(knowledge, name);
    if (!other.empty()) text += "; that is " + other;
    text += "; `slipcase rules list` shows them all";
  }
  print_error(asked_unknown, text, request.output.json);
  return Exit::input_errors;
}

Exit exit_for(Loaded outcome) {
  switch (outcome) {
    case Loaded::good:
      return Exit::done;
    case Loaded::input_errors:
      return Exit::input_errors;
    case Loaded::machine_failure:
      return Exit::machine_failure;
  }
  return Exit::input_errors;
}

CheckedRules check_rules(const Request& request) {
  return load_into(request, std::nullopt, LoadFor::doubts);
}

std::variant<LoadedRules, Exit> load_rules(const Request& request, const std::string& unit,
                                           LoadFor what) {
  CheckedRules result = load_into(request, unit.empty() ? std::nullopt : std::optional(unit), what);
  print_messages(result.diagnostics, *result.sources, request.output.json);
  return std::move(result.loaded);
}

std::variant<LoadedUnit, Exit> load_unit_profile(const Request& request) {
  const auto paths = paths_for(request, unit_for(request.rules, std::nullopt));
  if (const auto* exit = std::get_if<Exit>(&paths)) return *exit;
  auto sources = std::make_shared<SourceSet>();
  Diagnostics diagnostics;
  UnitLoad load = load_unit(std::get<RulePaths>(paths), sources, diagnostics);
  print_messages(diagnostics, *sources, request.output.json);
  if (!load.unit) return exit_for(load.outcome);
  return LoadedUnit{std::move(*load.unit), std::move(sources)};
}

bool is_of_unknown_unit(const Request& request, const CardText& card) {
  const auto units = units_instead(request.rules, card);
  if (units.empty()) return false;
  SourceSet sources;
  Diagnostics diagnostics;
  refuse_unit(card, units, sources, diagnostics);
  print_messages(diagnostics, sources, request.output.json);
  return true;
}

std::variant<LoadedCard, Exit> load_card_and_rules(const Request& request, const fs::path& path) {
  auto card = read_card_text(request, path);
  if (const auto* exit = std::get_if<Exit>(&card)) return *exit;
  auto& text = std::get<CardText>(card);
  if (is_of_unknown_unit(request, text)) return Exit::input_errors;
  Diagnostics diagnostics;
  auto rules = load_rules(request, text.unit.value_or(std::string()));
  if (const auto* exit = std::get_if<Exit>(&rules)) return *exit;
  auto& loaded = std::get<LoadedRules>(rules);
  JobLoad job = load_job(text, loaded.knowledge, diagnostics, request.job.supposed);
  print_messages(diagnostics, *loaded.sources, request.output.json);
  if (!job.job) return exit_for(job.outcome);
  return LoadedCard{std::move(loaded), std::move(text), std::move(*job.job),
                    std::move(diagnostics)};
}

std::variant<LoadedJob, Exit> load_job_and_rules(const Request& request, const fs::path& path) {
  auto loaded = load_card_and_rules(request, path);
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  auto& card = std::get<LoadedCard>(loaded);
  return LoadedJob{std::move(card.rules), std::move(card.job)};
}

}  // namespace slipcase::cli

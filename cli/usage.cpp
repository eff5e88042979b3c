#include "usage.h"

#include <algorithm>

namespace slipcase::cli {

namespace {

using Words = std::vector<std::string>;

/// The innermost command that was named.
const CLI::App& innermost(const CLI::App& app) {
  const auto named = app.get_subcommands();
  return named.empty() ? app : innermost(*named.front());
}

/// "slipcase rules"
std::string full_name(const CLI::App& command) {
  const CLI::App* parent = command.get_parent();
  return (parent == nullptr ? "" : full_name(*parent) + " ") + command.get_name();
}

/// How much of both words is the same in the same order, 0 to 1.
double alikeness(const std::string& a, const std::string& b) {
  std::vector<std::size_t> row(b.size() + 1);
  for (const char letter : a) {
    std::size_t diagonal = 0;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t above = row[j];
      row[j] = letter == b[j - 1] ? diagonal + 1 : std::max(above, row[j - 1]);
      diagonal = above;
    }
  }
  return 2.0 * static_cast<double>(row.back()) / static_cast<double>(a.size() + b.size());
}

/// The one that the word most likely stands for; "" if it is like none.
std::string meant(const std::string& word, const Words& known) {
  constexpr double alike = 0.7;
  std::string best;
  double highest = alike;
  const auto letters = [](const std::string& text) {
    return text.substr(std::min(text.find_first_not_of('-'), text.size()));
  };
  for (const std::string& name : known) {
    const double score = alikeness(letters(word), letters(name));
    if (score < highest) continue;
    highest = score;
    best = name;
  }
  return best;
}

std::string list_of(const CLI::App& app) {
  constexpr std::size_t column = 10;
  std::string text;
  for (const CLI::App* command : app.get_subcommands({})) {
    std::string name = command->get_name();
    name.resize(std::max(column, name.size() + 1), ' ');
    text += "  " + name + command->get_description() + "\n";
  }
  return text;
}

std::string takes(const CLI::App& command) {
  return "`" + full_name(command) + " --help` says what it takes\n";
}

std::string about_command(const CLI::App& app, const Words& rest) {
  const auto unknown = std::find_if(rest.begin(), rest.end(), [](const std::string& word) {
    return !word.empty() && word.front() != '-';
  });
  const std::string name = full_name(app);
  if (unknown == rest.end())
    return name + ": one of these has to follow:\n" + list_of(app) +
           "behind each, --help says what it takes\n";
  Words known;
  for (const CLI::App* command : app.get_subcommands({})) known.push_back(command->get_name());
  const std::string near = meant(*unknown, known);
  const std::string text = name + ": there is no command `" + *unknown + "`";
  if (!near.empty()) return text + ", did you mean `" + near + "`?\n";
  return text + "; there are:\n" + list_of(app);
}

/// `lining_worn of K2` without quotes is three words.
std::string unquoted(const Words& words) {
  const auto of = std::find(words.begin(), words.end(), "of");
  if (of == words.begin() || of == words.end() || of + 1 == words.end()) return {};
  return *(of - 1) + " of " + *(of + 1);
}

std::string about_extras(const CLI::App& command, const Words& rest, const Words& words) {
  const std::string name = full_name(command);
  const std::string in_quotes = unquoted(words);
  if (!in_quotes.empty() && std::find(rest.begin(), rest.end(), "of") != rest.end())
    return name + ": put it in quotes: \"" + in_quotes + "\"\n";
  const std::string& first = rest.front();
  if (first.front() != '-')
    return name + ": `" + first + "` is one word too many; " + takes(command);
  Words known;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& option_name : option->get_lnames()) known.push_back("--" + option_name);
  }
  const std::string near = meant(first, known);
  return name + ": there is no option `" + first + "`" +
         (near.empty() ? "; " + takes(command) : ", did you mean `" + near + "`?\n");
}

}  // namespace

std::string explain_usage(const CLI::App& app, const CLI::ParseError& error, const Words& words) {
  const CLI::App& command = innermost(app);
  const Words rest = app.remaining(true);
  if (!command.get_subcommands({}).empty()) return about_command(command, rest);
  const bool extras = dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr;
  const bool word = !rest.empty() && !rest.front().empty();
  if (word && (extras || rest.front().front() == '-')) return about_extras(command, rest, words);
  return full_name(command) + ": " + error.what() + "; " + takes(command);
}

}  // namespace slipcase::cli

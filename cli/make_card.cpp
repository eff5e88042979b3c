#include "make_card.h"

#include <iostream>

#include "clock.h"
#include "slipcase/write_card.h"
#include "terminal.h"

namespace slipcase::cli {

namespace {

CardChange put(std::vector<std::string> path, std::string value) {
  return {CardChange::Kind::put, std::move(path), CardValue::of(std::move(value))};
}

/// Nothing where the input ended.
std::optional<std::vector<CardChange>> first_lines(const std::string& unit,
                                                   const LineReader& lines) {
  struct Line {
    std::vector<std::string> path;
    const char* prompt;
  };
  std::vector<CardChange> changes{put({"unit"}, unit)};
  for (const Line& line :
       {Line{{"opened"}, "Day of the job, such as 2031-04-17 (Enter: today): "},
        Line{{"vehicle", "ref"}, "What do you call the car, the same on each of its cards? "},
        Line{{"vehicle", "odometer"}, "Odometer, with its unit, such as 148200 km: "},
        Line{{"complaint", "text"}, "The complaint, in the customer's words: "}}) {
    const auto said = lines.read(line.prompt);
    if (!said) return std::nullopt;
    const bool is_today = said->empty() && line.path.front() == "opened";
    if (is_today) changes.push_back(put(line.path, today()));
    if (!said->empty()) changes.push_back(put(line.path, *said));
  }
  return changes;
}

}  // namespace

std::variant<LoadedCard, Exit> make_card_for(const Request& request,
                                             const std::filesystem::path& path,
                                             const LineReader& lines) {
  auto rules = load_rules(request, {});
  if (const auto* exit = std::get_if<Exit>(&rules)) return *exit;
  auto& loaded = std::get<LoadedRules>(rules);
  std::cout << "There is no card `" << path.string() << "` yet. A new one begins with:\n";
  for (;;) {
    const auto changes = first_lines(loaded.knowledge.unit(), lines);
    if (!changes) return Exit::input_errors;
    Diagnostics diagnostics;
    CardWrite made = make_card(path, path.stem().string(), *changes, loaded.knowledge, diagnostics);
    print_messages(diagnostics, *loaded.sources, request.output.json);
    if (made.outcome == CardWritten::done) {
      std::cout << "made: " << path.string() << "\n";
      return LoadedCard{std::move(loaded), std::move(*made.card), std::move(*made.job),
                        std::move(diagnostics)};
    }
    if (made.outcome == CardWritten::failed) return Exit::machine_failure;
    if (made.outcome == CardWritten::changed) return load_card_and_rules(request, path);
    std::cout << "Once more:\n";
  }
}

}  // namespace slipcase::cli

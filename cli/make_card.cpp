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

/// The card is made with its first answer, and each further one is written at once.
class NewCard {
 public:
  NewCard(const Request& request, const std::filesystem::path& path, const LineReader& lines,
          LoadedRules rules)
      : request_(request), path_(path), lines_(lines), rules_(std::move(rules)) {}

  std::variant<LoadedCard, Exit> make() {
    if (!begin()) return exit_;
    if (there_already_) return load_card_and_rules(request_, path_);
    std::cout << "made: " << path_.string() << "\n";
    for (const Line& line :
         {Line{{"vehicle", "ref"}, "What do you call the car, the same on each of its cards? "},
          Line{{"vehicle", "odometer"}, "Odometer, with its unit, such as 148200 km: "},
          Line{{"complaint", "text"}, "The complaint, in the customer's words: "}})
      if (!add(line)) return exit_;
    return load_card_and_rules(request_, path_);
  }

 private:
  struct Line {
    std::vector<std::string> path;
    const char* prompt;
  };

  /// False: the input ended, or nothing can be written there.
  bool begin() {
    for (;;) {
      const auto said = lines_.read("Day of the job, such as 2031-04-17 (Enter: today): ");
      if (!said) return false;
      const std::vector<CardChange> changes{put({"unit"}, rules_.knowledge.unit()),
                                            put({"opened"}, said->empty() ? today() : *said)};
      Diagnostics diagnostics;
      CardWrite made =
          make_card(path_, path_.stem().string(), changes, rules_.knowledge, diagnostics);
      print_messages(diagnostics, *rules_.sources, request_.output.json);
      there_already_ = made.outcome == CardWritten::changed;
      if (made.outcome == CardWritten::done) card_ = std::move(made.card);
      if (card_ || there_already_) return true;
      if (made.outcome == CardWritten::failed) return fail();
    }
  }

  bool add(const Line& line) {
    for (;;) {
      const auto said = lines_.read(line.prompt);
      if (!said) return false;
      if (said->empty()) return true;
      const CardChange change = put(line.path, *said);
      Diagnostics diagnostics;
      CardWrite written = write_card(path_, *card_, {&change, 1}, rules_.knowledge, diagnostics);
      print_messages(diagnostics, *rules_.sources, request_.output.json);
      if (written.outcome == CardWritten::failed || written.outcome == CardWritten::changed)
        return fail();
      if (written.outcome == CardWritten::refused) continue;
      card_ = std::move(written.card);
      return true;
    }
  }

  bool fail() {
    exit_ = Exit::machine_failure;
    return false;
  }

  const Request& request_;
  const std::filesystem::path& path_;
  const LineReader& lines_;
  LoadedRules rules_;
  std::optional<CardText> card_;
  bool there_already_ = false;
  Exit exit_ = Exit::input_errors;
};

}  // namespace

std::variant<LoadedCard, Exit> make_card_for(const Request& request,
                                             const std::filesystem::path& path,
                                             const LineReader& lines) {
  auto rules = load_rules(request, {});
  if (const auto* exit = std::get_if<Exit>(&rules)) return *exit;
  std::cout << "There is no card `" << path.string() << "` yet. A new one begins with:\n";
  return NewCard(request, path, lines, std::move(std::get<LoadedRules>(rules))).make();
}

}  // namespace slipcase::cli

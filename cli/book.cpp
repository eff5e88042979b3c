#include "book.h"

#include <algorithm>
#include <iostream>
#include <map>

#include "card_writing.h"
#include "clock.h"
#include "messages.h"
#include "session.h"
#include "slipcase/trend.h"
#include "terminal.h"

namespace slipcase::cli {

namespace {

namespace fs = std::filesystem;

/// The rules of each unit are read once.
class RulesOfUnits {
 public:
  explicit RulesOfUnits(const Request& request) : request_(request) {}

  const std::variant<LoadedRules, Exit>& of(const std::string& unit) {
    const auto at = rules_.find(unit);
    if (at != rules_.end()) return at->second;
    return rules_.emplace(unit, load_rules(request_, unit)).first->second;
  }

 private:
  const Request& request_;
  std::map<std::string, std::variant<LoadedRules, Exit>> rules_;
};

class Checker {
 public:
  explicit Checker(const Request& request) : request_(request), rules_(request) {}

  void check(const fs::path& file) {
    Diagnostics diagnostics;
    CardTextLoad load = read_card(file, diagnostics);
    const LoadedRules* rules = load.card ? rules_for(*load.card) : nullptr;
    bool good = false;
    if (load.card && rules != nullptr)
      good = check_card(std::move(*load.card), rules->knowledge, diagnostics);
    ++check_.cards;
    if (!good) ++check_.with_errors;
    if (good && diagnostics.warning_count() > 0) ++check_.with_warnings;
    if (diagnostics.empty()) return;
    std::shared_ptr<const SourceSet> sources = std::make_shared<SourceSet>();
    if (rules != nullptr) sources = rules->sources;
    if (request_.output.json)
      messages_.push_back({std::move(diagnostics), std::move(sources)});
    else
      print_messages(diagnostics, *sources, false);
  }

  BookCheck& result() { return check_; }

  Exit print() {
    const Exit printed =
        print_result(request_.output.json ? to_json(check_, messages_)
                                          : to_text(check_, style_of_standard_output()),
                     request_.output.json);
    if (printed != Exit::done) return printed;
    return check_.with_errors > 0 ? Exit::input_errors : Exit::done;
  }

 private:
  const LoadedRules* rules_for(const CardText& card) {
    if (is_of_unknown_unit(request_, card)) return nullptr;
    return std::get_if<LoadedRules>(&rules_.of(card.unit.value_or(std::string())));
  }

  const Request& request_;
  RulesOfUnits rules_;
  BookCheck check_;
  std::vector<CheckMessages> messages_;
};

Closing closing_of(const BookCloseCommand& command) {
  Closing closing = command.closing;
  if (closing.day.empty()) closing.day = today();
  return closing;
}

}  // namespace

std::variant<fs::path, Exit> find_card(const Request& request, const fs::path& book,
                                       const std::string& name) {
  std::error_code code;
  if (fs::is_regular_file(name, code)) return fs::path(name);
  auto list = read_book(request, book, {});
  if (const auto* exit = std::get_if<Exit>(&list)) return *exit;
  const auto& cards = std::get<BookList>(list).cards;
  std::vector<const BookCard*> found;
  std::vector<std::string> names;
  for (const BookCard& card : cards) {
    if (card.job == name) found.push_back(&card);
    if (std::find(names.begin(), names.end(), card.job) == names.end()) names.push_back(card.job);
  }
  if (found.size() == 1) return found.front()->file;
  std::string text;
  if (found.empty()) {
    text = "there is no file and no job `" + name + "` below `" + book.string() + "`";
    const auto near = nearest_vehicles(name, names);
    for (std::size_t i = 0; i < near.size(); ++i)
      text += (i == 0 ? "; there is `" : ", `") + near[i] + "`";
  } else {
    text = "several cards have the job `" + name + "`; name the file:";
    for (const BookCard* card : found) text += " " + card->file.string();
  }
  print_error(asked_unknown, text, request.output.json);
  return Exit::input_errors;
}

std::variant<BookList, Exit> read_book(const Request& request, const fs::path& folder,
                                       const BookQuery& query) {
  Diagnostics diagnostics;
  BookList list = list_book(folder, query, diagnostics);
  print_messages(diagnostics, {}, request.output.json);
  if (list.outcome != Loaded::good) return exit_for(list.outcome);
  return list;
}

Exit run_command(const Request& request, const BookListCommand& command) {
  const auto read = read_book(request, command.book, command.query);
  if (const auto* exit = std::get_if<Exit>(&read)) return *exit;
  const auto& list = std::get<BookList>(read);
  return print_result(
      request.output.json ? to_json(list) : to_text(list, style_of_standard_output()),
      request.output.json);
}

Exit run_command(const Request& request, const BookShowCommand& command) {
  const auto path = find_card(request, command.book, command.job);
  if (const auto* exit = std::get_if<Exit>(&path)) return *exit;
  const auto loaded = load_card_and_rules(request, std::get<fs::path>(path));
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  const auto& card = std::get<LoadedCard>(loaded);
  const CardAccount account = account_of(card.card, card.rules.knowledge);
  return print_result(
      request.output.json ? to_json(account) : to_text(account, style_of_standard_output()),
      request.output.json);
}

Exit run_command(const Request& request, const BookCloseCommand& command) {
  const auto path = find_card(request, command.book, command.job);
  if (const auto* exit = std::get_if<Exit>(&path)) return *exit;
  const Closing closing = closing_of(command);
  const auto changed =
      change_card(request, std::get<fs::path>(path),
                  [&](const LoadedCard& card) -> std::variant<std::vector<CardChange>, Exit> {
                    auto changes = changes_for_closing(closing, card.card.text);
                    if (auto* list = std::get_if<std::vector<CardChange>>(&changes))
                      return std::move(*list);
                    print_error(card_closed, std::get<std::string>(changes), request.output.json);
                    return Exit::input_errors;
                  });
  if (const auto* exit = std::get_if<Exit>(&changed)) return *exit;
  const auto& card = std::get<LoadedCard>(changed);
  const CardAccount account = account_of(card.card, card.rules.knowledge);
  return print_result(
      request.output.json ? to_json(account) : to_text(account, style_of_standard_output()),
      request.output.json);
}

Exit run_command(const Request& request, const BookCheckCommand& command) {
  const auto read = read_book(request, command.book, {});
  if (const auto* exit = std::get_if<Exit>(&read)) return *exit;
  const auto& list = std::get<BookList>(read);
  std::vector<fs::path> files = list.unread;
  for (const BookCard& card : list.cards) files.push_back(card.file);
  std::sort(files.begin(), files.end());
  Checker checker(request);
  for (const fs::path& file : files) checker.check(file);
  checker.result().others = list.others;
  checker.result().doubts = doubts_between(list.cards);
  return checker.print();
}

}  // namespace slipcase::cli

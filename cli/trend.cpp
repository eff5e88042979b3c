#include "trend.h"

#include <algorithm>
#include <cctype>

#include "book.h"
#include "messages.h"
#include "session.h"
#include "terminal.h"

namespace slipcase::cli {

namespace fs = std::filesystem;

namespace {

/// Of a text that is broken nobody knows whose it is; if it has the words in it, it is looked at.
bool mentions(const std::string& text, const std::string& ref) {
  const auto same = [](unsigned char a, unsigned char b) {
    return std::tolower(a) == std::tolower(b);
  };
  return std::search(text.begin(), text.end(), ref.begin(), ref.end(), same) != text.end();
}

struct Book {
  std::vector<CardText> cards;    // of the vehicle
  std::vector<std::string> refs;  // of all vehicles
  bool all_read = true;
};

/// Of a card whose head cannot be read nobody knows whose it is: its text decides.
std::variant<Book, Exit> cards_of(const Request& request, const TrendCommand& command) {
  auto read = read_book(request, command.book, {});
  if (const auto* exit = std::get_if<Exit>(&read)) return *exit;
  const auto& list = std::get<BookList>(read);
  Book book;
  std::vector<fs::path> files;
  for (const BookCard& card : list.cards) {
    if (!card.vehicle.empty() && std::ranges::find(book.refs, card.vehicle) == book.refs.end())
      book.refs.push_back(card.vehicle);
    if (is_same_vehicle(card.vehicle, command.vehicle)) files.push_back(card.file);
  }
  files.insert(files.end(), list.unread.begin(), list.unread.end());
  std::ranges::sort(files);
  Diagnostics diagnostics;
  for (const fs::path& file : files) {
    CardTextLoad load = read_card(file, diagnostics);
    if (!load.card) {
      book.all_read = false;
      continue;
    }
    const bool unread = std::ranges::find(list.unread, file) != list.unread.end();
    if (!unread || mentions(load.card->text, command.vehicle))
      book.cards.push_back(std::move(*load.card));
  }
  print_messages(diagnostics, {}, request.output.json);
  return book;
}

Exit refuse_vehicle(const Request& request, const TrendCommand& command, const Book& book) {
  std::string text =
      "no card below `" + command.book.string() + "` has the vehicle `" + command.vehicle + "`";
  const auto nearest = nearest_vehicles(command.vehicle, book.refs);
  for (std::size_t i = 0; i < nearest.size(); ++i)
    text += (i == 0 ? "; there is `" : ", `") + nearest[i] + "`";
  if (book.refs.empty()) text += "; no card there names any (`vehicle: { ref: van 12 }`)";
  print_error(vehicle_unknown, text, request.output.json);
  return Exit::input_errors;
}

std::string unit_of(const std::vector<CardText>& cards) {
  for (const CardText& card : cards)
    if (card.unit) return *card.unit;
  return {};
}

}  // namespace

Exit run_command(const Request& request, const TrendCommand& command) {
  auto read = cards_of(request, command);
  if (const auto* exit = std::get_if<Exit>(&read)) return *exit;
  auto& book = std::get<Book>(read);
  const bool named = std::ranges::any_of(
      book.refs, [&](const std::string& ref) { return is_same_vehicle(ref, command.vehicle); });
  if (!named) return refuse_vehicle(request, command, book);
  const auto rules = load_rules(request, unit_of(book.cards));
  if (const auto* exit = std::get_if<Exit>(&rules)) return *exit;
  const auto& loaded = std::get<LoadedRules>(rules);
  Diagnostics diagnostics;
  const TrendLoad load = load_vehicle(std::move(book.cards), loaded.knowledge, diagnostics);
  print_messages(diagnostics, *loaded.sources, request.output.json);
  if (!load.vehicle) return exit_for(load.outcome);
  const VehicleTrend told = trend(loaded.knowledge, *load.vehicle);
  const Exit printed = print_result(
      request.output.json ? to_json(told) : to_text(told, style_of_standard_output(), command.all),
      request.output.json);
  if (printed != Exit::done) return printed;
  return book.all_read ? exit_for(load.outcome) : Exit::input_errors;
}

}  // namespace slipcase::cli

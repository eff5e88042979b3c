#include "trend.h"

#include <algorithm>
#include <cctype>
#include <system_error>

#include "messages.h"
#include "session.h"
#include "terminal.h"

namespace slipcase::cli {

namespace fs = std::filesystem;

namespace {

bool is_card_file(const fs::path& path) {
  const std::string extension = path.extension().string();
  return extension == ".yaml" || extension == ".yml" || extension == ".json";
}

/// Sorted, so that nothing hangs on the order in which a disk lists its files.
std::variant<std::vector<fs::path>, Exit> card_files(const Request& request, const fs::path& book) {
  std::vector<fs::path> files;
  std::error_code code;
  for (fs::recursive_directory_iterator it(book, code), end; !code && it != end;
       it.increment(code)) {
    const bool hidden = it->path().filename().string().starts_with('.');
    if (hidden && it->is_directory(code)) it.disable_recursion_pending();
    if (!hidden && it->is_regular_file(code) && is_card_file(it->path()))
      files.push_back(it->path().lexically_normal());
  }
  if (code) {
    const bool missing =
        code == std::errc::no_such_file_or_directory || code == std::errc::not_a_directory;
    print_error(book_unreadable,
                "the folder `" + book.string() + "` cannot be read: " + code.message(),
                request.output.json);
    return missing ? Exit::input_errors : Exit::machine_failure;
  }
  std::ranges::sort(files);
  return files;
}

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

// The job book will take its place.
std::variant<Book, Exit> read_book(const Request& request, const TrendCommand& command) {
  const auto files = card_files(request, command.book);
  if (const auto* exit = std::get_if<Exit>(&files)) return *exit;
  Book book;
  Diagnostics diagnostics;
  for (const fs::path& path : std::get<std::vector<fs::path>>(files)) {
    CardTextLoad load = read_card(path, diagnostics);
    if (!load.card) {
      book.all_read = false;
      continue;
    }
    const auto ref = vehicle_named_in(load.card->text);
    if (ref && std::ranges::find(book.refs, *ref) == book.refs.end()) book.refs.push_back(*ref);
    const bool wanted =
        ref ? is_same_vehicle(*ref, command.vehicle) : mentions(load.card->text, command.vehicle);
    if (wanted) book.cards.push_back(std::move(*load.card));
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
  auto read = read_book(request, command);
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

#include "terminal.h"

#include <algorithm>
#include <charconv>
#include <cstdlib>
#include <iostream>
#include <optional>
#include <sys/ioctl.h>
#include <unistd.h>

#include "messages.h"

namespace slipcase::cli {

namespace {

std::optional<std::size_t> columns_from_environment() {
  const char* text = std::getenv("COLUMNS");
  if (text == nullptr) return std::nullopt;
  const std::string_view digits(text);
  std::size_t value = 0;
  const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  const bool whole = read.ec == std::errc() && read.ptr == digits.data() + digits.size();
  return whole ? std::optional(value) : std::nullopt;
}

std::optional<std::size_t> columns_of_terminal() {
  winsize size{};
  if (isatty(STDOUT_FILENO) == 0 || ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0 ||
      size.ws_col == 0)
    return std::nullopt;
  return size.ws_col;
}

}  // namespace

TextStyle style_of_standard_output() {
  // Longer lines than a hundred columns are hard to read even where there is room.
  constexpr std::size_t widest = 100;
  TextStyle style;
  style.width =
      std::min(columns_from_environment().value_or(columns_of_terminal().value_or(80)), widest);
  const char* no_colour = std::getenv("NO_COLOR");
  const bool refused = no_colour != nullptr && *no_colour != '\0';
  style.colour = isatty(STDOUT_FILENO) != 0 && !refused;
  return style;
}

Exit print_result(std::string_view text, bool json) {
  std::cout << text << std::flush;
  if (std::cout) return Exit::done;
  print_error(output_unwritable, "the result could not be written: is the disk full?", json);
  return Exit::machine_failure;
}

void print_error(const Message& message, std::string_view text, bool json) {
  Diagnostics one;
  const Diagnostic& said = one.add(message, std::nullopt, text);
  if (json) {
    std::cerr << to_json(one, {});
  } else {
    std::cerr << "slipcase: " << said.text << "\n";
  }
}

void print_messages(const Diagnostics& diagnostics, const SourceSet& sources, bool json) {
  if (diagnostics.empty()) return;
  if (json) {
    std::cerr << to_json(diagnostics, sources);
    return;
  }
  for (const Diagnostic& diagnostic : diagnostics.list()) std::cerr << render(diagnostic, sources);
  const auto is_cut = [](const Diagnostic& one) { return one.name == "too-many-errors"; };
  if (std::any_of(diagnostics.list().begin(), diagnostics.list().end(), is_cut)) return;
  if (diagnostics.error_count() > 1) std::cerr << diagnostics.error_count() << " errors\n";
}

}  // namespace slipcase::cli

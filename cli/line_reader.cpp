#include "line_reader.h"

#include <clocale>
#include <cstdio>
#include <cstdlib>
#include <editline/readline.h>
#include <iostream>
#include <memory>
#include <unistd.h>

namespace slipcase::cli {

LineReader::LineReader() : terminal_(isatty(STDIN_FILENO) != 0 && isatty(STDOUT_FILENO) != 0) {
  // The library edits by characters, not by bytes, if it knows which they are.
  if (terminal_) std::setlocale(LC_CTYPE, "");
}

std::optional<std::string> LineReader::read(const std::string& prompt) const {
  if (!terminal_) {
    std::cout << prompt << std::flush;
    std::string line;
    if (!std::getline(std::cin, line)) {
      std::cout << "\n";
      return std::nullopt;
    }
    if (!line.empty() && line.back() == '\r') line.pop_back();
    std::cout << line << "\n";
    return line;
  }
  struct Free {
    void operator()(char* text) const { std::free(text); }  // NOLINT: the library allocates so
  };
  const std::unique_ptr<char, Free> line(::readline(prompt.c_str()));
  if (!line) {
    std::cout << "\n";
    return std::nullopt;
  }
  if (*line != '\0') ::add_history(line.get());
  return std::string(line.get());
}

}  // namespace slipcase::cli

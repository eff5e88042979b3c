// Entry point: reads the command line, runs the command, turns what escapes into an exit status.
#include <exception>
#include <iostream>
#include <new>

#include "commands.h"

namespace {

int status(slipcase::cli::Exit exit) { return static_cast<int>(exit); }

}  // namespace

int main(int argc, char** argv) {
  using slipcase::cli::Exit;
  try {
    const auto request = slipcase::cli::read_command_line(argc, argv);
    if (const auto* exit = std::get_if<Exit>(&request)) return status(*exit);
    return status(slipcase::cli::run(std::get<slipcase::cli::Request>(request)));
  } catch (const std::bad_alloc&) {
    std::cerr << "slipcase: the machine has no memory left for this\n";
  } catch (const std::exception& error) {
    std::cerr << "slipcase: this should not happen, please report it: " << error.what() << "\n";
  }
  return status(Exit::machine_failure);
}

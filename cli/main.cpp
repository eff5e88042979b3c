// Entry point: reads the command line, runs the command, turns what escapes into an exit status.
#include <exception>
#include <new>
#include <string>

#include "commands.h"
#include "messages.h"
#include "terminal.h"

namespace {

int status(slipcase::cli::Exit exit) { return static_cast<int>(exit); }

}  // namespace

int main(int argc, char** argv) {
  using namespace slipcase::cli;
  bool json = false;
  try {
    const auto request = read_command_line(argc, argv);
    if (const auto* exit = std::get_if<Exit>(&request)) return status(*exit);
    json = std::get<Request>(request).output.json;
    return status(run(std::get<Request>(request)));
  } catch (const std::bad_alloc&) {
    print_error(memory_exhausted, "the machine has no memory left for this", json);
  } catch (const std::exception& error) {
    print_error(program_mistake,
                std::string("this should not happen, please report it: ") + error.what(), json);
  }
  return status(Exit::machine_failure);
}

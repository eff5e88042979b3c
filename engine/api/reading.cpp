#include "api/reading.h"

#include <algorithm>

#include "api/messages.h"

namespace slipcase::api {

Loaded report(const FileFailure& failure, Diagnostics& diagnostics) {
  diagnostics.add(file_unreadable, std::nullopt, describe(failure));
  const bool machine =
      failure.problem == FileProblem::no_permission || failure.problem == FileProblem::unreadable;
  return machine ? Loaded::machine_failure : Loaded::input_errors;
}

Loaded worse(Loaded a, Loaded b) { return std::max(a, b); }

}  // namespace slipcase::api

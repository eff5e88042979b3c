#include "report/supposed.h"

#include <fmt/core.h>

#include "report/lines.h"

namespace slipcase::report {

std::string supposed_lines(const std::vector<Supposed>& supposed, std::size_t width) {
  std::string out;
  for (const Supposed& one : supposed) {
    out += wrapped(
        fmt::format("SUPPOSED, not on the card: {} = {} ({})", one.says, one.answer, one.finding),
        width, 1, 2);
  }
  return out;
}

}  // namespace slipcase::report

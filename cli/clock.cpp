#include "clock.h"

#include <chrono>
#include <ctime>

namespace slipcase::cli {

std::string today() {
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm parts{};
  localtime_r(&now, &parts);
  char text[sizeof "0000-00-00"];  // NOLINT: strftime wants it
  return std::strftime(text, sizeof text, "%Y-%m-%d", &parts) > 0 ? text : "";
}

}  // namespace slipcase::cli

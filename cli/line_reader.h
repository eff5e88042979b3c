// Lines from whoever answers: with editing and a history on a terminal, plain from a pipe.
#pragma once

#include <optional>
#include <string>

namespace slipcase::cli {

class LineReader {
 public:
  LineReader();

  /// Nothing at the end of the input. From a pipe what was read is shown behind the prompt, so that
  /// the output reads like a talk.
  [[nodiscard]] std::optional<std::string> read(const std::string& prompt) const;

 private:
  bool terminal_ = false;
};

}  // namespace slipcase::cli

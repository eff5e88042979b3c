// What is wrong, where, and what to do: every complaint about an input is one of these.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slipcase/source.h"

namespace slipcase {

enum class Severity : std::uint8_t { error, warning };

/// A kind of message. Its name is stable: people search for it and tests name it.
struct Message {
  std::string_view name;
  Severity severity = Severity::error;
};

/// A second place that explains the first ("it is also declared here").
struct Note {
  std::optional<Place> place;
  std::string text;
};

struct Diagnostic {
  std::string_view name;  // points at the Message constant
  Severity severity = Severity::error;
  std::optional<Place> place;  // none: the whole input, a missing file
  std::string text;
  std::vector<Note> notes;
  std::size_t stands_for = 1;  // more in "120 more errors in this text are not listed"
};

/// The list every stage reports into and goes on.
class Diagnostics {
 public:
  Diagnostic& add(const Message& message, std::optional<Place> place, std::string_view text);
  void append(Diagnostics other);

  [[nodiscard]] bool has_errors() const { return errors_ > 0; }
  [[nodiscard]] std::size_t error_count() const { return errors_; }
  [[nodiscard]] std::size_t warning_count() const { return list_.size() - errors_; }
  [[nodiscard]] bool empty() const { return list_.empty(); }
  [[nodiscard]] const std::vector<Diagnostic>& list() const { return list_; }

  /// By source, then place; messages that say the same of the same place once.
  void sort();

 private:
  std::vector<Diagnostic> list_;
  std::size_t errors_ = 0;
};

/// "file:line:col: error: text [name]", the line, the place underlined, then the notes.
/// Long lines are cut around the place; tabs and wide characters keep the underline in step.
[[nodiscard]] std::string render(const Diagnostic& diagnostic, const SourceSet& sources);

}  // namespace slipcase

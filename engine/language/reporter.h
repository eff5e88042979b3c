// Complaints about one text: each place once, and no more than a person reads.
#pragma once

#include <map>
#include <string>

#include "slipcase/diagnostic.h"

namespace slipcase::language {

/// One slip may be met twice, by trying one reading after another or as a symbol and as a word.
/// Only the first message about a place counts.
class Reporter {
 public:
  void error(const Message& message, Place place, std::string text, std::optional<Note> note = {});

  /// Takes back what was reported between two offsets: something was found that explains all of it.
  void withdraw(std::uint32_t begin, std::uint32_t end);

  /// In the order of the text.
  [[nodiscard]] Diagnostics take();

 private:
  struct Entry {
    Message message;
    Place place;
    std::string text;
    std::optional<Note> note;
  };
  std::map<std::uint32_t, Entry> entries_;  // by the offset of their place
  std::map<std::uint32_t, Place> more_;     // of those that are not listed
};

}  // namespace slipcase::language

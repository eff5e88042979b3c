// Writing on a job card's file: whole or not at all, and never over what somebody else wrote.
#pragma once

#include <filesystem>
#include <optional>
#include <span>
#include <string>

#include "slipcase/card_value.h"
#include "slipcase/job.h"

namespace slipcase {

enum class CardWritten : std::uint8_t {
  done,
  refused,  // the changed card has errors, or cannot be changed there: see the diagnostics
  changed,  // somebody else wrote to it since it was read: read it again
  failed,   // the disk or its rights; see the diagnostics
};

struct CardWrite {
  CardWritten outcome = CardWritten::refused;
  std::optional<CardText> card;  // as it is on the disk now, when done
  std::optional<Job> job;
};

/// Makes the changes in the text that was read (comments, order and what is not understood stay),
/// reads the result as any card is read, and only then puts it in the place of the file: a complete
/// new file beside it that takes its name. Nothing is written where the file is not `card.text` any
/// more.
[[nodiscard]] CardWrite write_card(const std::filesystem::path& path, const CardText& card,
                                   std::span<const CardChange> changes, const Knowledge& knowledge,
                                   Diagnostics& diagnostics);

/// Makes a card that is not there yet; `changed` where there is one.
[[nodiscard]] CardWrite make_card(const std::filesystem::path& path, const std::string& job,
                                  std::span<const CardChange> changes, const Knowledge& knowledge,
                                  Diagnostics& diagnostics);

/// The change as one line of YAML, to be put on a card by hand.
[[nodiscard]] std::string as_line(const CardChange& change);

}  // namespace slipcase

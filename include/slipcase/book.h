// The job book: a folder of job cards.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "slipcase/card_value.h"
#include "slipcase/diagnostic.h"
#include "slipcase/job.h"
#include "slipcase/knowledge.h"

namespace slipcase {

/// What a list shows of a card. Empty where the card does not say it.
struct BookCard {
  std::filesystem::path file;
  std::string job;
  std::string unit;
  std::string vehicle;
  std::string odometer;
  std::string opened;
  std::string complaint;              // in the customer's words
  std::vector<std::string> findings;  // of the complaint
  std::string closed;
  std::vector<std::string> confirmed;  // causes

  [[nodiscard]] bool is_closed() const { return !closed.empty(); }
};

/// Everything that is given has to fit; capitals do not matter.
struct BookQuery {
  std::string any;        // in any of what follows, or in the name of the job or file
  std::string vehicle;    // in its name
  std::string complaint;  // in its text or one of its findings
  std::string cause;      // in a confirmed one
  std::optional<bool> closed;
};

struct BookList {
  Loaded outcome = Loaded::good;              // a folder that cannot be looked into ends it
  std::vector<BookCard> cards;                // newest first, then by file
  std::vector<std::filesystem::path> unread;  // no YAML or JSON, or not to be read; folders too
  std::size_t others = 0;                     // files that are no job cards
  std::size_t in_book = 0;                    // cards, whether or not they fit
};

/// Reads the head of every card (`*.yaml`, `*.yml`, `*.json`) in the folder and those below it;
/// hidden names are left out. Whether the rest of a card is sound is not looked at: check_book.
[[nodiscard]] BookList list_book(const std::filesystem::path& folder, const BookQuery& query,
                                 Diagnostics& diagnostics);

/// One card of a check of the whole book: its text is added to the knowledge's sources, its
/// problems reported. False: it has errors.
[[nodiscard]] bool check_card(CardText card, const Knowledge& knowledge, Diagnostics& diagnostics);

/// What cards say against each other: one job twice, a vehicle whose odometer falls with the date.
struct BookDoubt {
  std::vector<std::filesystem::path> files;
  std::string text;
};
[[nodiscard]] std::vector<BookDoubt> doubts_between(std::span<const BookCard> cards);

/// What a check of the whole book came to.
struct BookCheck {
  std::size_t cards = 0;
  std::size_t with_errors = 0;
  std::size_t with_warnings = 0;
  std::size_t others = 0;  // files that are no job cards
  std::vector<BookDoubt> doubts;
};

// --- One card ------------------------------------------------------------------------------------

/// A line of what happened, in the order in which it did, as far as the card tells.
struct AccountLine {
  std::string when;  // "2031-03-02, 176850 km"; empty: not said
  std::string what;
};

/// A card as people read it.
struct CardAccount {
  BookCard head;
  std::vector<std::string> details;  // "use: towing"
  std::vector<std::string> seen;     // findings that are there, as people say them
  std::vector<std::string> not_seen;
  std::vector<std::string> not_sure;
  std::vector<std::string> codes;  // "transmission: P0733, P0735 (pending)", "engine: none"
  std::vector<AccountLine> lines;
  std::vector<std::string> sound;
  std::string note;
};

[[nodiscard]] CardAccount account_of(const CardText& card, const Knowledge& knowledge);

struct Closing {
  std::string day;                     // "2031-05-02"
  std::vector<std::string> confirmed;  // causes, as on a card
  std::vector<std::string> sound;
  std::vector<std::string> repaired;  // repairs; the first is the one that `complaint` is said of
  std::string complaint;              // "gone", "same", "back"; empty: not said
  std::string after;                  // "300 km": how long until that was known
  std::string note;
};

/// What closing changes on the card; a text for people where it is closed already. Whether the
/// names are right shows when the changed card is read (write_card).
[[nodiscard]] std::variant<std::vector<CardChange>, std::string> changes_for_closing(
    const Closing& closing, std::string_view card_text);

}  // namespace slipcase

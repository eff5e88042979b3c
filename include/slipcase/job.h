// A job card, read and bound to rules.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "slipcase/knowledge.h"

namespace slipcase {

class Job {
 public:
  struct Parts;  // the engine's own; see engine/api

  explicit Job(std::shared_ptr<const Parts> parts) : parts_(std::move(parts)) {}
  [[nodiscard]] const Parts& parts() const { return *parts_; }

 private:
  std::shared_ptr<const Parts> parts_;
};

/// An answer that is only tried; the card says something else or nothing.
struct Supposed {
  std::string finding;  // id
  std::string says;
  std::string answer;  // as written
};

struct JobLoad {
  Loaded outcome = Loaded::input_errors;
  std::optional<Job> job;
};

/// A card's text, and the unit it names: which rules to load can depend on it.
struct CardText {
  std::string name;  // stands for it in messages
  std::string text;
  std::optional<std::string> unit;
};

struct CardTextLoad {
  Loaded outcome = Loaded::input_errors;
  std::optional<CardText> card;
};

/// A card is far smaller.
inline constexpr std::size_t most_card_bytes = std::size_t{4} << 20U;

/// Reads a card's file. The file is never changed.
[[nodiscard]] CardTextLoad read_card(const std::filesystem::path& path, Diagnostics& diagnostics);

/// The unit named in a text that may be a card, whatever else is wrong with it.
[[nodiscard]] std::optional<std::string> unit_named_in(std::string_view text);

/// Reports that there are no rules for the unit that a card names, only for `units`, and whatever
/// can be told of the card without any. Its text is added to `sources`.
void refuse_unit(CardText card, std::span<const std::string> units, SourceSet& sources,
                 Diagnostics& diagnostics);

/// Reads the card (YAML or JSON) and binds every name in it to the rules; all errors are reported
/// in one run. Its text is added to the knowledge's sources.
/// `supposed`: answers to try, each "flare of 2-3=always"; they take the place of the card's.
[[nodiscard]] JobLoad load_job(CardText card, const Knowledge& knowledge, Diagnostics& diagnostics,
                               std::span<const std::string> supposed = {});

}  // namespace slipcase

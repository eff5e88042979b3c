// A job card, read and bound to rules.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
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

/// Reads a card's file. The file is never changed.
[[nodiscard]] CardTextLoad read_card(const std::filesystem::path& path, Diagnostics& diagnostics);

/// The unit named in a text that may be a card, whatever else is wrong with it.
[[nodiscard]] std::optional<std::string> unit_named_in(std::string_view text);

/// Reads the card (YAML or JSON) and binds every name in it to the rules; all errors are reported
/// in one run. Its text is added to the knowledge's sources.
[[nodiscard]] JobLoad load_job(CardText card, const Knowledge& knowledge, Diagnostics& diagnostics);

}  // namespace slipcase

// The one name space of a rule base while it is being resolved.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "language/ast.h"
#include "rulebase/rulebase.h"

namespace slipcase::rulebase {

/// What kinds of names fit a place; a set, so that messages can say all of them.
enum class Kind : std::uint16_t {
  detail = 1,
  reading = 2,
  event = 4,
  finding = 8,
  inside = 16,
  cause = 32,
  distrust = 64,
  check = 128,
  access = 256,
  repair = 512,
  caution = 1024,
  group = 2048,
};
class Kinds {
 public:
  constexpr Kinds() = default;
  constexpr Kinds(Kind kind) : bits_(static_cast<std::uint16_t>(kind)) {}  // NOLINT
  [[nodiscard]] constexpr bool has(Kind kind) const {
    return (bits_ & static_cast<std::uint16_t>(kind)) != 0;
  }
  friend constexpr Kinds operator|(Kinds a, Kinds b) {
    Kinds both;
    both.bits_ = static_cast<std::uint16_t>(a.bits_ | b.bits_);
    return both;
  }

 private:
  std::uint16_t bits_ = 0;
};
constexpr Kinds operator|(Kind a, Kind b) { return Kinds(a) | Kinds(b); }

/// "finding", with "a" or "an" before it.
[[nodiscard]] std::string_view with_article(Kind kind);
/// "a finding or an inside"
[[nodiscard]] std::string describe(Kinds kinds);

struct Symbol {
  std::string_view name;  // into the syntax tree
  Kind kind = Kind::cause;
  Entity entity;
  std::optional<ScopeId> scope;
  Place place;
  std::optional<Place> removed;                         // taken out of use there
  std::vector<std::pair<MemberId, Place>> removed_for;  // for these members only
  std::optional<FindingId> finding;  // a finding, or the one a check that flags is
  std::optional<EventId> event;      // an event, or the one of a check or repair
  /// Its own declaration was reported, so what it stands for is not certain and its uses say
  /// nothing.
  bool uncertain = false;

  /// A check is also a finding (if it flags) and an event, a repair also an event.
  [[nodiscard]] bool is(Kinds kinds) const;
};

class Names {
 public:
  /// Nothing if it was added, else what has the name already.
  const Symbol* add(const Symbol& symbol);
  [[nodiscard]] const Symbol* find(std::string_view name) const;
  [[nodiscard]] Symbol* find(std::string_view name);
  /// In the order of declaration.
  [[nodiscard]] const std::vector<Symbol>& all() const { return symbols_; }
  [[nodiscard]] std::vector<std::string> of(Kinds kinds) const;

 private:
  std::vector<Symbol> symbols_;
  std::unordered_map<std::string_view, std::size_t> index_;  // only looked up in, never walked
};

}  // namespace slipcase::rulebase

// Names on a card, looked up in the rules of the unit.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "facts/job_card.h"
#include "grounding/ground.h"
#include "slipcase/diagnostic.h"

namespace slipcase::evaluation {

/// Kinds of things a card names; the word is the one for messages.
enum class CardKind : std::uint8_t { finding, detail, reading, event, check, repair, cause };

/// A declaration that a name on the card means.
struct Declared {
  std::uint32_t index = 0;  // into the rule base's list of the kind
  const rulebase::Header* header = nullptr;
  const grounding::Layout* layout = nullptr;

  [[nodiscard]] std::uint32_t ground(std::optional<rulebase::MemberId> member) const {
    return layout->at(index, member);
  }
};

class CardNames {
 public:
  CardNames(const grounding::GroundRules& rules, Diagnostics& diagnostics)
      : rules_(rules), diagnostics_(diagnostics) {}

  /// Reports what is not there, or is something else, and gives nothing. Says nothing of a name
  /// that is faulty.
  [[nodiscard]] std::optional<Declared> declared(CardKind kind, const facts::Scalar& name);
  /// The same without a report.
  [[nodiscard]] std::optional<Declared> find(CardKind kind, std::string_view name) const;

  [[nodiscard]] std::optional<rulebase::MemberId> member(rulebase::ScopeId scope,
                                                         const facts::Scalar& name);

  /// One ground thing: `flare of 2-3`, `level_low`.
  [[nodiscard]] std::optional<std::uint32_t> ground(CardKind kind,
                                                    const facts::CardReference& reference);
  /// The same, or all members where none is named.
  [[nodiscard]] std::vector<std::uint32_t> all_ground(CardKind kind,
                                                      const facts::CardReference& reference);

  /// What a value of an entry is said of; nothing where that was reported, and the value is only
  /// to be checked. `explicitly`: by name and not by `others`.
  using Take = std::function<void(std::optional<std::uint32_t> ground, const facts::Scalar& value,
                                  bool explicitly)>;
  /// Every member an entry speaks of: `{ K1: yes, others: no }`, or the one thing without members.
  void each(const Declared& declared, const facts::Entry& entry, const Take& take);

 private:
  [[nodiscard]] std::vector<std::string> names_of(CardKind kind) const;
  using Values = std::vector<std::pair<facts::Scalar, facts::Scalar>>;
  void each_member(const Declared& declared, const Values& values, const Take& take);
  void others(const Declared& declared, const std::vector<bool>& named, const facts::Scalar& value,
              const Take& take);
  [[nodiscard]] std::string hint_for(CardKind kind, std::string_view name) const;
  void refuse_kind(CardKind kind, const facts::Scalar& name, const rulebase::Entity& entity);
  [[nodiscard]] bool refuse_removed(const facts::Scalar& name);
  void ask_which(const Declared& declared, const Place& place);
  void refuse_member(const Declared& declared, const Place& place);

  const grounding::GroundRules& rules_;
  Diagnostics& diagnostics_;
};

}  // namespace slipcase::evaluation

// What a job's card says of single things, by their names in the rules.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evaluation/job_facts.h"
#include "grounding/ground.h"
#include "slipcase/source.h"

namespace slipcase::drive {

/// A thing that happened: its place in JobFacts::events.
using EventAt = std::uint32_t;

class CardFacts {
 public:
  CardFacts(const grounding::GroundRules& rules, const evaluation::JobFacts& facts,
            const SourceSet& sources)
      : rules_(rules), facts_(facts), sources_(sources) {}

  [[nodiscard]] const grounding::GroundRules& rules() const { return rules_; }
  [[nodiscard]] const evaluation::JobFacts& facts() const { return facts_; }

  /// Everything on the card that is or counts as the event; none where the rules have no such name.
  [[nodiscard]] std::optional<std::vector<EventAt>> event_named(const std::string& name) const;
  [[nodiscard]] std::optional<std::vector<EventAt>> check_named(const std::string& name) const;
  [[nodiscard]] std::optional<std::vector<EventAt>> repair_named(const std::string& name) const;
  [[nodiscard]] const evaluation::Answer* answer_named(const std::string& name) const;

  /// The last of them: none of the others is known to be later.
  [[nodiscard]] std::optional<EventAt> latest(const std::vector<EventAt>& events) const;
  /// Where the first stands to the second in time.
  [[nodiscard]] evaluation::Order order(EventAt first, EventAt second) const;
  [[nodiscard]] evaluation::Order order_to_now(EventAt event) const;
  [[nodiscard]] evaluation::Order order_to_reading(EventAt event, std::size_t snapshot) const {
    return facts_.event_order[event * facts_.snapshots.size() + snapshot];
  }

  /// "2031-04-17, 148200 km"; empty where the card says neither.
  [[nodiscard]] std::string when(EventAt event) const;
  [[nodiscard]] static std::string when(const evaluation::Moment& moment);
  /// "card.yaml:12:3"
  [[nodiscard]] std::string place(EventAt event) const;
  [[nodiscard]] std::string place(const Place& place) const { return sources_.describe(place); }

 private:
  [[nodiscard]] std::vector<EventAt> occurrences(std::uint32_t ground) const;

  const grounding::GroundRules& rules_;
  const evaluation::JobFacts& facts_;
  const SourceSet& sources_;
};

}  // namespace slipcase::drive

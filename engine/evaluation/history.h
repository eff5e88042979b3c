// What is known to have happened, and when, as of now or as of the day of a snapshot.
#pragma once

#include <cstdint>
#include <optional>

#include "evaluation/job_facts.h"

namespace slipcase::evaluation {

/// Of a snapshot's own moment: what came after it does not exist yet. None: everything on the card.
using AsOf = std::optional<std::uint32_t>;

/// Looks at one job. Cheap to make; keeps nothing.
class History {
 public:
  explicit History(const JobFacts& facts) : facts_(facts) {}

  [[nodiscard]] Truth answer(const grounding::Question& question, AsOf as_of) const;

  /// In milliseconds; infinite where the event certainly never happened.
  [[nodiscard]] Interval time_since(grounding::EventAsked asked, AsOf as_of) const;
  /// In the base unit of distance.
  [[nodiscard]] Interval distance_since(grounding::EventAsked asked, AsOf as_of) const;

  /// Whether the event (a place in JobFacts::events) had happened.
  [[nodiscard]] Truth had_happened(std::uint32_t event, AsOf as_of) const;

  [[nodiscard]] const Moment& moment(AsOf as_of) const {
    return as_of ? facts_.snapshots[*as_of].when : facts_.now;
  }

 private:
  [[nodiscard]] Truth answer(const grounding::HappenedQuestion& question, AsOf as_of) const;
  [[nodiscard]] Truth answer(const grounding::SoonAfterQuestion& question, AsOf as_of) const;
  [[nodiscard]] Truth answer(const grounding::CodeQuestion& question) const;

  /// It had happened, and by the hand that is asked for.
  [[nodiscard]] Truth matches(std::uint32_t event, grounding::EventAsked asked, AsOf as_of) const;
  [[nodiscard]] Truth recorded(grounding::EventAsked asked, AsOf as_of) const;
  [[nodiscard]] Truth after_the_last(std::uint32_t event, grounding::EventAsked asked,
                                     AsOf as_of) const;
  [[nodiscard]] Truth since(const grounding::HappenedQuestion& question, AsOf as_of) const;
  [[nodiscard]] Truth soon_after(std::uint32_t later, std::uint32_t earlier,
                                 const grounding::SoonAfterQuestion& question) const;
  [[nodiscard]] bool all_read(const grounding::CodeQuestion& question) const;

  template <class Between>
  [[nodiscard]] Interval since_the_last(grounding::EventAsked asked, AsOf as_of,
                                        const Between& between) const;

  const JobFacts& facts_;
};

}  // namespace slipcase::evaluation

// Binding a card, part by part. Each part is in a file of its own (bind_*.cpp).
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "evaluation/card_names.h"
#include "evaluation/job_facts.h"
#include "facts/supposition.h"

namespace slipcase::evaluation {

class Binder {
 public:
  Binder(const grounding::GroundRules& rules, const facts::JobCard& card, Diagnostics& diagnostics);

  [[nodiscard]] JobFacts bind(std::span<const facts::Supposition> supposed);

 private:
  [[nodiscard]] bool is_of_this_unit();
  void day();
  void size_up();

  // bind_answers.cpp
  void members_not_driven();
  void answers();
  void answers(const Declared& declared, const facts::Entry& entry);
  void complaint();
  void answer(GroundFinding finding, const facts::Scalar& value, bool explicitly);
  void say(std::vector<Answer>& answers, GroundFinding finding, const Answer& said);
  void answer_others();
  [[nodiscard]] std::optional<Answer> parse_answer(const rulebase::Finding& declaration,
                                                   const facts::Scalar& value);
  void refuse_answer(const rulebase::Header& check, const Place& place);
  void found(const facts::DoneCheck& done, std::uint32_t check);
  void found_entry(const facts::Entry& entry, const rulebase::Check& check);
  void flagged(const facts::DoneCheck& done, const rulebase::Check& check);
  void refuse_found(const facts::Scalar& name, const rulebase::Check& check);
  bool refuse_out_of_use(GroundFinding finding, const Place& place);
  [[nodiscard]] bool is_driven(GroundFinding finding) const;

  // bind_suppositions.cpp
  void suppose(std::span<const facts::Supposition> supposed);
  void suppose(GroundFinding finding, const facts::Scalar& value, std::optional<Answer>& taken);

  // bind_details.cpp
  void details();
  void details(const Declared& declared, const facts::Entry& entry);
  void detail(GroundDetail detail, const facts::Scalar& value);
  void details_of_the_card();
  void take_from_card(std::string_view name, rulebase::Detail::Type type, double number);
  void set_detail(GroundDetail detail, DetailFact fact);
  [[nodiscard]] std::optional<DetailFact> parse_detail(const rulebase::Detail& declaration,
                                                       const facts::Scalar& value);

  // bind_readings.cpp
  void readings();
  void read_values(const facts::Snapshot& snapshot, std::vector<ReadingFact>& row);
  void read_value(GroundReading reading, const facts::Scalar& value, ReadingFact& fact);
  [[nodiscard]] ReadingFact parse_reading(const units::Dimension& dimension,
                                          const facts::Scalar& value);
  [[nodiscard]] bool is_possible(GroundReading reading, const units::Quantity& quantity,
                                 const facts::Scalar& value);
  void sort_snapshots(std::vector<std::vector<ReadingFact>>& rows);

  // bind_history.cpp
  void events();
  void event(GroundEvent event, const facts::CardTime& when, facts::Hand by, const Place& place);
  void checks();
  [[nodiscard]] std::vector<std::uint32_t> members_checked(const Declared& check,
                                                           const facts::DoneCheck& done);
  void repairs();
  void never();
  void not_known();
  void list_occurrences();
  void outcome();

  // bind_times.cpp
  [[nodiscard]] static Moment moment_of(const facts::CardTime& when);
  void follow();
  void follow(Moment& moment, const facts::CardTime& when, std::optional<std::uint32_t> self);
  [[nodiscard]] static bool is_together(const facts::CardTime& when, const facts::CardTime& other);
  void refuse_circles();
  void tie_times();
  void flag_falls(const std::vector<Moment*>& moments);
  void flag_late();

  // bind_codes.cpp
  void codes();
  void warn_of_other_controller(const facts::Scalar& controller, const facts::CardCode& code);

  const grounding::GroundRules& rules_;
  const facts::JobCard& card_;
  Diagnostics& diagnostics_;
  CardNames names_;
  JobFacts facts_;
  std::vector<Answer> others_;  // per finding: what `others` says of it, should nothing else
  std::vector<const facts::CardTime*> event_card_times_;  // per event
  std::vector<const facts::CardTime*> unbound_times_;     // of events whose names were reported
};

}  // namespace slipcase::evaluation

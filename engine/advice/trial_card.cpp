#include "advice/trial_card.h"

#include <algorithm>

namespace slipcase::advice {

namespace {

using facts::CardReference;
using facts::Entry;
using facts::Scalar;
using rulebase::DetailId;
using rulebase::EventId;
using rulebase::EventUse;
using rulebase::FindingId;
using rulebase::Header;
using rulebase::ReadingId;
using rulebase::TrialFact;

class CardWriter {
 public:
  explicit CardWriter(const grounding::GroundRules& ground)
      : rules_(*ground.rules), profile_(*ground.profile) {}

  facts::JobCard write(const rulebase::Trial& trial) {
    card_.place = trial.place;
    card_.opened = trial.opened;
    card_.opened_place = trial.place;
    card_.vehicle.odometer = trial.odometer;
    for (const TrialFact& fact : trial.facts) add(fact);
    return std::move(card_);
  }

 private:
  void add(const TrialFact& fact) {
    if (fact.code) {
      add_code(fact);
    } else if (const auto* finding = std::get_if<FindingId>(&fact.what)) {
      const auto& declared = rules_.findings.at(finding->at());
      card_.answers.push_back(entry(declared.header, fact, answer_text(fact, declared)));
    } else if (const auto* detail = std::get_if<DetailId>(&fact.what)) {
      const auto& declared = rules_.details.at(detail->at());
      card_.details.push_back(entry(declared.header, fact, value_text(fact, declared.words)));
    } else if (const auto* reading = std::get_if<ReadingId>(&fact.what)) {
      const auto& declared = rules_.readings.at(reading->at());
      snapshot(fact).values.push_back(entry(declared.header, fact, value_text(fact, {})));
    } else if (const auto* event = std::get_if<EventId>(&fact.what)) {
      add_event(fact, rules_.events.at(event->at()).header);
    }
  }

  /// Readings of a trial are all of the day on which its job was opened.
  facts::Snapshot& snapshot(const TrialFact& fact) {
    if (card_.readings.empty()) {
      facts::Snapshot today;
      if (card_.opened) today.when.moment = units::Moment{*card_.opened, std::nullopt};
      today.place = fact.place;
      card_.readings.push_back(std::move(today));
    }
    return card_.readings.front();
  }

  void add_event(const TrialFact& fact, const Header& header) {
    CardReference what{{header.name, fact.place}, member_of(header, fact), fact.place};
    if (fact.no) {
      card_.never.push_back(std::move(what));
      return;
    }
    facts::CardEvent event;
    event.what = std::move(what);
    event.place = fact.place;
    event.by = hand(fact.by);
    if (fact.on) event.when.moment = units::Moment{*fact.on, std::nullopt};
    event.when.odometer = fact.at;
    card_.events.push_back(std::move(event));
  }

  /// Who says that a code is stored, or is not, has read the controller that holds it.
  void add_code(const TrialFact& fact) {
    if (!card_.codes) card_.codes.emplace();
    facts::ControllerCodes own;
    if (!fact.no) {
      own.codes.push_back({*fact.code, fact.pending, {}, {}, {}, fact.place});
      card_.codes->push_back(std::move(own));
      return;
    }
    bool held = false;
    for (const auto& controller : profile_.controllers) {
      const bool holds =
          std::any_of(controller.ranges.begin(), controller.ranges.end(), [&](const auto& range) {
            return range.first <= *fact.code && *fact.code <= range.second;
          });
      if (holds) card_.codes->push_back({Scalar{controller.name, fact.place}, {}});
      held = held || holds;
    }
    if (!held) card_.codes->push_back(std::move(own));
  }

  static facts::Hand hand(EventUse::Hand by) {
    switch (by) {
      case EventUse::Hand::anyone:
        return facts::Hand::unsaid;
      case EventUse::Hand::us:
        return facts::Hand::us;
      case EventUse::Hand::others:
        return facts::Hand::others;
    }
    return facts::Hand::unsaid;
  }

  std::optional<Scalar> member_of(const Header& header, const TrialFact& fact) const {
    const auto* member = std::get_if<rulebase::MemberId>(&fact.member);
    if (member == nullptr || !header.scope) return std::nullopt;
    return Scalar{rules_.unit.scope(*header.scope).members.at(member->at()), fact.place};
  }

  Entry entry(const Header& header, const TrialFact& fact, std::string text) const {
    Scalar value{std::move(text), fact.place};
    Scalar name{header.name, fact.place};
    if (auto member = member_of(header, fact)) {
      std::vector<std::pair<Scalar, Scalar>> of{{std::move(*member), std::move(value)}};
      return {std::move(name), std::move(of)};
    }
    return {std::move(name), std::move(value)};
  }

  static std::string answer_text(const TrialFact& fact, const rulebase::Finding& declared) {
    if (fact.no) return "no";
    return fact.grade == 0 ? "yes" : declared.grades.at(fact.grade - 1).name;
  }

  static std::string value_text(const TrialFact& fact, const std::vector<std::string>& words) {
    if (const auto* yes = std::get_if<bool>(&fact.is)) return *yes ? "yes" : "no";
    if (const auto* word = std::get_if<std::uint32_t>(&fact.is)) return words.at(*word);
    if (const auto* date = std::get_if<units::Date>(&fact.is)) return date->text();
    if (const auto* quantity = std::get_if<units::Quantity>(&fact.is))
      return units::to_text(*quantity);
    return fact.no ? "no" : "yes";
  }

  const rulebase::Rulebase& rules_;
  const profile::Profile& profile_;
  facts::JobCard card_;
};

}  // namespace

facts::JobCard card_of(const rulebase::Trial& trial, const grounding::GroundRules& ground) {
  return CardWriter(ground).write(trial);
}

}  // namespace slipcase::advice

#include "drive/preconditions.h"

#include <algorithm>

#include <fmt/core.h>

#include "units/date.h"
#include "units/quantity.h"

namespace slipcase::drive {

namespace {

using evaluation::Answer;
using evaluation::Order;
using facts::Scalar;

std::string window_text(const profile::Window& window) {
  return fmt::format("{:.4g} to {:.4g} °C", window.low, window.high);
}

std::string dated(std::string_view text, const std::string& when) {
  return when.empty() ? std::string(text) : fmt::format("{} ({})", text, when);
}

std::vector<EventAt> clearings_of_values(const CardFacts& card) {
  std::vector<EventAt> all;
  for (const grounding::GroundReset& reset : card.rules().resets) {
    if (!reset.clears) continue;
    const auto [first, last] = card.facts().occurrences.range(reset.event.at());
    all.insert(all.end(), first, last);
  }
  return all;
}

class Preconditions {
 public:
  Preconditions(const CardFacts& card, const profile::Profile& unit,
                const profile::Procedure& procedure, Asked asked)
      : card_(card), facts_(card.facts()), unit_(unit), procedure_(procedure), asked_(asked) {}

  std::vector<Precondition> run() {
    list_.push_back(codes_recorded());
    list_.push_back(codes_cleared());
    list_.push_back(level());
    list_.push_back(values_cleared());
    if (asked_ == Asked::after_drive) return std::move(list_);
    list_.push_back(fluid());
    at_the_car();
    return std::move(list_);
  }

 private:
  static Precondition unknown_name(Precondition asked, const Scalar& name) {
    asked.because =
        fmt::format("the profile asks the card for `{}`, which the rules do not have", name.text);
    return asked;
  }

  // --- Learned values ---------------------------------------------------------------------------

  [[nodiscard]] Precondition values_cleared() const {
    Precondition asked{
        "values_cleared", "Learned values written down, then cleared", Proof::missing, {}, {}};
    const auto cleared = card_.latest(clearings_of_values(card_));
    if (!cleared) {
      asked.because = "the card has no clearing of the values";
      return asked;
    }
    asked.place = card_.place(*cleared);
    const auto drives = card_.repair_named(procedure_.name);
    const auto driven = drives ? card_.latest(*drives) : std::nullopt;
    if (asked_ == Asked::before_drive && driven && card_.order(*driven, *cleared) == Order::after) {
      asked.proof = Proof::contradicted;
      asked.place = card_.place(*driven);
      asked.because =
          dated("a learning drive was done since they were cleared", card_.when(*driven)) +
          ": clear them again only if the drive is to begin anew";
      return asked;
    }
    if (const auto before = read_before(*cleared); !before) {
      asked.because = dated("cleared", card_.when(*cleared)) +
                      ", and no reading on the card is from before: what they were is lost";
    } else {
      asked.proof = Proof::proven;
      asked.because = dated("cleared", card_.when(*cleared));
    }
    return asked;
  }

  [[nodiscard]] std::optional<std::size_t> read_before(EventAt event) const {
    for (std::size_t s = 0; s < facts_.snapshots.size(); ++s) {
      if (card_.order_to_reading(event, s) == Order::after) return s;
    }
    return std::nullopt;
  }

  // --- Codes ------------------------------------------------------------------------------------

  [[nodiscard]] Precondition codes_recorded() const {
    Precondition asked{
        "codes_recorded", "Trouble codes read and written down", Proof::missing, {}, {}};
    if (!facts_.own_controller_read) {
      asked.because = "the card has no `codes` of the transmission's controller";
      return asked;
    }
    asked.proof = Proof::proven;
    const auto own = own_codes();
    asked.because = own.empty()       ? "none was stored"
                    : own.size() == 1 ? "one code is on the card"
                                      : fmt::format("{} codes are on the card", own.size());
    if (!own.empty()) asked.place = card_.place(own.front()->place);
    return asked;
  }

  [[nodiscard]] std::vector<const evaluation::CodeFact*> own_codes() const {
    std::vector<const evaluation::CodeFact*> codes;
    const auto own =
        std::ranges::find(unit_.controllers, unit_.own_controller, &profile::Controller::name);
    for (const evaluation::CodeFact& fact : facts_.codes) {
      const bool is_own = own != unit_.controllers.end() &&
                          std::ranges::any_of(own->ranges, [&](const auto& range) {
                            return range.first <= fact.code && fact.code <= range.second;
                          });
      if (is_own) codes.push_back(&fact);
    }
    return codes;
  }

  [[nodiscard]] Precondition codes_cleared() const {
    Precondition asked{
        "codes_cleared", "Codes cleared, and none came back", Proof::missing, {}, {}};
    const auto codes = own_codes();
    if (facts_.own_controller_read && codes.empty()) {
      asked.proof = Proof::proven;
      asked.because = "none was stored";
      return asked;
    }
    const auto& name = procedure_.before.codes_cleared;
    if (!name) {
      asked.because = "the profile does not say what on the card would prove it";
      return asked;
    }
    const auto found = card_.event_named(name->text);
    if (!found) return unknown_name(std::move(asked), *name);
    const auto cleared = card_.latest(*found);
    if (!cleared) return never_cleared(std::move(asked), codes);
    asked.place = card_.place(*cleared);
    asked.because = dated("cleared", card_.when(*cleared));
    asked.proof = Proof::proven;
    if (!codes.empty() && card_.order_to_now(*cleared) == Order::before) {
      asked.proof = Proof::contradicted;
      asked.place = card_.place(codes.front()->place);
      asked.because += fmt::format(", and {} was read after that", codes.front()->code.text());
    }
    return asked;
  }

  /// A code that is only pending is none that is stored.
  [[nodiscard]] Precondition never_cleared(
      Precondition asked, const std::vector<const evaluation::CodeFact*>& codes) const {
    std::string names;
    std::size_t stored = 0;
    for (const evaluation::CodeFact* code : codes) {
      if (code->pending) continue;
      if (stored++ == 0) asked.place = card_.place(code->place);
      names += (names.empty() ? "" : ", ") + code->code.text();
    }
    asked.because =
        "the card has no clearing of the codes; stored codes keep the controller from learning";
    if (stored == 0) return asked;
    asked.proof = Proof::contradicted;
    const std::string many =
        stored == 1 ? std::string("one code is") : fmt::format("{} codes are", stored);
    asked.because = fmt::format("{} stored ({}), and {}", many, names, asked.because);
    return asked;
  }

  // --- Level ------------------------------------------------------------------------------------

  [[nodiscard]] Precondition level() const {
    Precondition asked{"level", "Fluid level right", Proof::missing, {}, {}};
    if (unit_.level_temperature) {
      asked.says += ", set with the fluid at " + window_text(*unit_.level_temperature);
    }
    for (const Scalar& name : procedure_.before.level_wrong) {
      const Answer* answer = card_.answer_named(name.text);
      if (answer == nullptr || answer->said != Answer::Said::yes) continue;
      asked.proof = Proof::contradicted;
      asked.because = fmt::format("the card says `{}`", name.text);
      if (answer->place) asked.place = card_.place(*answer->place);
      return asked;
    }
    const auto& name = procedure_.before.level_checked;
    if (!name) {
      asked.because = "the profile does not say what on the card would prove it";
      return asked;
    }
    const auto found = card_.check_named(name->text);
    if (!found) return unknown_name(std::move(asked), *name);
    return checked_level(std::move(asked), card_.latest(*found), *name);
  }

  [[nodiscard]] Precondition checked_level(Precondition asked,
                                           const std::optional<EventAt>& checked,
                                           const Scalar& name) const {
    if (!checked) {
      asked.because = fmt::format("the card has no `{}`", name.text);
      return asked;
    }
    asked.place = card_.place(*checked);
    asked.because = dated("checked", card_.when(*checked));
    for (const Scalar& wrong : procedure_.before.level_wrong) {
      const Answer* answer = card_.answer_named(wrong.text);
      if (answer != nullptr && answer->said == Answer::Said::no) continue;
      asked.because += fmt::format(", but the card does not say whether `{}`", wrong.text);
      return asked;
    }
    if (const auto repair = work_after(*checked)) {
      asked.place = card_.place(*repair);
      asked.because += fmt::format(", but work was done since then ({})",
                                   card_.rules().name_of(facts_.events[*repair].event));
      return asked;
    }
    asked.proof = Proof::proven;
    return asked;
  }

  /// A repair after which the rules want the level checked again.
  [[nodiscard]] std::optional<EventAt> work_after(EventAt checked) const {
    const rulebase::Rulebase& rules = *card_.rules().rules;
    for (const evaluation::DoneRepairFact& done : facts_.repairs) {
      const auto declaration = card_.rules().repairs.origins[done.repair.at()].declaration;
      const bool asks_for_it =
          std::ranges::any_of(rules.repairs[declaration].follow_with, [&](const auto& step) {
            const auto* check = std::get_if<rulebase::CheckId>(&step.what);
            return check != nullptr &&
                   rules.checks[check->at()].header.name == procedure_.before.level_checked->text;
          });
      if (asks_for_it && card_.order(done.event, checked) == Order::after) return done.event;
    }
    return std::nullopt;
  }

  // --- The fluid, and what no card can say ------------------------------------------------------

  [[nodiscard]] Precondition fluid() const {
    Precondition asked{
        "fluid_temperature", "Fluid inside the learning window", Proof::at_the_car, {}, {}};
    if (procedure_.fluid) asked.says += ", " + window_text(*procedure_.fluid);
    asked.says += ", all the way";
    const auto declared = card_.rules().rules->readings;
    for (std::uint32_t r = 0; r < card_.rules().readings.size(); ++r) {
      const auto& origin = card_.rules().readings.origins[r];
      if (declared[origin.declaration].header.name != "fluid_temperature" || origin.member)
        continue;
      if (facts_.snapshots.empty()) break;
      const auto& fact = facts_.reading(grounding::GroundReading{r}, facts_.snapshots.size() - 1);
      if (fact.said != evaluation::ReadingFact::Said::value) break;
      asked.because =
          fmt::format("last read at {}", units::to_text({fact.value, units::temperature()}));
      if (fact.place) asked.place = card_.place(*fact.place);
    }
    return asked;
  }

  void at_the_car() {
    // Common practice, no source.
    const auto add = [&](std::string_view id, std::string_view says) {
      list_.push_back({std::string(id), std::string(says), Proof::at_the_car, {}, {}});
    };
    add("right_fluid", "Right fluid: one that the manufacturer lists");
    add("engine_sound",
        "Engine sound: no misfire, steady idle, air conditioning and big loads off");
    add("battery", "Battery healthy and charged");
    add("wheels", "Tyres of one size and pressure, no trailer, no roof load");
    add("road", "Level, straight, empty road, legal speeds; a place for full stops");
  }

  const CardFacts& card_;
  const evaluation::JobFacts& facts_;
  const profile::Profile& unit_;
  const profile::Procedure& procedure_;
  Asked asked_;
  std::vector<Precondition> list_;
};

}  // namespace

std::vector<Precondition> preconditions(const CardFacts& card, const profile::Profile& unit,
                                        const profile::Procedure& procedure, Asked asked) {
  return Preconditions(card, unit, procedure, asked).run();
}

std::string day_of_clearing(const CardFacts& card, const profile::Procedure& procedure) {
  std::vector<EventAt> clearings = clearings_of_values(card);
  if (const auto& name = procedure.before.codes_cleared) {
    const auto codes = card.event_named(name->text);
    if (codes) clearings.insert(clearings.end(), codes->begin(), codes->end());
  }
  std::optional<std::int64_t> day;
  for (const EventAt event : clearings) day = std::max(day, card.facts().event_times[event].day);
  return day ? units::Date::from_days_since_1970(*day).text() : std::string();
}

}  // namespace slipcase::drive

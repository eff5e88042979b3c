// Binder: details of the job.
#include <fmt/core.h>

#include "evaluation/binder.h"
#include "evaluation/messages.h"
#include "facts/node_reader.h"
#include "support/suggest.h"

namespace slipcase::evaluation {

using facts::Scalar;
using rulebase::Detail;

namespace {

bool says_nothing(const Scalar& value) {
  return value.text == "unknown" || value.text == "not sure";
}

}  // namespace

void Binder::details() {
  for (const auto& entry : card_.details) {
    const auto declared = names_.declared(CardKind::detail, entry.name);
    if (!declared) continue;
    details(*declared, entry);
  }
}

void Binder::details(const Declared& declared, const facts::Entry& entry) {
  names_.each(declared, entry, [&](auto ground, const Scalar& value, bool) {
    if (ground) {
      detail(GroundDetail{*ground}, value);
    } else if (!says_nothing(value)) {
      (void)parse_detail(rules_.rules->details[declared.index], value);
    }
  });
}

void Binder::detail(GroundDetail ground, const Scalar& value) {
  if (says_nothing(value)) {
    DetailFact& known = facts_.details[ground.at()];
    if (known.kind == DetailFact::Kind::unknown) known.place = value.place;
    return;
  }
  const auto& declaration = rules_.rules->details[rules_.details.origins[ground.at()].declaration];
  auto fact = parse_detail(declaration, value);
  if (!fact) return;
  fact->place = value.place;
  set_detail(ground, *fact);
}

void Binder::set_detail(GroundDetail ground, DetailFact fact) {
  DetailFact& known = facts_.details[ground.at()];
  const bool same = known.yes == fact.yes && known.word == fact.word && known.number == fact.number;
  if (known.kind == DetailFact::Kind::unknown) {
    known = fact;
  } else if (!same) {
    diagnostics_
        .add(contradiction, fact.place,
             fmt::format("`{}` is given in two ways", rules_.name_of(ground)))
        .notes.push_back({known.place, "the other value is here"});
  }
}

std::optional<DetailFact> Binder::parse_detail(const Detail& declaration, const Scalar& value) {
  DetailFact fact;
  switch (declaration.type) {
    case Detail::Type::yes_no: {
      fact.kind = DetailFact::Kind::yes_no;
      fact.yes = facts::says_yes(value.text);
      if (fact.yes || facts::says_no(value.text)) return fact;
      diagnostics_.add(answer_shape, value.place,
                       fmt::format("`{}` is no answer to `{}`: write `yes`, `no` or `not sure`",
                                   value.text, declaration.header.name));
      return std::nullopt;
    }
    case Detail::Type::choice: {
      fact.kind = DetailFact::Kind::word;
      for (std::uint32_t i = 0; i < declaration.words.size(); ++i) {
        fact.word = i;
        if (declaration.words[i] == value.text) return fact;
      }
      const std::string meant = did_you_mean(value.text, declaration.words);
      diagnostics_.add(
          unknown_word, value.place,
          fmt::format("`{}` is no value of `{}`{}", value.text, declaration.header.name,
                      meant.empty() ? ": write " + quoted_list(declaration.words) : meant));
      return std::nullopt;
    }
    case Detail::Type::date: {
      fact.kind = DetailFact::Kind::number;
      const auto date = units::Date::parse(value.text);
      if (date) {
        fact.number =
            static_cast<double>(date->days_since_1970()) * grounding::milliseconds_per_day;
        return fact;
      }
      const auto meant = facts::year_first(value.text);
      diagnostics_.add(
          date_shape, value.place,
          fmt::format("`{}` is not a day: write {}", value.text,
                      meant ? "`" + *meant + "`" : "year-month-day, such as `2031-04-22`"));
      return std::nullopt;
    }
    case Detail::Type::quantity:
      break;
  }
  const auto quantity = facts::read_quantity(value, declaration.dimension, diagnostics_);
  if (!quantity) return std::nullopt;
  fact.kind = DetailFact::Kind::number;
  fact.number = quantity->value;
  return fact;
}

/// `detail odometer : distance` and `detail opened : date` take what the card says of itself.
void Binder::details_of_the_card() {
  if (facts_.now.odometer) {
    take_from_card("odometer", Detail::Type::quantity, *facts_.now.odometer);
  }
  if (facts_.now.day) {
    const double day = static_cast<double>(*facts_.now.day);
    take_from_card("opened", Detail::Type::date, day * grounding::milliseconds_per_day);
  }
}

void Binder::take_from_card(std::string_view name, Detail::Type type, double number) {
  const auto declared = names_.find(CardKind::detail, name);
  if (!declared || declared->header->scope) return;
  const auto& declaration = rules_.rules->details[declared->index];
  if (declaration.type != type) return;
  if (type == Detail::Type::quantity && declaration.dimension != units::of(units::Base::distance)) {
    return;
  }
  DetailFact fact;
  fact.kind = DetailFact::Kind::number;
  fact.number = number;
  fact.place = type == Detail::Type::date ? card_.opened_place
                                          : card_.vehicle.odometer_place.value_or(card_.place);
  set_detail(GroundDetail{declared->ground(std::nullopt)}, fact);
}

}  // namespace slipcase::evaluation

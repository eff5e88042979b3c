// What the calculators are asked, from text to values; what cannot be is reported.
#include "slipcase/service.h"

#include <algorithm>
#include <sstream>

#include <fmt/core.h>

#include "api/load_profile.h"
#include "api/messages.h"
#include "api/parts.h"
#include "facts/node_reader.h"
#include "profile/wording.h"
#include "service/code_words.h"
#include "service/fluid_level.h"
#include "service/gear_ratios.h"
#include "service/trouble_codes.h"

namespace slipcase {

namespace {

using facts::Scalar;
using profile::Profile;
using rulebase::MemberId;
using units::Base;
using units::Quantity;

/// The texts of one question. Each becomes a source of its own, named after its option.
class Asked {
 public:
  Asked(SourceSet& sources, Diagnostics& diagnostics)
      : sources_(sources), diagnostics_(diagnostics) {}

  Scalar text(std::string_view option, const std::string& written) {
    const SourceId source = sources_.add(std::string(option), written);
    return {written, {source, 0, static_cast<std::uint32_t>(written.size())}};
  }

  std::optional<Quantity> quantity(const Scalar& scalar, const units::Dimension& dimension) {
    return facts::read_quantity(scalar, dimension, diagnostics_);
  }

  void report(const Message& message, const std::optional<Place>& place, std::string_view text) {
    diagnostics_.add(message, place, text);
  }

 private:
  SourceSet& sources_;
  Diagnostics& diagnostics_;
};

// --- Ratios -------------------------------------------------------------------------------------

class RatioReader {
 public:
  RatioReader(const Profile& unit, Asked& asked) : unit_(unit), asked_(asked) {}

  std::optional<MemberId> gear(const std::optional<std::string>& written) {
    if (!written) return std::nullopt;
    const auto found = unit_.vocabulary.find_member(unit_.gear_scope, *written);
    if (found) return found;
    const auto& gears = unit_.vocabulary.scope(unit_.gear_scope).members;
    asked_.report(api::unknown_gear, asked_.text("--gear", *written).place,
                  fmt::format("`{}` has no gear `{}`{}", unit_.name, *written,
                              profile::near_or_all(*written, gears)));
    return std::nullopt;
  }

  std::optional<double> turbine(const std::optional<std::string>& written) {
    if (!written) return std::nullopt;
    const Scalar text = asked_.text("--turbine", *written);
    const auto speed = asked_.quantity(text, units::of(Base::rotation));
    if (!speed || !is_possible(*speed, text, unit_.turbine_speed)) return std::nullopt;
    if (speed->value >= 0.0) return speed->value;
    asked_.report(api::speed_direction, text.place,
                  "the turbine turns forwards in every gear: its speed is not negative");
    return std::nullopt;
  }

  std::optional<double> output(const std::optional<std::string>& written,
                               const std::optional<MemberId>& gear) {
    if (!written) return std::nullopt;
    const Scalar text = asked_.text("--output", *written);
    const auto speed = asked_.quantity(text, units::of(Base::rotation));
    if (!speed || !is_possible(*speed, text, unit_.output_speed)) return std::nullopt;
    if (!gear || speed->value * unit_.gears[gear->at()].ratio >= 0.0) return speed->value;
    const bool backwards = speed->value > 0.0;
    asked_.report(api::speed_direction, text.place,
                  fmt::format("in gear `{}` the output turns {}: write `{}`",
                              unit_.gears[gear->at()].name, backwards ? "backwards" : "forwards",
                              units::to_text(Quantity{-speed->value, speed->dimension})));
    return std::nullopt;
  }

 private:
  bool is_possible(const Quantity& speed, const Scalar& text,
                   const std::optional<std::string>& reading) {
    const auto* known = reading ? unit_.find_reading(*reading) : nullptr;
    if (known == nullptr) return true;
    const bool possible = std::any_of(
        known->bounds.begin(), known->bounds.end(), [&](const profile::ReadingBounds& bounds) {
          return bounds.lowest_possible <= speed.value && speed.value <= bounds.highest_possible;
        });
    if (!possible) {
      asked_.report(api::speed_impossible, text.place,
                    fmt::format("`{}` is not possible for `{}`", text.text, *reading));
    }
    return possible;
  }

  const Profile& unit_;
  Asked& asked_;
};

// --- Level --------------------------------------------------------------------------------------

class LevelReader {
 public:
  LevelReader(const Profile& unit, Asked& asked) : unit_(unit), asked_(asked) {}

  std::optional<double> temperature(std::string_view option, const std::string& written) {
    const Scalar text = asked_.text(option, written);
    const auto celsius = asked_.quantity(text, units::temperature());
    if (!celsius) return std::nullopt;
    return within(*celsius, text.place, service::lowest_temperature, service::highest_temperature);
  }

  std::vector<double> asked_temperatures(const std::optional<std::string>& written) {
    if (written) {
      const auto celsius = temperature("--at", *written);
      return celsius ? std::vector{*celsius} : std::vector<double>{};
    }
    if (const auto& window = unit_.level_temperature)
      return {window->low, (window->low + window->high) / 2.0, window->high};
    asked_.report(api::fluid_not_described, std::nullopt,
                  fmt::format("the profile of `{}` has no `level_temperature`: give the "
                              "temperature of the level with --at",
                              unit_.name));
    return {};
  }

  std::optional<double> fill(const std::optional<std::string>& written) {
    if (!written) return from_profile(&profile::Fluid::fill, "--fill");
    const Scalar text = asked_.text("--fill", *written);
    const auto volume = asked_.quantity(text, units::of(Base::volume));
    if (!volume || volume->value > 0.0) return volume ? std::optional(volume->value) : std::nullopt;
    asked_.report(api::amount_impossible, text.place, "a fill is more than nothing");
    return std::nullopt;
  }

  std::optional<double> density(const std::optional<std::string>& written) {
    if (!written) {
      const auto known = from_profile(&profile::Fluid::density, "--density");
      if (!known) return std::nullopt;
      return within({*known, units::of(Base::density)}, std::nullopt, service::lowest_density,
                    service::highest_density);
    }
    const Scalar text = asked_.text("--density", *written);
    const auto read = asked_.quantity(text, units::of(Base::density));
    if (!read) return std::nullopt;
    return within(*read, text.place, service::lowest_density, service::highest_density);
  }

 private:
  std::optional<double> from_profile(Quantity profile::Fluid::*member, std::string_view option) {
    if (unit_.fluid) return (*unit_.fluid.*member).value;
    asked_.report(
        api::fluid_not_described, std::nullopt,
        fmt::format("the profile of `{}` has no `fluid`: give it with {}", unit_.name, option));
    return std::nullopt;
  }

  std::optional<double> within(const Quantity& value, const std::optional<Place>& place, double low,
                               double high) {
    if (low <= value.value && value.value <= high) return value.value;
    asked_.report(api::outside_standard, place,
                  fmt::format("{} is outside of what the formula for lubricating oils was made "
                              "for: {} to {}",
                              units::to_text(value), units::to_text({low, value.dimension}),
                              units::to_text({high, value.dimension})));
    return std::nullopt;
  }

  const Profile& unit_;
  Asked& asked_;
};

/// "07 33" in quotes is two words as well.
std::vector<std::string> split_at_blanks(const std::vector<std::string>& words) {
  std::vector<std::string> single;
  for (const std::string& word : words) {
    std::istringstream blanks(word);
    const std::size_t before = single.size();
    for (std::string part; blanks >> part;) single.push_back(part);
    if (single.size() == before) single.push_back(word);  // nothing but blanks: no code
  }
  return single;
}

}  // namespace

UnitLoad load_unit(const RulePaths& paths, std::shared_ptr<SourceSet> sources,
                   Diagnostics& diagnostics) {
  api::ProfileLoad load = api::load_profile(paths, *sources, diagnostics);
  diagnostics.sort();
  if (!load.profile) return {std::max(load.outcome, Loaded::input_errors), std::nullopt};
  auto parts =
      std::make_shared<Unit::Parts>(Unit::Parts{std::move(sources), std::move(*load.profile)});
  return {Loaded::good, Unit(std::move(parts))};
}

std::optional<GearRatios> gear_ratios(const Unit& unit, const RatioQuestion& question,
                                      Diagnostics& diagnostics) {
  const std::size_t errors_before = diagnostics.error_count();
  Asked asked(*unit.parts().sources, diagnostics);
  RatioReader reader(unit.parts().profile, asked);
  const auto gear = reader.gear(question.gear);
  service::Speeds speeds;
  speeds.turbine = reader.turbine(question.turbine);
  speeds.output = reader.output(question.output, gear);
  if (diagnostics.error_count() != errors_before) return std::nullopt;
  return service::gear_ratios(unit.parts().profile, gear, speeds);
}

std::optional<FluidLevel> fluid_level(const Unit& unit, const LevelQuestion& question,
                                      Diagnostics& diagnostics) {
  const Profile& profile = unit.parts().profile;
  Asked asked(*unit.parts().sources, diagnostics);
  LevelReader reader(profile, asked);
  const auto set_at = reader.temperature("--set-at", question.set_at);
  const std::vector<double> at = reader.asked_temperatures(question.at);
  const auto fill = reader.fill(question.fill);
  const auto density = reader.density(question.density);
  if (!set_at || at.empty() || !fill || !density) return std::nullopt;
  FluidLevel level = service::fluid_level(*fill, *density, *set_at, at);
  level.unit = profile.name;
  level.title = profile.title;
  if (const auto& window = profile.level_temperature) {
    level.window_low = window->low;
    level.window_high = window->high;
  }
  return level;
}

std::optional<CodeMeanings> explain_codes(const Unit& unit, const std::vector<std::string>& words,
                                          Diagnostics& diagnostics) {
  Asked asked(*unit.parts().sources, diagnostics);
  const std::size_t errors_before = diagnostics.error_count();
  const std::vector<std::string> single = split_at_blanks(words);
  std::vector<units::TroubleCode> codes;
  for (std::size_t at = 0; at < single.size();) {
    if (const auto code = service::read_code(single, at)) {
      codes.push_back(*code);
      continue;
    }
    asked.report(api::no_code, asked.text("CODE", single[at]).place,
                 fmt::format("`{}` is no trouble code: write a letter P, C, B or U, a digit 0 to 3 "
                             "and three more, like `P0733`, or its two bytes, like `07 33`",
                             single[at]));
    ++at;
  }
  if (diagnostics.error_count() != errors_before) return std::nullopt;
  return service::explain_codes(unit.parts().profile, codes);
}

}  // namespace slipcase

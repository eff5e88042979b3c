// Binder: trouble codes, and which controllers were read.
#include <algorithm>

#include <fmt/core.h>

#include "evaluation/binder.h"
#include "evaluation/messages.h"
#include "support/suggest.h"

namespace slipcase::evaluation {

namespace {

bool holds(const profile::Controller& controller, units::TroubleCode code) {
  return std::ranges::any_of(controller.ranges, [code](const auto& range) {
    return range.first <= code && code <= range.second;
  });
}

}  // namespace

/// The code counts wherever it stands; which controller was read may be a slip.
void Binder::warn_of_other_controller(const facts::Scalar& controller,
                                      const facts::CardCode& code) {
  const auto& controllers = rules_.profile->controllers;
  const auto named = std::ranges::find(controllers, controller.text, &profile::Controller::name);
  const auto holder =
      std::ranges::find_if(controllers, [&](const auto& one) { return holds(one, code.code); });
  if (named == controllers.end() || holder == controllers.end() || holds(*named, code.code)) return;
  diagnostics_.add(code_elsewhere, code.place,
                   fmt::format("`{}` is a code of the controller `{}` and stands under `{}` here: "
                               "was that one read?",
                               code.code.text(), holder->name, controller.text));
}

void Binder::codes() {
  if (!card_.codes) return;
  const auto& profile = *rules_.profile;
  for (const auto& read : *card_.codes) {
    const std::string& name = read.controller ? read.controller->text : profile.own_controller;
    const auto found = std::ranges::find(profile.controllers, name, &profile::Controller::name);
    const bool own = !read.controller || name == profile.own_controller;
    if (found != profile.controllers.end()) {
      facts_.controllers_read[static_cast<std::size_t>(found - profile.controllers.begin())] = true;
    } else if (!own) {
      std::vector<std::string> names;
      for (const auto& controller : profile.controllers) names.push_back(controller.name);
      const std::string meant = did_you_mean(name, names);
      diagnostics_.add(unknown_controller, read.controller->place,
                       fmt::format("`{}` has no controller `{}`{}", profile.name, name,
                                   meant.empty() ? "; it has " + quoted_list(names) : meant));
    }
    facts_.own_controller_read = facts_.own_controller_read || own;
    for (const auto& code : read.codes) {
      facts_.codes.push_back({code.code, code.pending, code.place});
      if (read.controller) warn_of_other_controller(*read.controller, code);
    }
  }
  std::ranges::stable_sort(facts_.codes, {}, [](const CodeFact& fact) { return fact.code; });
}

}  // namespace slipcase::evaluation

// Binder: trouble codes, and which controllers were read.
#include <algorithm>

#include <fmt/core.h>

#include "evaluation/binder.h"
#include "evaluation/messages.h"
#include "support/suggest.h"

namespace slipcase::evaluation {

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
    }
  }
  std::ranges::stable_sort(facts_.codes, {}, [](const CodeFact& fact) { return fact.code; });
}

}  // namespace slipcase::evaluation

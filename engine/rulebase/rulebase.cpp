#include "rulebase/rulebase.h"

#include <algorithm>

namespace slipcase::rulebase {

std::optional<Entity> Rulebase::find(std::string_view name) const {
  const auto found =
      std::lower_bound(names.begin(), names.end(), name,
                       [](const NamedEntity& entry, std::string_view n) { return entry.name < n; });
  if (found == names.end() || found->name != name) return std::nullopt;
  return found->entity;
}

}  // namespace slipcase::rulebase

// What work costs the shop: the profile's figures, and a file of the shop's own over them.
#include "api/parts.h"
#include "api/reading.h"
#include "profile/read_costs.h"
#include "slipcase/next.h"

namespace slipcase {

namespace {

void lay_over(const profile::WorkCosts& over, ShopCosts& costs) {
  if (over.labour_rate) costs.labour_rate = *over.labour_rate;
  if (over.currency) costs.currency = *over.currency;
  if (over.comeback_minutes) costs.comeback_minutes = *over.comeback_minutes;
  if (over.unsolved_minutes) costs.unsolved_minutes = *over.unsolved_minutes;
}

}  // namespace

ShopCosts costs_of_profile(const Knowledge& knowledge) {
  ShopCosts costs;
  lay_over(knowledge.parts().profile->costs, costs);
  return costs;
}

CostsLoad load_costs(const std::filesystem::path& path, const Knowledge& knowledge,
                     Diagnostics& diagnostics) {
  auto text = read_file(path, api::most_profile_bytes);
  if (const auto* failure = std::get_if<FileFailure>(&text))
    return {api::report(*failure, diagnostics), std::nullopt};
  SourceSet& sources = *knowledge.parts().sources;
  const SourceId source = sources.add(path.string(), std::move(std::get<std::string>(text)));
  const auto own = profile::read_costs_file(sources, source, diagnostics);
  if (!own) return {};
  ShopCosts costs = costs_of_profile(knowledge);
  lay_over(*own, costs);
  return {Loaded::good, costs};
}

}  // namespace slipcase

#include "api/load_profile.h"

#include "api/messages.h"
#include "api/reading.h"
#include "profile/read_profile.h"

namespace slipcase::api {

ProfileText load_profile_text(const RulePaths& paths, SourceSet& sources,
                              Diagnostics& diagnostics) {
  if (!paths.profile && !paths.shipped) {
    diagnostics.add(no_profile, std::nullopt,
                    "rules need a unit profile: give one with --profile, or a folder that holds "
                    "profile.yaml");
    return {};
  }
  const std::filesystem::path path =
      paths.profile ? *paths.profile : *paths.shipped / "profile.yaml";
  auto text = read_file(path, most_profile_bytes);
  if (const auto* failure = std::get_if<FileFailure>(&text))
    return {report(*failure, diagnostics), std::nullopt};
  return {Loaded::good, sources.add(path.string(), std::move(std::get<std::string>(text)),
                                    paths.profile ? Origin::own : Origin::shipped)};
}

ProfileLoad load_profile(const RulePaths& paths, SourceSet& sources, Diagnostics& diagnostics) {
  const ProfileText text = load_profile_text(paths, sources, diagnostics);
  if (!text.source) return {text.outcome, std::nullopt};
  return {text.outcome, profile::read_profile(sources, *text.source, diagnostics)};
}

}  // namespace slipcase::api

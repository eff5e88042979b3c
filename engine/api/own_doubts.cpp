#include "api/own_doubts.h"

#include <algorithm>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "grounding/ground.h"
#include "model/rule_network.h"
#include "rulebase/resolve.h"

namespace slipcase::api {

namespace {

using language::Declaration;
using language::DeclarationKind;
using language::File;

/// Each takes a check of all rules; a layer has a few dozen at most.
constexpr std::size_t most_left_out = 60;

/// The same doubt may tell other numbers.
using Doubt = std::pair<std::string_view, Place>;

/// Nothing where the rules cannot be read like that.
std::optional<std::set<Doubt>> doubts_of(std::span<const File> files,
                                         const std::shared_ptr<const profile::Profile>& unit) {
  Diagnostics found;
  auto rules = rulebase::resolve(files, unit->vocabulary, found);
  if (!rules) return std::nullopt;
  rulebase::check_meaning(*rules, found);
  const auto shared = std::make_shared<const rulebase::Rulebase>(std::move(*rules));
  auto ground = grounding::ground(shared, unit, found);
  if (!ground) return std::nullopt;
  (void)model::build_network(std::make_shared<const grounding::GroundRules>(std::move(*ground)),
                             found);
  std::set<Doubt> doubts;
  for (const Diagnostic& message : found.list()) {
    if (message.place) doubts.emplace(message.name, *message.place);
  }
  return doubts;
}

std::string_view word_for(DeclarationKind kind) {
  if (kind == DeclarationKind::extend) return "extend ";
  if (kind == DeclarationKind::revise) return "revise ";
  if (kind == DeclarationKind::remove) return "remove ";
  return "";
}

struct LeftOut {
  std::string name;  // "revise fluid_low"
  Place place;
  std::set<Doubt> doubts;  // that stay without it
};

/// What stays when each declaration of the layer in turn is not there.
std::vector<LeftOut> leave_out_each(std::vector<File> files,
                                    const std::shared_ptr<const profile::Profile>& unit) {
  std::vector<LeftOut> tried;
  for (File& file : files) {
    if (file.origin == Origin::shipped) continue;
    for (std::size_t i = 0; i < file.declarations.size() && tried.size() < most_left_out; ++i) {
      if (file.declarations[i].kind == DeclarationKind::trial) continue;
      Declaration out = std::move(file.declarations[i]);
      file.declarations.erase(file.declarations.begin() + static_cast<std::ptrdiff_t>(i));
      if (auto doubts = doubts_of(files, unit)) {
        tried.push_back(
            {std::string(word_for(out.kind)) + out.name.text, out.place, std::move(*doubts)});
      }
      file.declarations.insert(file.declarations.begin() + static_cast<std::ptrdiff_t>(i),
                               std::move(out));
    }
  }
  return tried;
}

class Teller {
 public:
  Teller(std::span<const File> files, const std::shared_ptr<const profile::Profile>& unit,
         const SourceSet& sources)
      : files_(files), unit_(unit), sources_(sources) {}

  Diagnostics tell(const Diagnostics& found) {
    for (const Diagnostic& message : found.list())
      if (!is_about_shipped(message)) keep(message, {});
    if (told_.list().size() == found.list().size()) return std::move(told_);
    const std::set<Doubt> alone = without_the_layer();
    for (const Diagnostic& message : found.list()) {
      if (!is_about_shipped(message)) continue;
      if (alone.contains({message.name, *message.place})) {
        keep(message, {});
      } else {
        blame(message);
      }
    }
    return std::move(told_);
  }

 private:
  [[nodiscard]] bool is_about_shipped(const Diagnostic& message) const {
    return message.place && sources_.origin(message.place->source) == Origin::shipped;
  }

  Diagnostic& keep(const Diagnostic& message, std::string_view more) {
    Diagnostic& kept = told_.add({message.name, message.severity}, message.place,
                                 message.text + std::string(more));
    kept.notes = message.notes;
    return kept;
  }

  [[nodiscard]] std::set<Doubt> without_the_layer() const {
    std::vector<File> shipped;
    for (const File& file : files_) {
      if (file.origin == Origin::shipped) shipped.push_back(file);
    }
    return doubts_of(shipped, unit_).value_or(std::set<Doubt>{});
  }

  void blame(const Diagnostic& message) {
    if (!layer_) layer_ = leave_out_each({files_.begin(), files_.end()}, unit_);
    Diagnostic& kept = keep(message, "; this comes of your own rules");
    for (const LeftOut& without : *layer_) {
      if (!without.doubts.contains({message.name, *message.place}))
        kept.notes.push_back({without.place, fmt::format("because of `{}`", without.name)});
    }
  }

  std::span<const File> files_;
  const std::shared_ptr<const profile::Profile>& unit_;
  const SourceSet& sources_;
  Diagnostics told_;
  std::optional<std::vector<LeftOut>> layer_;
};

}  // namespace

Diagnostics tell_own_doubts(std::span<const File> files,
                            const std::shared_ptr<const profile::Profile>& unit,
                            const SourceSet& sources, const Diagnostics& found) {
  return Teller(files, unit, sources).tell(found);
}

}  // namespace slipcase::api

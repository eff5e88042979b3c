#include "profile/build_codes.h"

#include <algorithm>
#include <map>

#include <fmt/core.h>

#include "profile/messages.h"
#include "profile/wording.h"

namespace slipcase::profile {

namespace {

using units::TroubleCode;

struct OwnedRange {
  CodeRange range;
  const Scalar* controller = nullptr;
};

void check_overlaps(std::vector<OwnedRange> ranges, Diagnostics& diagnostics) {
  std::stable_sort(ranges.begin(), ranges.end(), [](const OwnedRange& a, const OwnedRange& b) {
    return a.range.first < b.range.first;
  });
  const OwnedRange* furthest = nullptr;  // of those before: one range may reach over several
  for (const OwnedRange& one : ranges) {
    if (furthest != nullptr && one.range.first <= furthest->range.last) {
      diagnostics
          .add(controllers_overlap, one.range.place,
               fmt::format("`{}` is with `{}` already; a code lies with one controller",
                           one.range.first.text(), furthest->controller->text))
          .notes.push_back({furthest->range.place, "it is listed here"});
    }
    if (furthest == nullptr || one.range.last > furthest->range.last) furthest = &one;
  }
}

bool lies_with_one(const CodeRange& range, const std::vector<Controller>& controllers) {
  return std::any_of(controllers.begin(), controllers.end(), [&](const Controller& controller) {
    return std::any_of(controller.ranges.begin(), controller.ranges.end(), [&](const auto& held) {
      return held.first <= range.first && range.last <= held.second;
    });
  });
}

class FamilyBuilder {
 public:
  /// Without `controllers` nothing is said about codes that none of them holds.
  FamilyBuilder(const std::vector<Controller>* controllers, Diagnostics& diagnostics)
      : controllers_(controllers), diagnostics_(diagnostics) {}

  std::vector<TroubleCode> codes(const std::vector<CodeRange>& ranges) {
    std::vector<TroubleCode> all;
    for (const CodeRange& range : ranges) {
      if (controllers_ != nullptr && !lies_with_one(range, *controllers_)) {
        diagnostics_.add(code_without_controller, range.place,
                         fmt::format("no controller holds `{}`; add it to one of the "
                                     "`controllers`, or nobody could say that it is absent",
                                     range.first.text()));
      }
      for (std::uint32_t bits = range.first.bits(); bits <= range.last.bits(); ++bits) {
        add(TroubleCode::from_bits(static_cast<std::uint16_t>(bits)), range.place, all);
      }
    }
    return all;
  }

 private:
  void add(TroubleCode code, const Place& place, std::vector<TroubleCode>& all) {
    const auto [known, is_new] = seen_.try_emplace(code, place);
    if (is_new) {
      all.push_back(code);
      return;
    }
    // A range that runs into another is said once.
    if (known->second == place) return;
    diagnostics_
        .add(code_twice, place, fmt::format("`{}` is here for the second time", code.text()))
        .notes.push_back({known->second, "first here"});
    known->second = place;
  }

  const std::vector<Controller>* controllers_;
  Diagnostics& diagnostics_;
  std::map<TroubleCode, Place> seen_;
};

}  // namespace

std::vector<Controller> build_controllers(const std::vector<ControllerDraft>& drafts,
                                          const std::optional<Scalar>& own_controller,
                                          Diagnostics& diagnostics) {
  std::vector<Controller> controllers;
  std::vector<OwnedRange> ranges;
  std::vector<std::string> names;
  for (const ControllerDraft& draft : drafts) {
    Controller controller{draft.name.text, {}};
    names.push_back(draft.name.text);
    for (const CodeRange& range : draft.ranges) {
      controller.ranges.emplace_back(range.first, range.last);
      ranges.push_back({range, &draft.name});
    }
    controllers.push_back(std::move(controller));
  }
  check_overlaps(std::move(ranges), diagnostics);
  if (own_controller &&
      std::find(names.begin(), names.end(), own_controller->text) == names.end()) {
    diagnostics.add(unknown_controller, own_controller->place,
                    fmt::format("`{}` is not among the `controllers`{}", own_controller->text,
                                near_or_all(own_controller->text, names)));
  }
  return controllers;
}

std::vector<CodeMap> build_code_maps(const ProfileDraft& draft,
                                     const std::vector<Controller>& controllers,
                                     VocabularyBuilder& vocabulary) {
  std::vector<CodeMap> maps;
  for (const CodeFamilyDraft& family : draft.codes) {
    CodeMap map{family.name.text, std::nullopt, {}};
    FamilyBuilder builder(draft.complete.controllers ? &controllers : nullptr,
                          vocabulary.diagnostics());
    if (family.scope) {
      map.scope = vocabulary.scope(*family.scope);
      if (!map.scope) continue;
      map.codes.resize(vocabulary.vocabulary().member_count(map.scope));
      for (const auto& [name, ranges] : family.each) {
        const std::optional<MemberId> member = vocabulary.member(*map.scope, name);
        std::vector<TroubleCode> codes = builder.codes(ranges);
        if (member) map.codes[member->at()] = std::move(codes);
      }
    } else {
      map.codes.push_back(builder.codes(family.codes));
    }
    vocabulary.add_code_family(family.name, map.scope);
    maps.push_back(std::move(map));
  }
  return maps;
}

std::map<TroubleCode, std::string> build_code_texts(const std::vector<CodeTextsDraft>& drafts,
                                                    Diagnostics& diagnostics) {
  std::map<TroubleCode, std::string> texts;
  std::map<TroubleCode, Place> seen;
  for (const CodeTextsDraft& draft : drafts) {
    for (std::uint32_t bits = draft.range.first.bits(); bits <= draft.range.last.bits(); ++bits) {
      const TroubleCode code = TroubleCode::from_bits(static_cast<std::uint16_t>(bits));
      const std::size_t at = draft.texts.size() == 1 ? 0 : bits - draft.range.first.bits();
      const auto [known, is_new] = seen.try_emplace(code, draft.range.place);
      if (is_new) {
        texts.emplace(code, draft.texts[at]);
        continue;
      }
      diagnostics
          .add(code_twice, draft.range.place, fmt::format("`{}` has a text already", code.text()))
          .notes.push_back({known->second, "first here"});
      break;  // a range that runs into another is said once
    }
  }
  return texts;
}

}  // namespace slipcase::profile

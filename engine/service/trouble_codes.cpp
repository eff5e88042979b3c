#include "service/trouble_codes.h"

#include <algorithm>
#include <cstddef>

#include "service/code_words.h"

namespace slipcase::service {

namespace {

using profile::CodeMap;
using profile::Gear;
using profile::Profile;
using profile::Shift;
using rulebase::MemberId;
using rulebase::ScopeId;
using units::TroubleCode;

using Names = std::vector<std::string>;

Names element_names(const Profile& unit, const std::vector<MemberId>& elements) {
  Names names;
  for (const MemberId element : elements)
    names.push_back(unit.vocabulary.scope(unit.element_scope).members[element.at()]);
  return names;
}

bool uses(const Gear& gear, MemberId element) {
  return std::find(gear.elements.begin(), gear.elements.end(), element) != gear.elements.end();
}

Names gears_using(const Profile& unit, const std::vector<MemberId>& elements) {
  Names gears;
  for (const Gear& gear : unit.gears) {
    const bool any = std::any_of(elements.begin(), elements.end(),
                                 [&](MemberId element) { return uses(gear, element); });
    if (any) gears.push_back(gear.name);
  }
  return gears;
}

/// The word for what is not so ("not feeding"): it holds wherever an earlier one does not.
bool is_negative(const std::vector<rulebase::Relation>& relations, std::size_t at) {
  const auto opposite = [](std::vector<std::vector<bool>> holds) {
    for (std::vector<bool>& row : holds) row.flip();
    return holds;
  };
  return std::any_of(relations.begin(), relations.begin() + static_cast<std::ptrdiff_t>(at),
                     [&](const rulebase::Relation& earlier) {
                       return earlier.subject == relations[at].subject &&
                              earlier.object == relations[at].object &&
                              earlier.holds == opposite(relations[at].holds);
                     });
}

/// By the relations that the profile lists: the element that a regulator feeds.
std::vector<MemberId> elements_of(const Profile& unit, ScopeId scope, MemberId member) {
  std::vector<bool> related(unit.vocabulary.member_count(unit.element_scope), false);
  const std::vector<rulebase::Relation>& relations = unit.vocabulary.relations;
  for (std::size_t at = 0; at < relations.size(); ++at) {
    const rulebase::Relation& relation = relations[at];
    if (relation.subject != scope || relation.object != unit.element_scope) continue;
    if (is_negative(relations, at)) continue;
    const std::vector<bool>& holds = relation.holds[member.at()];
    for (std::size_t i = 0; i < holds.size(); ++i) related[i] = related[i] || holds[i];
  }
  std::vector<MemberId> elements;
  for (std::uint32_t i = 0; i < related.size(); ++i) {
    if (related[i]) elements.push_back({i});
  }
  return elements;
}

CodePart part_of(const Profile& unit, const CodeMap& map, MemberId member) {
  CodePart part;
  part.family = map.family;
  if (!map.scope) return part;
  part.scope = unit.vocabulary.scope(*map.scope).name;
  part.member = unit.vocabulary.scope(*map.scope).members[member.at()];
  if (*map.scope == unit.gear_scope) {
    part.elements = element_names(unit, unit.gears[member.at()].elements);
  } else if (*map.scope == unit.shift_scope) {
    const Shift& shift = unit.shifts[member.at()];
    part.elements = element_names(unit, shift.holds);
    part.applies = element_names(unit, shift.applies);
    part.releases = element_names(unit, shift.releases);
  } else {
    const std::vector<MemberId> elements = *map.scope == unit.element_scope
                                               ? std::vector<MemberId>{member}
                                               : elements_of(unit, *map.scope, member);
    part.elements = element_names(unit, elements);
    part.gears = gears_using(unit, elements);
  }
  return part;
}

std::vector<CodePart> parts_of(const Profile& unit, TroubleCode code) {
  std::vector<CodePart> parts;
  for (const CodeMap& map : unit.code_maps) {
    for (std::uint32_t member = 0; member < map.codes.size(); ++member) {
      const std::vector<TroubleCode>& codes = map.codes[member];
      if (std::find(codes.begin(), codes.end(), code) != codes.end())
        parts.push_back(part_of(unit, map, {member}));
    }
  }
  return parts;
}

std::string controller_of(const Profile& unit, TroubleCode code) {
  for (const profile::Controller& controller : unit.controllers) {
    for (const auto& [first, last] : controller.ranges) {
      if (first <= code && code <= last) return controller.name;
    }
  }
  return {};
}

/// A capital letter that stands alone, as in "shift solenoid B".
bool has_letter(std::string_view text) {
  for (std::size_t at = 1; at < text.size(); ++at) {
    const bool letter = text[at] >= 'A' && text[at] <= 'Z';
    const bool ends = at + 1 == text.size() || text[at + 1] == ':' || text[at + 1] == ' ';
    if (letter && ends && text[at - 1] == ' ') return true;
  }
  return false;
}

CodeAuthor author_of(TroubleCode code) {
  switch (units::authority(code)) {
    case units::CodeAuthority::standard:
      return CodeAuthor::standard;
    case units::CodeAuthority::manufacturer:
      return CodeAuthor::manufacturer;
    case units::CodeAuthority::reserved:
      return CodeAuthor::reserved;
  }
  return CodeAuthor::reserved;
}

CodeMeaning meaning_of(const Profile& unit, TroubleCode code) {
  CodeMeaning meaning;
  meaning.code = code.text();
  meaning.bytes = in_bytes(code);
  meaning.system = system_of(code);
  meaning.group = group_of(code);
  meaning.author = author_of(code);
  if (const auto text = unit.code_texts.find(code); text != unit.code_texts.end())
    meaning.text = text->second;
  meaning.controller = controller_of(unit, code);
  meaning.parts = parts_of(unit, code);
  meaning.letter_open = meaning.parts.empty() && has_letter(meaning.text);
  return meaning;
}

/// A fault that shows in several gears is in what they share.
void find_common(CodeMeanings& all, std::string_view gear_scope) {
  const CodePart* first = nullptr;
  for (const CodeMeaning& code : all.codes) {
    for (const CodePart& part : code.parts) {
      if (part.scope != gear_scope) continue;
      if (first == nullptr) {
        first = &part;
        all.common_elements = part.elements;
      }
      if (part.family != first->family) continue;
      const bool known = std::find(all.common_gears.begin(), all.common_gears.end(), part.member) !=
                         all.common_gears.end();
      if (!known) all.common_gears.push_back(part.member);
      std::erase_if(all.common_elements, [&part](const std::string& element) {
        return std::find(part.elements.begin(), part.elements.end(), element) ==
               part.elements.end();
      });
    }
  }
  if (all.common_gears.size() > 1) return;
  all.common_gears.clear();
  all.common_elements.clear();
}

}  // namespace

CodeMeanings explain_codes(const Profile& unit, const std::vector<TroubleCode>& codes) {
  CodeMeanings all;
  all.unit = unit.name;
  all.title = unit.title;
  for (const TroubleCode code : codes) all.codes.push_back(meaning_of(unit, code));
  find_common(all, unit.vocabulary.scope(unit.gear_scope).name);
  // Common practice, no source: what clearing deletes and nothing brings back.
  all.save_first = {
      "every code of every controller, and whether it is stored or pending",
      "the freeze frame of each: fluid temperature, odometer and date, which a job card takes, and "
      "gear, speed, load and voltage, behind a # on the card or on paper",
      "the learned values of all elements",
  };
  return all;
}

}  // namespace slipcase::service

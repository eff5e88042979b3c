// Walking the lines of one merged declaration.
#pragma once

#include <algorithm>
#include <vector>

#include "rulebase/context.h"

namespace slipcase::rulebase {

/// Calls `visit(body, line)` for every line of this kind.
template <class Body, class Visit>
void for_each_line(Context& context, const MergedDeclaration& declaration, Visit visit) {
  for (const MergedClause& line : declaration.clauses) {
    const auto* body = std::get_if<Body>(&line.clause->body);
    if (body == nullptr) continue;
    context.enter(line.origin, line.clause->place);
    visit(*body, line);
  }
}

/// The only line of this kind, or the first of several.
template <class Body>
[[nodiscard]] const Body* find_line(const MergedDeclaration& declaration) {
  for (const MergedClause& line : declaration.clauses) {
    if (const auto* body = std::get_if<Body>(&line.clause->body)) return body;
  }
  return nullptr;
}

/// The members a line is to be written down for. A line that was revised or taken out for some
/// members holds for each of the others by itself.
[[nodiscard]] inline std::vector<OnlyFor> holds_for(const Context& context,
                                                    const MergedDeclaration& declaration,
                                                    const MergedClause& line) {
  if (line.not_for.empty() && line.removed_for.empty()) return {line.only_for};
  const auto has = [](const std::vector<MemberId>& list, MemberId member) {
    return std::find(list.begin(), list.end(), member) != list.end();
  };
  std::vector<OnlyFor> members;
  const auto count = static_cast<std::uint32_t>(context.unit.member_count(declaration.scope));
  for (std::uint32_t i = 0; i < count; ++i) {
    const MemberId member{i};
    if (!has(line.not_for, member) && !has(line.removed_for, member)) members.push_back(member);
  }
  return members;
}

}  // namespace slipcase::rulebase

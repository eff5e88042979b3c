// Marks and relations that follow from chart and gear train, and those that the profile lists.
#pragma once

#include <vector>

#include "profile/build_shifts.h"

namespace slipcase::profile {

struct CoreScopes {
  ScopeId element;
  ScopeId gear;
  ScopeId shift;
};

void add_computed_marks(const ProfileDraft& draft, const Chart& chart, const Shifts& shifts,
                        const CoreScopes& scopes, VocabularyBuilder& vocabulary);
void add_computed_relations(const Chart& chart, const Shifts& shifts, const CoreScopes& scopes,
                            VocabularyBuilder& vocabulary);

void add_listed_marks(const std::vector<MarkDraft>& marks, VocabularyBuilder& vocabulary);
void add_listed_relations(const std::vector<RelationDraft>& relations,
                          VocabularyBuilder& vocabulary);

}  // namespace slipcase::profile

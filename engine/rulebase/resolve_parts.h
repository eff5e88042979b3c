// Second pass: the lines of each kind of declaration.
#pragma once

#include "rulebase/context.h"

namespace slipcase::rulebase {

void resolve_detail(Context& context, const MergedDeclaration& declaration, DetailId id);
void resolve_reading(Context& context, const MergedDeclaration& declaration, ReadingId id);
/// Also the `counts as` lines of a check or repair.
void resolve_event(Context& context, const MergedDeclaration& declaration, EventId id);
void resolve_finding(Context& context, const MergedDeclaration& declaration, FindingId id);
void resolve_at_most_one(Context& context, const MergedDeclaration& declaration);
void resolve_inside(Context& context, const MergedDeclaration& declaration, InsideId id);
void resolve_cause(Context& context, const MergedDeclaration& declaration, CauseId id);
void resolve_distrust(Context& context, const MergedDeclaration& declaration, DistrustId id);
void resolve_check(Context& context, const MergedDeclaration& declaration, CheckId id);
void resolve_access(Context& context, const MergedDeclaration& declaration, AccessId id);
void resolve_repair(Context& context, const MergedDeclaration& declaration, RepairId id);
/// The `caution` lines of a finding or of work.
void resolve_cautions(Context& context, const MergedDeclaration& declaration,
                      std::vector<CautionId>& cautions);
void resolve_caution(Context& context, const MergedDeclaration& declaration, CautionId id);
void resolve_trial(Context& context, const MergedDeclaration& declaration);
void check_trial_names(Context& context, const Merged& merged);

}  // namespace slipcase::rulebase

#include "profile/build_readings.h"

#include <algorithm>

#include <fmt/core.h>

#include "profile/messages.h"

namespace slipcase::profile {

namespace {

/// The bounds of one member: the reading's own, each replaced where the member has another.
BoundsDraft merged(BoundsDraft bounds, const BoundsDraft& over) {
  if (over.possible) bounds.possible = over.possible;
  if (over.limits) bounds.limits = over.limits;
  if (over.watch) bounds.watch = over.watch;
  if (over.scatter) bounds.scatter = over.scatter;
  return bounds;
}

bool is_within(const RangeDraft& inner, const RangeDraft& outer) {
  return inner.low >= outer.low && inner.high <= outer.high;
}

class BoundsBuilder {
 public:
  BoundsBuilder(const ReadingDraft& reading, Diagnostics& diagnostics)
      : reading_(reading), diagnostics_(diagnostics) {}

  /// `whose`: "`fill_pressure` of `B2`".
  ReadingBounds build(const BoundsDraft& draft, const std::string& whose) {
    ReadingBounds bounds;
    if (!draft.possible || !draft.scatter) {
      diagnostics_.add(bounds_missing, reading_.name.place,
                       fmt::format("{} needs `possible` and `scatter`", whose));
      return bounds;
    }
    check(draft, whose);
    bounds.lowest_possible = draft.possible->low;
    bounds.highest_possible = draft.possible->high;
    bounds.scatter = draft.scatter->value;
    if (draft.limits) {
      bounds.low_limit = draft.limits->low;
      bounds.high_limit = draft.limits->high;
    }
    if (draft.watch) {
      bounds.low_watch = draft.watch->low;
      bounds.high_watch = draft.watch->high;
    }
    return bounds;
  }

 private:
  void check(const BoundsDraft& draft, const std::string& whose) {
    for (const auto* range : {&draft.possible, &draft.limits, &draft.watch}) {
      if (*range && (*range)->low >= (*range)->high) {
        diagnostics_.add(range_reversed, (*range)->place,
                         "the first of the two must be the lower one");
        return;
      }
    }
    check_scatter(*draft.scatter, *draft.possible, whose);
    if (draft.limits) {
      check_zero(*draft.limits, *draft.possible, "limits");
      if (!is_within(*draft.limits, *draft.possible)) {
        diagnostics_.add(limit_outside_possible, draft.limits->place,
                         fmt::format("a limit of {} lies outside of what is possible, "
                                     "so it could never be reached",
                                     whose));
      }
    }
    if (!draft.watch) return;
    check_zero(*draft.watch, *draft.possible, "watch");
    if (is_within(*draft.watch, draft.limits.value_or(*draft.possible))) return;
    diagnostics_.add(
        watch_beyond_limit, draft.watch->place,
        fmt::format("a watch line of {} lies beyond its limit: it would warn too late", whose));
  }

  void check_scatter(const Number& scatter, const RangeDraft& possible, const std::string& whose) {
    if (scatter.value < 0.0) {
      diagnostics_.add(impossible_number, scatter.place,
                       fmt::format("the scatter of {} cannot be negative", whose));
    } else if (scatter.value > possible.high - possible.low) {
      diagnostics_.add(
          impossible_number, scatter.place,
          fmt::format("the scatter of {} is larger than the whole possible range", whose));
    }
  }

  /// Values are taken as shares of the limit on their side of zero, so zero must be between the
  /// two.
  void check_zero(const RangeDraft& range, const RangeDraft& possible, std::string_view what) {
    const bool low_fits = range.low < 0.0 || (range.low == 0.0 && possible.low >= 0.0);
    const bool high_fits = range.high > 0.0 || (range.high == 0.0 && possible.high <= 0.0);
    if (low_fits && high_fits) return;
    diagnostics_.add(zero_outside, range.place,
                     fmt::format("zero must lie between the two values of `{}` (at the lower one "
                                 "only where nothing below zero is possible)",
                                 what));
  }

  const ReadingDraft& reading_;
  Diagnostics& diagnostics_;
};

std::vector<BoundsDraft> per_member(const ReadingDraft& draft, ScopeId scope,
                                    VocabularyBuilder& vocabulary) {
  std::vector<BoundsDraft> bounds(vocabulary.vocabulary().member_count(scope), draft.all);
  for (const auto& [name, other] : draft.except) {
    const std::optional<MemberId> member = vocabulary.member(scope, name);
    if (member) bounds[member->at()] = merged(draft.all, other);
  }
  return bounds;
}

ReadingProfile build_reading(const ReadingDraft& draft, VocabularyBuilder& vocabulary) {
  vocabulary.take(draft.name, WordKind::reading);
  ReadingProfile reading{draft.name.text, draft.dimension, std::nullopt, {}};
  BoundsBuilder builder(draft, vocabulary.diagnostics());
  if (!draft.scope) {
    reading.bounds.push_back(builder.build(draft.all, fmt::format("`{}`", draft.name.text)));
    return reading;
  }
  reading.scope = vocabulary.scope(*draft.scope);
  if (!reading.scope) return reading;
  const rulebase::Scope& scope = vocabulary.vocabulary().scope(*reading.scope);
  const std::vector<BoundsDraft> bounds = per_member(draft, *reading.scope, vocabulary);
  for (std::size_t member = 0; member < bounds.size(); ++member) {
    const std::size_t errors_before = vocabulary.diagnostics().error_count();
    reading.bounds.push_back(builder.build(
        bounds[member], fmt::format("`{}` of `{}`", draft.name.text, scope.members[member])));
    // What is wrong with the common bounds would be said again for every member.
    if (vocabulary.diagnostics().error_count() != errors_before) break;
  }
  return reading;
}

}  // namespace

std::vector<ReadingProfile> build_readings(const std::vector<ReadingDraft>& drafts,
                                           VocabularyBuilder& vocabulary) {
  std::vector<ReadingProfile> readings;
  for (const ReadingDraft& draft : drafts) readings.push_back(build_reading(draft, vocabulary));
  return readings;
}

std::optional<std::string> speed_reading_name(const std::optional<Scalar>& name,
                                              const std::vector<ReadingProfile>& readings,
                                              ScopeId gear_scope, Diagnostics& diagnostics) {
  if (!name) return std::nullopt;
  const auto found = std::find_if(readings.begin(), readings.end(), [&](const ReadingProfile& one) {
    return one.reading == name->text;
  });
  const bool fits = found != readings.end() && found->scope == gear_scope &&
                    found->dimension == units::of(units::Base::rotation);
  if (!fits) {
    diagnostics.add(speed_reading, name->place,
                    fmt::format("`{}` must be one of the `readings`, `of: gear` and measured as "
                                "`rotation`",
                                name->text));
  }
  return name->text;
}

}  // namespace slipcase::profile

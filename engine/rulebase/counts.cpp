#include "rulebase/counts.h"

#include <algorithm>

#include <fmt/core.h>

#include "rulebase/messages.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

std::optional<units::Count> make_count(Context& context, const language::Whole& hits,
                                       const language::Whole& total) {
  const auto count = units::Count::from(hits.value, total.value);
  if (count) return count;
  if (total.value == 0) {
    context.error(impossible_count, total.place,
                  "nothing can be counted among 0; write how many there were, as in `8 of 10`");
  } else if (hits.value > total.value) {
    context.error(impossible_count, hits.place,
                  fmt::format("{0} of {1} cannot be: {0} are more than the {1} that were counted",
                              hits.value, total.value));
  } else {
    context.error(
        impossible_count, total.place,
        fmt::format("{} is more than can be counted here; the largest is 10^18", total.value));
  }
  return std::nullopt;
}

bool check_together(Context& context, bool together, bool several, const Place& place) {
  if (!together || several) return true;
  context.error(
      together_alone, place,
      "`together` needs several that are counted as one; there is only one here, leave it "
      "out");
  return false;
}

std::vector<std::string> names_of(const std::vector<GradeLine>& grades) {
  std::vector<std::string> names;
  for (const GradeLine& grade : grades) names.push_back(grade.name);
  return names;
}

struct Part {
  const language::GradeHits* hits;
  std::uint32_t grade;  // 1 the weakest
};

// The reader of the text has said so already: "raised in 5, high in 3" is wrong in any order of
// grades.
bool or_more_was_missed(const language::GradedCount& count) {
  return std::any_of(count.parts.begin(), count.parts.end(), [&](const language::GradeHits& part) {
    return &part != &count.parts.back() && part.grade && !part.or_more;
  });
}

bool check_order(Context& context, const std::vector<Part>& parts,
                 const std::vector<GradeLine>& grades) {
  bool good = true;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Part& part = parts[i];
    const bool strongest = part.grade == grades.size();
    if (strongest && part.hits->or_more) {
      context.error(grade_or_more, part.hits->grade->place,
                    fmt::format("`{0}` is the strongest: write `{0} in {1}` without `or more`",
                                part.hits->grade->text, part.hits->hits.value));
      good = false;
    }
    if (!strongest && !part.hits->or_more) {
      context.error(grade_or_more, part.hits->grade->place,
                    fmt::format("write `{} or more`: stronger grades are counted in",
                                part.hits->grade->text));
      good = false;
    } else if (i > 0 && part.hits->hits.value > parts[i - 1].hits->hits.value) {
      context.error(stronger_is_larger, part.hits->hits.place,
                    fmt::format("`{}` in {} is more than `{} or more` in {}, which counts it in",
                                part.hits->grade->text, part.hits->hits.value,
                                parts[i - 1].hits->grade->text, parts[i - 1].hits->hits.value));
      good = false;
    }
  }
  return good;
}

std::optional<std::vector<Part>> resolve_parts(Context& context, const language::GradedCount& count,
                                               const std::vector<GradeLine>& grades,
                                               std::string_view thing) {
  std::vector<Part> parts;
  for (const language::GradeHits& hits : count.parts) {
    const auto grade = resolve_grade(context, *hits.grade, grades, thing);
    if (!grade) return std::nullopt;
    const bool again = std::any_of(parts.begin(), parts.end(),
                                   [&](const Part& part) { return part.grade == *grade; });
    if (again) {
      context.error(named_twice, hits.grade->place,
                    fmt::format("`{}` has a count already", hits.grade->text));
      return std::nullopt;
    }
    parts.push_back({&hits, *grade});
  }
  std::stable_sort(parts.begin(), parts.end(),
                   [](const Part& a, const Part& b) { return a.grade < b.grade; });
  return parts;
}

}  // namespace

std::optional<units::Count> resolve_count(Context& context, const language::CountPhrase& phrase) {
  return make_count(context, phrase.hits, phrase.total);
}

std::optional<CountLine> resolve_count_line(Context& context, const language::CountPhrase& phrase,
                                            bool several) {
  const auto count = resolve_count(context, phrase);
  if (!count || !check_together(context, phrase.together, several, phrase.place)) {
    return std::nullopt;
  }
  return CountLine{*count, phrase.together, phrase.place};
}

std::optional<GradedLine> resolve_graded(Context& context, const language::GradedCount& count,
                                         const std::vector<GradeLine>& grades,
                                         std::string_view thing, bool several) {
  if (!check_together(context, count.together, several, count.place)) return std::nullopt;
  GradedLine line;
  line.together = count.together;
  line.place = count.place;
  line.at_least.resize(std::max<std::size_t>(1, grades.size()));
  const bool bare = count.parts.size() == 1 && !count.parts.front().grade;
  if (bare) {
    line.at_least.front() = make_count(context, count.parts.front().hits, count.total);
    if (!line.at_least.front()) return std::nullopt;
    return line;
  }
  for (const language::GradeHits& hits : count.parts) {
    if (hits.grade) continue;
    context.error(unknown_grade, hits.hits.place,
                  "each of several counts needs its grade before it");
    return std::nullopt;
  }
  if (or_more_was_missed(count)) return std::nullopt;
  const auto parts = resolve_parts(context, count, grades, thing);
  if (!parts) return std::nullopt;
  bool good = true;
  for (const Part& part : *parts) {
    auto& entry = line.at_least.at(part.grade - 1);
    entry = make_count(context, part.hits->hits, count.total);
    good = good && entry.has_value();
  }
  if (!good || !check_order(context, *parts, grades)) return std::nullopt;
  return line;
}

std::optional<std::uint32_t> resolve_grade(Context& context, const language::Word& word,
                                           const std::vector<GradeLine>& grades,
                                           std::string_view thing) {
  for (std::size_t i = 0; i < grades.size(); ++i) {
    if (grades[i].name == word.text) return static_cast<std::uint32_t>(i + 1);
  }
  const std::vector<std::string> names = names_of(grades);
  std::string text;
  if (grades.empty()) {
    text = fmt::format("`{}` has no grades: it is there or not; leave `{}` out", thing, word.text);
  } else {
    text = fmt::format("`{}` is no grade of `{}`{}", word.text, thing,
                       context.did_you_mean(word.text, names));
    text += fmt::format("; it has {}", quoted_list(names));
  }
  context.error(unknown_grade, word.place, text);
  return std::nullopt;
}

}  // namespace slipcase::rulebase

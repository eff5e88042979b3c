#include "advice/missing.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "advice/information_guess.h"
#include "advice/outlook.h"
#include "support/sort_key.h"

namespace slipcase::advice {

namespace {

using grounding::GroundCheck;
using grounding::GroundRules;
using network::Posterior;

std::string member_name(const GroundRules& ground, GroundFinding finding) {
  const auto scope = ground.scope_of(finding);
  const auto member = ground.findings.origins.at(finding.at()).member;
  return ground.rules->unit.scope(*scope).members.at(member->at());
}

/// One thing to do or ask, and the open findings that it answers.
struct Asking {
  std::optional<GroundCheck> check;  // none: a question
  struct Guess {
    double bits = 0.0;
    GroundFinding finding;
  };
  std::vector<Guess> guesses;  // most telling first
};

/// Every check once, and a question once for all its members.
std::vector<Asking> askings(const JobModel& job, const Ways& ways, const Posterior& now,
                            const std::vector<GroundCause>& causes) {
  const InformationGuess guess(job, now, causes);
  std::map<std::pair<bool, std::uint32_t>, Asking> list;
  for (std::uint32_t f = 0; f < job.ground().findings.size(); ++f) {
    const GroundFinding finding{f};
    if (!is_open(job, finding) || job.rules().numbers.findings[f].parents.empty()) continue;
    const auto check = ways.to(finding);
    if (!check && job.ground().asks(finding).empty()) continue;
    const double bits = guess.about(finding);
    if (bits <= 0.0) continue;
    const std::uint32_t declaration = job.ground().findings.origins[f].declaration;
    Asking& asking = list[{check.has_value(), check ? check->index : declaration}];
    asking.check = check;
    asking.guesses.push_back({bits, finding});
  }
  std::vector<Asking> result;
  for (auto& [key, asking] : list) {
    std::stable_sort(
        asking.guesses.begin(), asking.guesses.end(),
        [](const auto& a, const auto& b) { return sort_key(a.bits) > sort_key(b.bits); });
    result.push_back(std::move(asking));
  }
  return result;
}

/// Those that look most telling. Weighing one exactly takes a sweep or more; only the first few of
/// the list are shown.
std::vector<Asking> shortlist(std::vector<Asking> list, std::size_t length) {
  std::stable_sort(list.begin(), list.end(), [](const Asking& a, const Asking& b) {
    return sort_key(a.guesses.front().bits) > sort_key(b.guesses.front().bits);
  });
  if (list.size() > length) list.resize(length);
  return list;
}

/// What else the same check or question would tell: of the weighed finding the further members, of
/// other findings the most telling member.
void add_what_else(const GroundRules& ground, const Asking& asking, MissingFinding& missing) {
  constexpr double worth_naming = 0.2;  // of what the most telling one tells
  constexpr std::size_t most_named = 3;
  const Asking::Guess& best = asking.guesses.front();
  const std::uint32_t weighed = ground.findings.origins.at(best.finding.at()).declaration;
  std::set<std::uint32_t> named{weighed};
  for (const Asking::Guess& guess : asking.guesses) {
    if (guess.bits < worth_naming * best.bits) break;
    const grounding::Origin& origin = ground.findings.origins.at(guess.finding.at());
    if (origin.declaration == weighed) {
      if (origin.member && missing.members.size() < most_named)
        missing.members.push_back(member_name(ground, guess.finding));
    } else if (missing.also.size() < most_named && named.insert(origin.declaration).second) {
      missing.also.push_back({ground.name_of(guess.finding), ground.says(guess.finding)});
    }
  }
}

/// Another cause would be first, or the chance of the first would move by a twentieth or more.
bool matters(const MissingFinding& missing, const std::string& first, Probability now) {
  constexpr double noticeable = 0.05;
  const bool other_first = missing.leader_if_yes != first || missing.leader_if_no != first;
  const auto moves = [now](Probability then) {
    return std::fabs(then.value() - now.value()) >= noticeable;
  };
  return other_first || moves(missing.first_if_yes) || moves(missing.first_if_no);
}

void add_outcomes(const JobModel& job, const Stories& stories, const Posterior& now,
                  const Outlook& ahead, MissingFinding& missing) {
  missing.chance_of_yes = ahead.yes;
  const auto leader = [&](const std::vector<Probability>& then) {
    const auto cause = stories.leader(job, then);
    return cause ? job.ground().name_of(*cause) : std::string();
  };
  missing.leader_if_yes = leader(ahead.if_yes);
  missing.leader_if_no = leader(ahead.if_no);
  const auto first = stories.first();
  if (!first) return;
  missing.first_if_yes = ahead.if_yes.at(job.hidden(*first).at());
  missing.first_if_no = ahead.if_no.at(job.hidden(*first).at());
  missing.matters = matters(missing, job.ground().name_of(*first), job.chance(now, *first));
}

MissingFinding describe(const JobModel& job, const Ways& ways, const Asking& asking) {
  const GroundFinding finding = asking.guesses.front().finding;
  MissingFinding missing;
  missing.id = job.ground().name_of(finding);
  missing.says = job.ground().says(finding);
  missing.asks = job.ground().asks(finding);
  missing.minutes = minutes_to_ask;
  if (asking.check) {
    const auto declaration = job.ground().checks.origins.at(asking.check->at()).declaration;
    missing.check = job.ground().rules->checks.at(declaration).header.name;
    missing.found_by = job.ground().says(*asking.check);
    missing.minutes = ways.minutes(*asking.check);
  }
  add_what_else(job.ground(), asking, missing);
  return missing;
}

}  // namespace

std::vector<MissingFinding> missing_findings(JobModel& job, const Ways& ways,
                                             const Stories& stories, const Posterior& before,
                                             const Posterior& now, std::size_t how_many) {
  constexpr double worth_naming = 1e-3;  // bits
  constexpr std::size_t most_computed = 5;
  const std::vector<GroundCause> causes = causes_in_question(job, before, now);
  if (causes.empty() || how_many == 0) return {};
  const std::vector<Asking> open =
      shortlist(askings(job, ways, now, causes), most_computed + how_many);
  std::vector<GroundFinding> weighed;
  for (const Asking& asking : open) weighed.push_back(asking.guesses.front().finding);
  const auto ahead = outlooks(job, now, weighed);
  std::vector<network::HiddenId> nodes;
  for (const GroundCause cause : causes) nodes.push_back(job.hidden(cause));
  std::vector<MissingFinding> list;
  for (std::size_t i = 0; i < open.size(); ++i) {
    if (!ahead[i]) continue;
    const double bits = information(nodes, now, *ahead[i]);
    if (bits <= worth_naming) continue;
    list.push_back(describe(job, ways, open[i]));
    add_outcomes(job, stories, now, *ahead[i], list.back());
    list.back().information = bits;
  }
  std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) {
    return sort_key(a.information) > sort_key(b.information);
  });
  if (list.size() > how_many) list.resize(how_many);
  // What tells little is gone; of the rest, what tells most for its time comes first.
  std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) {
    return sort_key(a.information * b.minutes) > sort_key(b.information * a.minutes);
  });
  return list;
}

}  // namespace slipcase::advice

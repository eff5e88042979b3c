#include "advice/missing.h"

#include <algorithm>
#include <cmath>

namespace slipcase::advice {

namespace {

using network::Posterior;

double entropy_bits(Probability p) {
  const auto term = [](double x) { return x > 0.0 ? -x * std::log2(x) : 0.0; };
  return term(p.value()) + term(p.complement());
}

bool is_open(const JobModel& job, GroundFinding finding) {
  const auto& state = job.states().findings.at(finding.at());
  return state.state == evaluation::State::unknown && state.at_least == 0;
}

/// The check that would answer the finding; nothing for a plain question.
const rulebase::Check* check_for(const JobModel& job, GroundFinding finding) {
  const std::uint32_t declaration = job.ground().findings.origins.at(finding.at()).declaration;
  const auto answers = [declaration](const rulebase::Check& check) {
    if (check.finding && check.finding->index == declaration) return true;
    return std::any_of(check.answers.begin(), check.answers.end(),
                       [declaration](const auto& target) {
                         const auto* id = std::get_if<rulebase::FindingId>(&target.what);
                         return id != nullptr && id->index == declaration;
                       });
  };
  const auto& checks = job.ground().rules->checks;
  const auto found = std::find_if(checks.begin(), checks.end(), answers);
  return found != checks.end() ? &*found : nullptr;
}

/// The judged cause with the largest chance; ties go to the name that sorts first.
GroundCause leader(const JobModel& job, const std::vector<Probability>& chances) {
  std::optional<GroundCause> best;
  for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c) {
    const GroundCause cause{c};
    if (!job.states().judged.at(c)) continue;
    const double chance = chances.at(job.hidden(cause).at()).value();
    const double best_chance = best ? chances.at(job.hidden(*best).at()).value() : -1.0;
    if (chance > best_chance) best = cause;
  }
  return best.value_or(GroundCause{0});
}

/// The judged causes that stand at one in a hundred or more, and above where they stood before.
std::vector<GroundCause> in_question(const JobModel& job, const Posterior& before,
                                     const Posterior& now) {
  constexpr double least_chance = 0.01;
  constexpr double clearly_raised = 1.05;
  std::vector<GroundCause> list;
  for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c) {
    const GroundCause cause{c};
    const double chance = job.chance(now, cause).value();
    const bool raised = chance > clearly_raised * job.chance(before, cause).value();
    if (job.states().judged.at(c) && chance >= least_chance && raised) list.push_back(cause);
  }
  return list;
}

double information(const JobModel& job, const std::vector<GroundCause>& causes,
                   const Posterior& now, const Outlook& ahead) {
  double bits = 0.0;
  for (const GroundCause cause : causes) {
    const std::size_t h = job.hidden(cause).at();
    bits += entropy_bits(now.hidden[h]) - ahead.yes.value() * entropy_bits(ahead.if_yes[h]) -
            ahead.yes.complement() * entropy_bits(ahead.if_no[h]);
  }
  return bits;
}

/// The check's text, about the member that the finding is about.
std::string says_for(const JobModel& job, const rulebase::Check& check, GroundFinding finding) {
  std::string text = check.header.says;
  const auto& declaration = job.ground().declaration(finding).header;
  const auto member = job.ground().findings.origins.at(finding.at()).member;
  if (!member || !declaration.scope || check.header.scope != declaration.scope) return text;
  const rulebase::Scope& scope = job.ground().rules->unit.scope(*declaration.scope);
  const std::string blank = "{" + scope.name + "}";
  for (auto at = text.find(blank); at != std::string::npos; at = text.find(blank)) {
    text.replace(at, blank.size(), scope.members.at(member->at()));
  }
  return text;
}

MissingFinding describe(const JobModel& job, const Posterior& now, GroundFinding finding,
                        const Outlook& ahead) {
  MissingFinding missing;
  missing.id = job.ground().name_of(finding);
  missing.says = job.ground().says(finding);
  missing.asks = job.ground().asks(finding);
  if (const auto* check = check_for(job, finding)) {
    missing.check = check->header.name;
    missing.found_by = says_for(job, *check, finding);
  }
  missing.chance_of_yes = ahead.yes;
  const GroundCause first = leader(job, now.hidden);
  missing.leader_if_yes = job.ground().name_of(leader(job, ahead.if_yes));
  missing.leader_if_no = job.ground().name_of(leader(job, ahead.if_no));
  missing.first_if_yes = ahead.if_yes.at(job.hidden(first).at());
  missing.first_if_no = ahead.if_no.at(job.hidden(first).at());
  return missing;
}

/// "Yes" needs no second sweep: P(x | yes) = (P(x) - P(no) P(x | no)) / P(yes).
Outlook outlook_from(const Posterior& now, const Posterior& no) {
  const double chance_no = std::min(1.0, std::exp(no.log_evidence - now.log_evidence));
  Outlook ahead{*Probability::from_weights(1.0 - chance_no, chance_no), {}, no.hidden};
  for (std::size_t h = 0; h < now.hidden.size(); ++h) {
    // Rounding may leave a hair below zero where the two are equal.
    const double present = std::max(0.0, now.hidden[h].value() - chance_no * no.hidden[h].value());
    const double absent =
        std::max(0.0, now.hidden[h].complement() - chance_no * no.hidden[h].complement());
    ahead.if_yes.push_back(Probability::from_weights(present, absent).value_or(now.hidden[h]));
  }
  return ahead;
}

std::vector<GroundFinding> open_questions(const JobModel& job) {
  std::vector<GroundFinding> open;
  for (std::uint32_t f = 0; f < job.ground().findings.size(); ++f) {
    const GroundFinding finding{f};
    const bool answerable =
        !job.ground().asks(finding).empty() || check_for(job, finding) != nullptr;
    const bool linked = !job.rules().numbers.findings[f].parents.empty();
    if (answerable && linked && is_open(job, finding)) open.push_back(finding);
  }
  return open;
}

/// The causes in question and every inside or later cause that they can make.
std::vector<bool> touched_by(const JobModel& job, const std::vector<GroundCause>& causes) {
  const auto& hidden = job.rules().numbers.hidden;
  std::vector<bool> touched(hidden.size(), false);
  for (const GroundCause cause : causes) touched[job.hidden(cause).at()] = true;
  for (std::size_t h = 0; h < hidden.size(); ++h) {
    for (const auto& link : hidden[h].parents) touched[h] = touched[h] || touched[link.parent.at()];
  }
  return touched;
}

/// The chances of all hidden nodes; an inside with nothing known below is not in the sweep, and its
/// chance is taken from its makers as if they were independent.
std::vector<Probability> estimated_chances(const JobModel& job, const Posterior& now) {
  std::vector<Probability> chances = now.hidden;
  for (const network::HiddenId id : now.skipped) {
    const network::Hidden& inside = job.rules().numbers.hidden.at(id.at());
    double absent = inside.own.complement();
    for (const auto& link : inside.parents) {
      absent *= 1.0 - chances.at(link.parent.at()).value() * link.fire.value();
    }
    chances.at(id.at()) =
        Probability::from(std::clamp(1.0 - absent, 0.0, 1.0)).value_or(inside.own);
  }
  return chances;
}

/// A cheap guess of what the finding tells: information about each touched parent by itself, the
/// parents taken as independent.
double estimated_information(const JobModel& job, const std::vector<Probability>& chances,
                             const std::vector<bool>& touched, GroundFinding finding) {
  const network::Finding& numbers = job.rules().numbers.findings.at(finding.at());
  double absent = numbers.leak.front().complement();
  for (const auto& link : numbers.parents) {
    absent *= 1.0 - chances.at(link.parent.at()).value() * link.fire.front().value();
  }
  const auto entropy = [](double p) {
    return entropy_bits(Probability::from(std::clamp(p, 0.0, 1.0)).value_or(Probability::never()));
  };
  double bits = 0.0;
  for (const auto& link : numbers.parents) {
    if (!touched.at(link.parent.at())) continue;
    const Probability parent = chances.at(link.parent.at());
    const double without = absent / (1.0 - parent.value() * link.fire.front().value());
    bits += entropy(absent) - parent.complement() * entropy(without) -
            parent.value() * entropy(without * link.fire.front().complement());
  }
  return bits;
}

/// The open questions that look most telling. Asking each exactly takes a sweep or more, and there
/// are hundreds; only the first few of the list are shown.
std::vector<GroundFinding> shortlist(const JobModel& job, const Posterior& now,
                                     const std::vector<GroundCause>& causes, std::size_t length) {
  const std::vector<bool> touched = touched_by(job, causes);
  const std::vector<Probability> chances = estimated_chances(job, now);
  std::vector<std::pair<double, GroundFinding>> scored;
  for (const GroundFinding finding : open_questions(job)) {
    const double bits = estimated_information(job, chances, touched, finding);
    if (bits > 0.0) scored.emplace_back(bits, finding);
  }
  std::stable_sort(scored.begin(), scored.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  if (scored.size() > length) scored.resize(length);
  std::vector<GroundFinding> list;
  for (const auto& [bits, finding] : scored) list.push_back(finding);
  return list;
}

}  // namespace

std::vector<std::optional<Outlook>> outlooks(JobModel& job, const Posterior& now,
                                             std::span<const GroundFinding> findings) {
  std::vector<network::Evidence> if_no;
  for (const GroundFinding finding : findings) {
    network::Evidence evidence = job.evidence();
    std::erase_if(evidence.findings,
                  [&](const auto& o) { return o.finding.index == finding.index; });
    evidence.findings.push_back({network::FindingId{finding.index}, 0, 0});
    if_no.push_back(std::move(evidence));
  }
  std::vector<std::optional<Outlook>> result;
  for (const network::Outcome& outcome : job.solver().solve_batch(if_no)) {
    const auto* no = std::get_if<Posterior>(&outcome);
    result.push_back(no != nullptr ? std::optional(outlook_from(now, *no)) : std::nullopt);
  }
  return result;
}

std::vector<MissingFinding> missing_findings(JobModel& job, const Posterior& before,
                                             const Posterior& now, std::size_t how_many) {
  constexpr double worth_naming = 1e-3;  // bits
  constexpr std::size_t most_computed = 7;
  const std::vector<GroundCause> causes = in_question(job, before, now);
  if (causes.empty() || how_many == 0) return {};
  const std::vector<GroundFinding> open = shortlist(job, now, causes, most_computed + how_many);
  const auto ahead = outlooks(job, now, open);
  std::vector<MissingFinding> list;
  for (std::size_t i = 0; i < open.size(); ++i) {
    if (!ahead[i]) continue;
    const double bits = information(job, causes, now, *ahead[i]);
    if (bits <= worth_naming) continue;
    list.push_back(describe(job, now, open[i], *ahead[i]));
    list.back().information = bits;
  }
  std::stable_sort(list.begin(), list.end(),
                   [](const auto& a, const auto& b) { return a.information > b.information; });
  if (list.size() > how_many) list.resize(how_many);
  return list;
}

}  // namespace slipcase::advice

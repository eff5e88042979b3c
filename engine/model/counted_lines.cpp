#include "model/counted_lines.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace slipcase::model {

using grounding::GroundCause;
using grounding::GroundFinding;
using grounding::GroundInside;
using network::Numbers;

namespace {

rulebase::MemberId member_of(const grounding::Origin& origin) {
  return origin.member.value_or(rulebase::MemberId{0});
}

/// From "at least" counts of `total` jobs to counts of exact grades, never negative.
std::vector<double> exact_counts(const std::vector<double>& at_least, double total) {
  std::vector<double> exactly;
  double above = total;
  for (const double count : at_least) {
    exactly.push_back(std::max(0.0, above - count));
    above = std::min(above, count);
  }
  exactly.push_back(above);
  // Half a count where a side is 0, so that never seen is not impossible.
  if (exactly.front() <= 0.0) exactly.front() = 0.5, exactly.back() = std::max(0.5, above - 0.5);
  if (above <= 0.0 && at_least.size() == 1) exactly = {total - 0.5, 0.5};
  return exactly;
}

Probability from_share(double share) {
  return Probability::from(std::clamp(share, 0.0, 1.0)).value_or(Probability::never());
}

/// fire and pass of a link with this share over this rate without it (see counts.h).
struct LinkPart {
  double fire = 0.0;
  double pass = 1.0;
};
LinkPart link_part(double share, double base) {
  if (!(share > base)) return {};
  return {(share - base) / (1.0 - base), (1.0 - share) / (1.0 - base)};
}

/// 1 - (1-p)^members = share, solved for p.
double of_one_member(double share, double share_of_scope) {
  if (share_of_scope >= 1.0) return share;
  return -std::expm1(std::log1p(-std::min(share, 1.0 - 1e-15)) * share_of_scope);
}

}  // namespace

/// Finds the line behind every number of the job's network.
class CountedLines::Setup {
 public:
  Setup(CountedLines& lines, const RuleNetwork& rules, const evaluation::Evaluation& evaluation,
        const Network& network)
      : out_(lines), rules_(rules), ground_(*rules.rules), network_(network) {
    gone_.assign(network.hidden.size(), false);
    for (std::uint32_t c = 0; c < evaluation.possible.size(); ++c)
      gone_[rules.of_cause[c].at()] = !evaluation.possible[c];
    times_.assign(network.hidden.size(), 1.0);
    for (std::size_t i = 0; i < ground_.becomes.size(); ++i)
      if (evaluation.becomes[i] == evaluation::Truth::yes)
        times_[rules.of_cause[ground_.becomes[i].cause.at()].at()] *= ground_.becomes[i].times;
  }

  void run(const std::vector<Observation>& known) {
    for (std::size_t h = 0; h < network_.hidden.size(); ++h)
      if (!gone_[h]) add_hidden(h);
    for (const Observation& seen : known) add_finding(GroundFinding{seen.finding.index});
  }

 private:
  std::size_t add_line(std::vector<double> exactly, std::optional<Place> place, bool is_rate) {
    CountedLine line;
    line.exactly = std::move(exactly);
    line.place = place;
    line.is_rate = is_rate;
    out_.lines_.push_back(std::move(line));
    return out_.lines_.size() - 1;
  }

  /// One line of the rules is one line here.
  template <class Line, class Make>
  std::size_t line_for(const Line* line, bool is_rate, Make make) {
    const auto found = by_line_.find(line);
    if (found != by_line_.end()) return found->second;
    return by_line_[line] = add_line(make(), line->place, is_rate);
  }

  static std::vector<double> counts_of(const units::Count& count) {
    return exact_counts({static_cast<double>(count.hits())}, static_cast<double>(count.total()));
  }

  static std::vector<double> counts_of(const rulebase::GradedLine& line, std::size_t grades) {
    double total = 1.0;
    for (const auto& count : line.at_least)
      if (count) total = std::max(total, static_cast<double>(count->total()));
    std::vector<double> at_least(grades, 0.0);
    for (std::size_t g = 0; g < grades && g < line.at_least.size(); ++g)
      if (line.at_least[g]) at_least[g] = line.at_least[g]->share_at_least_half().value() * total;
    for (std::size_t g = grades; g-- > 1;) at_least[g - 1] = std::max(at_least[g - 1], at_least[g]);
    return exact_counts(at_least, total);
  }

  std::size_t link_line(const LinkLine& line, std::size_t grades) {
    if (const auto* link = std::get_if<const rulebase::Link*>(&line))
      return line_for(*link, false, [&] { return counts_of((*link)->count, grades); });
    if (const auto* link = std::get_if<const rulebase::CauseLink*>(&line))
      return line_for(*link, false, [&] { return counts_of((*link)->count.count); });
    const auto* flag = std::get<const rulebase::Flag*>(line);
    return line_for(flag, false, [&] { return counts_of(flag->bad); });
  }

  struct OwnLine {
    std::optional<std::size_t> line;
    double share_of_scope = 1.0;
  };
  OwnLine own_line(std::size_t h) {
    const auto member_share = [&](bool together, std::optional<grounding::ScopeId> scope) {
      const std::size_t members = scope ? ground_.rules->unit.member_count(scope) : 1;
      return together && members > 1 ? 1.0 / static_cast<double>(members) : 1.0;
    };
    if (const auto* cause = std::get_if<GroundCause>(&rules_.origin[h])) {
      const auto& declared = ground_.declaration(*cause);
      const grounding::Origin& origin = ground_.causes.origins[cause->at()];
      const auto* line = declared.found.at(member_of(origin));
      if (line == nullptr || !declared.header.in_use(origin.member)) return {};
      return {line_for(line, true, [&] { return counts_of(line->count); }),
              member_share(line->together, declared.header.scope)};
    }
    const auto inside = std::get<GroundInside>(rules_.origin[h]);
    const auto& declared = ground_.declaration(inside);
    const grounding::Origin& origin = ground_.insides.origins[inside.at()];
    const auto* line = declared.otherwise.at(member_of(origin));
    if (line == nullptr || !declared.header.in_use(origin.member)) return {};
    return {line_for(line, true, [&] { return counts_of(*line, 1); }),
            member_share(line->together, declared.header.scope)};
  }

  void add_hidden(std::size_t h) {
    const OwnLine own = own_line(h);
    const std::size_t base = own.line.value_or(no_rate());
    if (own.line) out_.own_.push_back({h, *own.line, own.share_of_scope, times_[h]});
    std::size_t slot = out_.wiring_.parent_begin[h];
    for (std::size_t i = 0; i < rules_.numbers.hidden[h].parents.size(); ++i) {
      if (gone_[rules_.numbers.hidden[h].parents[i].parent.at()]) continue;
      out_.hidden_.push_back(
          {slot++, link_line(rules_.hidden_lines[h][i], 1), base, own.share_of_scope});
    }
  }

  std::size_t never_shown(std::size_t grades) {
    std::vector<double> exactly(grades + 1, 0.0);
    exactly.front() = 1.0;
    return add_line(std::move(exactly), std::nullopt, true);
  }

  /// A line that is never drawn above zero.
  std::size_t no_rate() {
    if (!no_rate_) no_rate_ = never_shown(1);
    return *no_rate_;
  }

  [[nodiscard]] double jobs_behind(GroundFinding finding) const {
    const auto& declared = ground_.declaration(finding);
    const auto member = member_of(ground_.findings.origins[finding.at()]);
    const rulebase::GradedLine* line = declared.otherwise.at(member);
    if (line == nullptr) line = declared.overall.at(member);
    double total = 0.0;
    if (line != nullptr) {
      for (const auto& count : line->at_least)
        if (count) total = std::max(total, static_cast<double>(count->total()));
    } else {
      for (const auto& flag : ground_.flags)
        if (flag.to == finding)
          total = std::max(total, static_cast<double>(flag.line->good.total()));
    }
    return std::max(1.0, total);
  }

  /// Where a rate stands as written; a solved one stands nowhere.
  [[nodiscard]] std::optional<Place> written_at(GroundFinding finding) const {
    const auto& declared = ground_.declaration(finding);
    const auto* line = declared.otherwise.at(member_of(ground_.findings.origins[finding.at()]));
    return line != nullptr ? std::optional(line->place) : std::nullopt;
  }

  void add_finding(GroundFinding finding) {
    const network::Finding& numbers = network_.findings[finding.at()];
    const double jobs = jobs_behind(finding);
    std::vector<double> at_least;
    for (const Probability leak : numbers.leak) at_least.push_back(leak.value() * jobs);
    FindingUse use;
    use.finding = finding.at();
    const bool never = numbers.leak.front() == Probability::never();
    use.leak = never ? never_shown(numbers.leak.size())
                     : add_line(exact_counts(at_least, jobs), written_at(finding), true);
    const auto& plain = rules_.numbers.findings[finding.at()].parents;
    for (std::size_t i = 0; i < plain.size(); ++i)
      if (!gone_[plain[i].parent.at()])
        use.lines.push_back(link_line(rules_.finding_lines[finding.at()][i], numbers.leak.size()));
    out_.findings_.push_back(std::move(use));
  }

  CountedLines& out_;
  const RuleNetwork& rules_;
  const grounding::GroundRules& ground_;
  const Network& network_;
  std::vector<bool> gone_;
  std::vector<double> times_;
  std::map<const void*, std::size_t> by_line_;  // looked up only, never walked
  std::optional<std::size_t> no_rate_;
};

double CountedLine::total() const { return std::accumulate(exactly.begin(), exactly.end(), 0.0); }

std::vector<double> CountedLine::shares() const {
  const double all = total();
  std::vector<double> result(grades(), 0.0);
  double above = 0.0;
  for (std::size_t g = grades(); g-- > 0;) {
    above += exactly[g + 1];
    result[g] = all > 0.0 ? above / all : 0.0;
  }
  return result;
}

CountedLines::CountedLines(const RuleNetwork& rules, const evaluation::Evaluation& evaluation,
                           const Network& network)
    : wiring_(network::lay_out(network)), numbers_(network::read_numbers(wiring_, network)) {
  Setup(*this, rules, evaluation, network).run(observations(rules, evaluation));
}

void CountedLines::fill_hidden(const Shares& shares, Numbers& numbers) const {
  for (const Own& own : own_) {
    const double share = of_one_member(shares[own.line][0], own.share_of_scope);
    const Probability rate = from_share(share).with_odds_times(own.times);
    numbers.own_yes[own.hidden] = rate.value();
    numbers.own_no[own.hidden] = rate.complement();
  }
  for (const HiddenUse& use : hidden_) {
    const double base = of_one_member(shares[use.own_line][0], use.share_of_scope);
    const LinkPart part = link_part(shares[use.line][0], base);
    numbers.hidden_fire[use.slot] = part.fire;
    numbers.hidden_pass[use.slot] = part.pass;
  }
}

void CountedLines::fill_finding(const FindingUse& use, const Shares& shares,
                                Numbers& numbers) const {
  const std::vector<double>& leak = shares[use.leak];
  const std::size_t grades = leak.size();
  const std::size_t first = wiring_.number_begin[use.finding];
  for (std::size_t g = 0; g < grades; ++g) {
    numbers.leak_yes[wiring_.leak_begin[use.finding] + g] = leak[g];
    numbers.leak_no[wiring_.leak_begin[use.finding] + g] = 1.0 - leak[g];
  }
  for (std::size_t i = 0; i < use.lines.size(); ++i) {
    LinkPart stronger;
    // From the strongest grade down, a weaker one passes at most as much (see counts.h).
    for (std::size_t g = grades; g-- > 0;) {
      LinkPart part = link_part(shares[use.lines[i]][g], leak[g]);
      if (part.fire < stronger.fire) part = stronger;
      stronger = part;
      numbers.link_fire[first + g * use.lines.size() + i] = part.fire;
      numbers.link_pass[first + g * use.lines.size() + i] = part.pass;
    }
  }
}

Numbers CountedLines::numbers(const Shares& shares) const {
  Numbers numbers = numbers_;
  fill_hidden(shares, numbers);
  for (const FindingUse& use : findings_) fill_finding(use, shares, numbers);
  return numbers;
}

}  // namespace slipcase::model

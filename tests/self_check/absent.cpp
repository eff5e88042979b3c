#include "self_check/absent.h"

#include <algorithm>
#include <map>

#include <boost/random/discrete_distribution.hpp>

namespace self_check {

namespace {

constexpr double enough_to_be_named = 0.5;

/// "`lining_worn` of the same": beside the absent cause of an element, the one of that element.
std::string name_beside(const GroundRules& ground, GroundCause entry, GroundCause absent) {
  const std::string& name = ground.declaration(entry).header.name;
  const auto member = ground.causes.origins.at(entry.at()).member;
  const auto other = ground.causes.origins.at(absent.at()).member;
  if (!member) return "`" + name + "`";
  const bool comparable =
      other && ground.declaration(entry).header.scope == ground.declaration(absent).header.scope;
  if (!comparable) return "`" + name + "` of one";
  return "`" + name + (*member == *other ? "` of the same" : "` of another");
}

class Pairs {
 public:
  explicit Pairs(const GroundRules& ground) : ground_(ground) {}

  void add(GroundCause absent, const Ranked& ranked) {
    const std::string name = ground_.declaration(absent).header.name;
    ++jobs_[name];
    if (ranked.causes.empty() || ranked.causes.front().chance < enough_to_be_named) return;
    const RankedCause& first = ranked.causes.front();
    Misleading& pair = pairs_[{name, name_beside(ground_, first.cause, absent)}];
    ++pair.named_half;
    pair.chance += first.chance;
  }

  [[nodiscard]] std::vector<Misleading> most_first() const {
    std::vector<Misleading> list;
    for (const auto& [names, pair] : pairs_)
      list.push_back(
          {names.first, names.second, jobs_.at(names.first), pair.named_half, pair.chance});
    std::ranges::stable_sort(list, std::greater{}, &Misleading::named_half);
    return list;
  }

 private:
  const GroundRules& ground_;
  std::map<std::string, std::size_t> jobs_;
  std::map<std::pair<std::string, std::string>, Misleading> pairs_;
};

struct OneCauseJob {
  GroundCause cause;
  Job job;
};

/// Jobs of one history with one cause each, drawn by the rates that the history leaves.
class OneCause {
 public:
  OneCause(const slipcase::model::RuleNetwork& rules, const History& history,
           std::size_t memory_bytes)
      : rules_(rules),
        history_(history),
        memory_bytes_(memory_bytes),
        any_cause_(rates()),
        as_it_is_(rules, history.network, memory_bytes) {}

  [[nodiscard]] OneCauseJob next(JobSource& source, Random& random) {
    OneCauseJob result;
    const auto draw = [&](Random& engine) {
      result.cause = GroundCause{any_cause_(engine)};
      return draw_job_with_only(history_.network, hidden(result.cause), engine);
    };
    result.job = source.next(history_, draw, random);
    return result;
  }

  [[nodiscard]] std::optional<Ranked> rank(const OneCauseJob& job) {
    return as_it_is_.rank(job.job.known);
  }

  [[nodiscard]] std::optional<Ranked> rank_without(const OneCauseJob& job) const {
    Network network = history_.network;
    auto& cause = network.hidden.at(hidden(job.cause).at());
    cause.own = slipcase::Probability::never();
    cause.parents.clear();
    return Ranker(rules_, network, memory_bytes_).rank(job.job.known);
  }

 private:
  [[nodiscard]] HiddenId hidden(GroundCause cause) const { return rules_.of_cause.at(cause.at()); }

  [[nodiscard]] std::vector<double> rates() const {
    std::vector<double> list;
    for (const HiddenId id : rules_.of_cause)
      list.push_back(history_.network.hidden.at(id.at()).own.value());
    return list;
  }

  const slipcase::model::RuleNetwork& rules_;
  const History& history_;
  std::size_t memory_bytes_;
  boost::random::discrete_distribution<std::uint32_t> any_cause_;
  Ranker as_it_is_;
};

}  // namespace

void FirstPlaces::add(const Ranked& ranked) {
  const double first = ranked.causes.empty() ? 0.0 : ranked.causes.front().chance;
  ++jobs;
  chance += first;
  half += first >= 0.5 ? 1 : 0;
  nine_of_ten += first >= 0.9 ? 1 : 0;
  nothing_listed += ranked.nothing_listed;
  nothing_above += ranked.nothing_listed > 0.5 ? 1 : 0;
}

AbsentRun run_absent(const Shipped& shipped, const RunOptions& options) {
  AbsentRun result;
  Random random(options.seed);
  JobSource source(shipped, options.setting, options.one_is_named);
  Pairs pairs(shipped.ground());
  const auto counts = jobs_of_each_history(shipped, options.jobs, random);
  for (std::size_t h = 0; h < counts.size(); ++h) {
    const History& history = shipped.histories[h];
    OneCause one_cause(shipped.rules(), history, options.memory_bytes);
    for (std::size_t i = 0; i < counts[h]; ++i) {
      const OneCauseJob job = one_cause.next(source, random);
      const auto with_it = one_cause.rank(job);
      const auto without_it = one_cause.rank_without(job);
      ++result.jobs;
      if (!with_it || !without_it) {
        ++result.too_wide;
        continue;
      }
      result.with_it.add(*with_it);
      result.without_it.add(*without_it);
      pairs.add(job.cause, *without_it);
    }
  }
  result.pairs = pairs.most_first();
  return result;
}

}  // namespace self_check

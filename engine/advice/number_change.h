// Changes of a job's network that leave its shape as it is, so that one order of computation serves
// them all: links that never fire, findings that say nothing, other rates.
#pragma once

#include <unordered_map>
#include <utility>
#include <vector>

#include "advice/job_model.h"
#include "advice/rule_lines.h"

namespace slipcase::advice {

/// One link of a job's network.
struct LinkAt {
  bool to_finding = false;
  std::uint32_t child = 0;     // a finding or a hidden node
  std::uint32_t position = 0;  // among its parents
  network::HiddenId parent;
};

struct NumberChange {
  std::vector<LinkAt> cut;
  std::vector<network::FindingId> forgotten;
  std::vector<std::pair<network::HiddenId, Probability>> own;  // new own rates

  [[nodiscard]] bool empty() const { return cut.empty() && forgotten.empty() && own.empty(); }
};

[[nodiscard]] network::Network changed(const network::Network& network, const NumberChange& change);

/// From one job's states to others, if only numbers differ: findings that say nothing any more,
/// other rates.
[[nodiscard]] std::optional<NumberChange> change_between(const model::RuleNetwork& rules,
                                                         const evaluation::Evaluation& before,
                                                         const evaluation::Evaluation& after);

/// What lines of the rules do in one job's network.
class NumberChanges {
 public:
  /// `posterior` is that of all that is known.
  NumberChanges(const JobModel& job, const network::Posterior& posterior);

  /// The job without the line; empty where the line does nothing in it or is none of numbers.
  [[nodiscard]] NumberChange without(const RuleLine& line) const;

  /// About how far chances can move at most, for passing over what moves nothing: the chance of
  /// each node that loses a link, times how much its absent findings have held it down.
  [[nodiscard]] double reach(const NumberChange& change) const;

 private:
  void list_links();
  void add_link(const model::LinkLine& line, const LinkAt& link);
  [[nodiscard]] bool is_active(const LinkAt& link) const;
  [[nodiscard]] Probability pass_when_absent(const LinkAt& link) const;
  void forget(network::FindingId finding, NumberChange& change) const;
  void without_cause(rulebase::CauseId cause, NumberChange& change) const;
  void without_becomes(const rulebase::Becomes& line, NumberChange& change) const;

  const JobModel& job_;
  const network::Posterior& posterior_;
  std::vector<const network::Observation*> observed_;           // per finding; null: not known
  std::vector<bool> skipped_;                                   // per hidden node
  std::unordered_map<const void*, std::vector<LinkAt>> links_;  // per line; never iterated
};

}  // namespace slipcase::advice

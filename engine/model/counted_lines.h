// The counts behind the numbers of a job's network, line by line of the rules.
//
// To draw counts anew, or to try another count on one line, without grounding anything again: every
// line knows which numbers come from it.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "model/rule_network.h"
#include "network/wiring.h"

namespace slipcase::model {

/// What a line counts.
struct CountedLine {
  /// Of how many jobs, how many showed exactly nothing, exactly the weakest grade, and so on; may
  /// hold halves, see CountedLines.
  std::vector<double> exactly;
  std::optional<Place> place;  // of a count as written; none: solved for, or given for a scope
  bool is_rate = false;        // without a cause, as against that of a link

  [[nodiscard]] std::size_t grades() const { return exactly.size() - 1; }
  [[nodiscard]] double total() const;
  /// The shares as counted: at least this grade.
  [[nodiscard]] std::vector<double> shares() const;
};

/// A count of 0 or of all jobs is taken as half a count from there, as everywhere.
class CountedLines {
 public:
  /// `network`: that of the job (network_for()).
  CountedLines(const RuleNetwork& rules, const evaluation::Evaluation& evaluation,
               const Network& network);

  [[nodiscard]] const std::vector<CountedLine>& lines() const { return lines_; }

  /// The numbers of the job's network when each line has these shares (per line, per grade).
  /// Findings of which nothing is known keep theirs.
  [[nodiscard]] network::Numbers numbers(const std::vector<std::vector<double>>& shares) const;

 private:
  using Shares = std::vector<std::vector<double>>;
  struct Own {
    std::size_t hidden = 0;
    std::size_t line = 0;
    double share_of_scope = 1.0;  // 1 / members where the count is of the whole scope
    double times = 1.0;           // every `becomes` that applies
  };
  struct HiddenUse {
    std::size_t slot = 0;  // in Numbers::hidden_fire
    std::size_t line = 0;
    std::size_t own_line = 0;
    double share_of_scope = 1.0;
  };
  struct FindingUse {
    std::size_t finding = 0;
    std::size_t leak = 0;            // line
    std::vector<std::size_t> lines;  // of its links, in their order
  };
  class Setup;

  void fill_hidden(const Shares& shares, network::Numbers& numbers) const;
  void fill_finding(const FindingUse& use, const Shares& shares, network::Numbers& numbers) const;

  network::Wiring wiring_;
  network::Numbers numbers_;
  std::vector<CountedLine> lines_;
  std::vector<Own> own_;
  std::vector<HiddenUse> hidden_;
  std::vector<FindingUse> findings_;
};

}  // namespace slipcase::model

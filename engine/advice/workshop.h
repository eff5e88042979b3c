// What the shop could do on a job: every check and repair of the rules with its cost, what must be
// paid for first, and what it needs before and after.
//
// Costs are money when the shop says what an hour costs, else minutes (then parts do not count).
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "advice/job_model.h"
#include "advice/visit.h"
#include "advice/ways.h"
#include "decision/problem.h"
#include "evaluation/job_facts.h"
#include "network/cure.h"
#include "slipcase/next.h"

namespace slipcase::advice {

using grounding::GroundCheck;
using grounding::GroundRepair;

struct CheckStep {
  GroundCheck check;
  decision::Work work;
  std::vector<GroundFinding> answers;  // not known yet; found at the car or worked out from it
  /// Done on this visit but for these readings.
  std::vector<grounding::GroundReading> still_missing;
};

struct RepairStep {
  GroundRepair repair;
  decision::Work work;
  std::vector<network::Cure> cures;  // with those of the repairs that always follow it
};

class Workshop {
 public:
  Workshop(const JobModel& job, const evaluation::JobFacts& facts, const ShopCosts& costs);

  [[nodiscard]] const std::vector<CheckStep>& checks() const { return checks_; }
  [[nodiscard]] const std::vector<RepairStep>& repairs() const { return repairs_; }
  /// Without those of the repairs that should follow it.
  [[nodiscard]] std::vector<network::Cure> own_cures(GroundRepair repair) const;
  /// Shared costs; repairs and checks are left for the caller to choose.
  [[nodiscard]] const decision::Problem& shared() const { return shared_; }
  [[nodiscard]] double cost(double minutes, double money) const;
  /// By itself: without the checks before it, so that it does not hang on what the card says was
  /// done.
  [[nodiscard]] double dearest_repair() const;

  /// What a step takes that is not planned with but comes before everything.
  [[nodiscard]] decision::Work work_of(GroundCheck check);
  /// The place of a check among what is paid once; empty where no repair asks for it.
  [[nodiscard]] decision::OnceSet paid_once(GroundCheck check) const;
  /// Asked about a check that brings readings and was done on this visit: who read them has looked.
  [[nodiscard]] bool was_looked_at(GroundFinding finding) const {
    return looked_at_.at(finding.at());
  }

  /// Recorded as done, or all that it answers is known.
  [[nodiscard]] bool done(GroundCheck check) const;
  /// Of a check that brings readings, where some were taken on this visit: the others.
  [[nodiscard]] std::vector<grounding::GroundReading> still_missing(GroundCheck check) const;
  /// Of a check that brings codes, where the own controller's are on the card: the controllers
  /// whose codes are not.
  [[nodiscard]] std::vector<std::string> controllers_missing(GroundCheck check) const;
  [[nodiscard]] bool done(GroundRepair repair) const;

  /// What of `only after` is not done yet.
  using Step = std::variant<GroundCheck, GroundRepair, grounding::GroundEvent>;
  [[nodiscard]] std::vector<Step> not_done_before(GroundRepair repair) const;

 private:
  using Target = rulebase::StepTarget;
  enum class Kind : std::uint8_t { access, check, repair };
  using Item = std::pair<Kind, std::uint32_t>;

  void list_checks();
  void list_repairs();
  [[nodiscard]] bool follows_another(GroundRepair repair) const;
  [[nodiscard]] bool happened(rulebase::EventId event,
                              std::optional<grounding::MemberId> member) const;
  [[nodiscard]] bool known(GroundFinding finding) const;
  /// All that it tells is worked out, and from no reading: codes.
  [[nodiscard]] bool brings_codes(GroundCheck check) const;
  [[nodiscard]] std::vector<GroundFinding> answered_by(GroundCheck check) const;
  [[nodiscard]] Given given(GroundCheck check) const;
  [[nodiscard]] bool recorded(const Given& given) const;
  void list_check(GroundCheck check);

  decision::OnceSet pay_access(const std::vector<rulebase::AccessId>& needs);
  decision::OnceSet pay_before(const std::vector<Target>& steps,
                               std::optional<grounding::MemberId> own);
  decision::OnceSet pay_check(GroundCheck check);
  decision::OnceSet once(Item item, double cost);
  decision::OnceSet each_time(Item item, double cost);
  void add_follow_ups(const rulebase::Repair& repair, std::optional<grounding::MemberId> own,
                      RepairStep& step);
  void add_cures(GroundRepair repair, std::vector<network::Cure>& cures) const;

  const JobModel& job_;
  const grounding::GroundRules& ground_;
  const evaluation::JobFacts& facts_;
  ShopCosts costs_;
  VisitReadings visit_;
  decision::Problem shared_;
  std::map<Item, unsigned> once_;
  std::map<Item, unsigned> each_time_;
  std::vector<bool> looked_at_;  // per finding
  std::vector<CheckStep> checks_;
  std::vector<RepairStep> repairs_;
};

}  // namespace slipcase::advice

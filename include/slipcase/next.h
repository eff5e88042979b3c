// What to do next on a job: which check is worth its cost, and which repairs in which order.
//
// Costs: money when the shop says what an hour costs (ShopCosts::labour_rate above 0), else minutes
// of work, and then parts do not count. An expected cost is the mean over jobs that look like this
// one, until the complaint is gone or everything planned has been tried.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "slipcase/job.h"
#include "slipcase/probability.h"
#include "slipcase/ranking.h"

namespace slipcase {

struct ShopCosts {
  double labour_rate = 0.0;        // for one hour; 0: everything in minutes
  std::string currency;            // printed behind amounts; may be empty
  double comeback_minutes = 60.0;  // each time the complaint is still there after a repair
  /// It is still there after the last one; 0: half as much again as the dearest repair of the
  /// rules.
  double unsolved_minutes = 0.0;

  [[nodiscard]] bool in_money() const { return labour_rate > 0.0; }
};

/// An event is something that must have happened or been written down, and is no work of its own.
enum class StepKind : std::uint8_t { check, question, repair, event };

struct StepReport {
  StepKind kind = StepKind::check;
  std::string id;    // "air_check of K2"; a question's finding
  std::string says;  // for people
  std::string how;
  double minutes = 0.0;
  double parts = 0.0;                      // money
  std::vector<std::string> still_missing;  // of what must come first: the rest was read already
  std::vector<CautionReport> cautions;
};

/// Repairs done together, then the car is tried.
struct RepairRound {
  bool comes_first = false;  // ends a distrust: done before anything else, whatever it promises
  std::vector<StepReport> repairs;
  std::vector<StepReport> before;  // must come first and are not done yet
  std::vector<StepReport> after;   // what the job is not finished without
  double cost = 0.0;               // of this round, with access and what must come before and after
  double ends = 0.0;               // chance that the complaint is gone after it and all before it
};

struct CheckOutcome {
  std::vector<std::string> answers;  // "yes", "no", "high": one for each finding of the check
  double chance = 0.0;
  std::string first;  // id of the most likely judged cause then
  std::string first_says;
  double first_chance = 0.0;
  double cost = 0.0;  // expected from there on
  std::vector<RepairRound> plan;
};

struct CheckAdvice {
  StepReport step;
  std::vector<FindingReport> findings;     // whose answers were weighed, at most three
  std::size_t more_findings = 0;           // that it answers too; they can only add to its worth
  std::vector<std::string> still_missing;  // the readings it is for; the others were taken today
  bool pays = false;           // saves more than it costs, by enough to be told to do it
  bool needed_anyway = false;  // the first repair of the plan asks for it
  double cost = 0.0;           // with what must be paid first
  double gain = 0.0;           // saved on average, its own cost not taken off
  std::vector<CheckOutcome> outcomes;

  [[nodiscard]] double net() const { return gain - cost; }
};

/// Something that must be done before anything is judged, and why.
struct FirstThing {
  StepReport step;
  std::string because;
  std::vector<StepReport> before;  // must come before it and are not done yet
  double ends = 0.0;               // a repair: chance that it ends the complaint by itself
};

struct NextAdvice {
  std::string job;
  std::string unit;
  std::vector<FindingReport> complaint;
  bool complaint_assumed = false;  // the card names no complaint: everything seen was taken for it
  std::vector<CautionReport> cautions;  // of what was seen
  std::vector<StepReport> tried;        // repairs on the card that did not help
  std::vector<Supposed> supposed;
  bool in_money = false;
  std::string currency;
  double labour_rate = 0.0;         // for one hour, in money
  double comeback = 0.0;            // cost of each time the complaint is still there
  double dearest = 0.0;             // what the dearest repair costs by itself
  double unsolved = 0.0;            // cost where nothing planned ends it
  std::vector<FirstThing> first;    // what ends a distrust
  std::vector<CheckAdvice> checks;  // by net, those worth their cost first
  /// The best repairs if nothing more is looked at. Repairs of `first` are its first round; what
  /// is behind it, `checks` too, is for jobs in which that round did not end the complaint.
  std::vector<RepairRound> plan;
  double cost_of_first = 0.0;    // of everything in `first`, once
  double cost_of_repairs = 0.0;  // of the whole plan, with what comes first
  double cost_with_check = 0.0;  // with the first check too (equal where none is worth it)
  /// The repairs that plans were made of, each by itself; the likeliest to end it first.
  std::vector<RepairRound> alone;
};

/// No finding on the card says what the complaint is.
struct NoComplaint {};

/// The last word on the card about the complaint is that a repair ended it.
struct ComplaintGone {
  std::string job;
  std::string unit;
  std::vector<FindingReport> complaint;
  StepReport by;
  std::vector<StepReport> handover;  // what the rules want after it
  std::vector<Supposed> supposed;
};

using NextResult =
    std::variant<NextAdvice, ComplaintGone, NoComplaint, ImpossibleEvidence, TooWide>;

struct CostsLoad {
  Loaded outcome = Loaded::input_errors;
  std::optional<ShopCosts> costs;
};

/// What the unit's profile says; where it says nothing, ShopCosts as it begins.
[[nodiscard]] ShopCosts costs_of_profile(const Knowledge& knowledge);

/// The profile's costs under those of a shop's own file (`labour_rate`, `currency`, `comeback`,
/// `unsolved`). Its text is added to the knowledge's sources.
[[nodiscard]] CostsLoad load_costs(const std::filesystem::path& path, const Knowledge& knowledge,
                                   Diagnostics& diagnostics);

struct NextOptions {
  std::size_t checks = 5;  // weighed exactly are more; so many are reported
  std::size_t memory_bytes = std::size_t{2} << 30U;
  std::optional<ShopCosts> costs;  // instead of the profile's
};

[[nodiscard]] NextResult next(const Knowledge& knowledge, const Job& job,
                              const NextOptions& options = {});

}  // namespace slipcase

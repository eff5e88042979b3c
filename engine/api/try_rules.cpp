// Trials: the facts of each to a job, judged; then, if asked for, what they depend on.
#include <algorithm>
#include <cctype>

#include "advice/judge_trial.h"
#include "advice/trial_card.h"
#include "advice/trial_coverage.h"
#include "api/messages.h"
#include "api/parts.h"
#include "evaluation/bind.h"
#include "slipcase/trials.h"

namespace slipcase {

namespace {

using rulebase::Trial;
using Expectation = rulebase::TrialExpectation;

std::string lower(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return out;
}

/// The pieces between the stars stand in the name one after the other.
bool matches(std::string_view title, std::string_view pattern) {
  const std::string name = lower(title);
  const std::string wanted = lower(pattern);
  std::size_t at = 0;
  for (std::size_t begin = 0; begin <= wanted.size();) {
    const std::size_t end = std::min(wanted.find('*', begin), wanted.size());
    const std::string_view piece = std::string_view(wanted).substr(begin, end - begin);
    at = name.find(piece, at);
    if (at == std::string::npos) return false;
    at += piece.size();
    begin = end + 1;
  }
  return true;
}

class Runner {
 public:
  Runner(const Knowledge::Parts& parts, const Knowledge& knowledge, const TrialOptions& options,
         Diagnostics& diagnostics)
      : parts_(parts),
        knowledge_(knowledge),
        options_(options),
        diagnostics_(diagnostics),
        evaluator_(parts.ground) {}

  TrialsRun run() {
    std::vector<const Trial*> chosen;
    for (const Trial& trial : parts_.ground->rules->trials) {
      if (matches(trial.title, options_.only)) chosen.push_back(&trial);
    }
    run_.left_out = parts_.ground->rules->trials.size() - chosen.size();
    for (const Trial* trial : chosen) {
      run(*trial);
      run_.trials.back().shipped = parts_.sources->origin(trial->place.source) == Origin::shipped;
    }
    count_causes(chosen);
    if (options_.coverage)
      run_.coverage =
          advice::trial_coverage(parts_.network, tried_, *parts_.sources, options_.memory_bytes);
    diagnostics_.sort();
    return std::move(run_);
  }

 private:
  void run(const Trial& trial) {
    auto facts = facts_of(trial);
    if (!facts) {
      run_.trials.push_back(advice::report_for(trial, *parts_.sources));
      run_.trials.back().not_run = "its facts have errors, see the messages";
      return;
    }
    const evaluation::Evaluation& states = evaluator_.evaluate(*facts);
    advice::JobModel job(parts_.network, states, options_.memory_bytes,
                         advice::tried_in_vain(parts_.network, states, *facts));
    run_.trials.push_back(advice::judge_trial(trial, job, *parts_.sources));
    tried_.push_back({&trial, std::move(*facts)});
  }

  std::optional<evaluation::JobFacts> facts_of(const Trial& trial) {
    if (trial.job) return facts_of_card(trial);
    if (!trial.opened) {
      diagnostics_.add(api::trial_without_day, trial.place,
                       "this trial names no card and no day: add `opened 2031-04-17`; how fresh a "
                       "reading is counts from that day");
      return std::nullopt;
    }
    return evaluation::bind(*parts_.ground, advice::card_of(trial, *parts_.ground), diagnostics_);
  }

  /// The card's path begins in the folder of the rule file.
  std::optional<evaluation::JobFacts> facts_of_card(const Trial& trial) {
    const std::filesystem::path rules(parts_.sources->name(trial.place.source));
    Diagnostics found;
    std::optional<Job> job;
    if (auto card = read_card(rules.parent_path() / *trial.job, found).card)
      job = load_job(std::move(*card), knowledge_, found).job;
    for (const Diagnostic& message : found.list()) {
      // What is wrong with a file as a whole is wrong where the trial names it.
      diagnostics_
          .add({message.name, message.severity}, message.place.value_or(trial.place), message.text)
          .notes = message.notes;
    }
    return job ? std::optional(job->parts().facts) : std::nullopt;
  }

  void count_causes(const std::vector<const Trial*>& chosen) {
    std::vector<bool> expected(parts_.ground->rules->causes.size(), false);
    for (const Trial* trial : chosen) {
      for (const Expectation& line : trial->expectations) {
        const auto* chance = std::get_if<Expectation::Chance>(&line.what);
        const auto causes = advice::causes_in(line);
        if (causes.empty() || (chance != nullptr && !chance->above)) continue;
        expected.at(causes.front().cause.at()) = true;
      }
    }
    run_.causes = expected.size();
    run_.causes_expected =
        static_cast<std::size_t>(std::count(expected.begin(), expected.end(), true));
  }

  const Knowledge::Parts& parts_;
  const Knowledge& knowledge_;
  const TrialOptions& options_;
  Diagnostics& diagnostics_;
  evaluation::Evaluator evaluator_;
  std::vector<advice::TriedTrial> tried_;
  TrialsRun run_;
};

}  // namespace

TrialsRun try_rules(const Knowledge& knowledge, const TrialOptions& options,
                    Diagnostics& diagnostics) {
  return Runner(knowledge.parts(), knowledge, options, diagnostics).run();
}

}  // namespace slipcase

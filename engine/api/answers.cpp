// Questions about a job: evaluate it, make its network, ask the advice stage.
#include "advice/explain.h"
#include "advice/list_rules.h"
#include "advice/rank_job.h"
#include "api/parts.h"
#include "slipcase/ranking.h"
#include "slipcase/reasons.h"
#include "slipcase/rules_list.h"

namespace slipcase {

RankResult rank(const Knowledge& knowledge, const Job& job, const RankOptions& options) {
  Knowledge::Parts& parts = knowledge.parts();
  const evaluation::Evaluation& states = parts.evaluator.evaluate(job.parts().facts);
  advice::JobModel model(parts.network, states, options.memory_bytes,
                         advice::tried_in_vain(parts.network, states, job.parts().facts));
  RankResult result =
      advice::rank_job(model, parts.evaluator, job.parts().title, *parts.sources, options);
  if (auto* ranking = std::get_if<Ranking>(&result)) {
    ranking->rule_files = parts.rule_files;
    ranking->fingerprint = parts.fingerprint;
    ranking->supposed = job.parts().supposed;
  }
  return result;
}

ReasonsResult reasons(const Knowledge& knowledge, const Job& job, std::string_view cause,
                      const RankOptions& options, std::string_view against) {
  Knowledge::Parts& parts = knowledge.parts();
  const evaluation::Evaluation& states = parts.evaluator.evaluate(job.parts().facts);
  advice::JobModel model(parts.network, states, options.memory_bytes,
                         advice::tried_in_vain(parts.network, states, job.parts().facts));
  ReasonsResult result = advice::explain_cause(model, parts.evaluator, job.parts().title, cause,
                                               against, options.tipping, *parts.sources);
  if (auto* why = std::get_if<Reasons>(&result)) why->supposed = job.parts().supposed;
  return result;
}

RulesList list_rules(const Knowledge& knowledge, std::string_view word) {
  return advice::list_rules(knowledge.parts().network, *knowledge.parts().sources, word);
}

}  // namespace slipcase

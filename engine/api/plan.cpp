// Questions about what to do on a job.
#include "advice/next_steps.h"
#include "advice/review_repairs.h"
#include "advice/tipping.h"
#include "api/parts.h"
#include "slipcase/next.h"
#include "slipcase/review.h"

namespace slipcase {

namespace {

ShopCosts costs_for(const Knowledge& knowledge, const NextOptions& options) {
  return options.costs ? *options.costs : costs_of_profile(knowledge);
}

}  // namespace

NextResult next(const Knowledge& knowledge, const Job& job, const NextOptions& options) {
  Knowledge::Parts& parts = knowledge.parts();
  const evaluation::Evaluation& states = parts.evaluator.evaluate(job.parts().facts);
  advice::JobModel model(parts.network, states, options.memory_bytes,
                         advice::tried_in_vain(parts.network, states, job.parts().facts));
  NextResult result = advice::next_steps(model, job.parts().facts, job.parts().title,
                                         costs_for(knowledge, options), options);
  if (auto* advice = std::get_if<NextAdvice>(&result)) advice->supposed = job.parts().supposed;
  if (auto* gone = std::get_if<ComplaintGone>(&result)) gone->supposed = job.parts().supposed;
  return result;
}

ReviewResult review(const Knowledge& knowledge, const Job& job,
                    const std::vector<std::string>& repairs, const NextOptions& options) {
  Knowledge::Parts& parts = knowledge.parts();
  const evaluation::Evaluation& states = parts.evaluator.evaluate(job.parts().facts);
  advice::JobModel model(parts.network, states, options.memory_bytes,
                         advice::tried_in_vain(parts.network, states, job.parts().facts));
  ReviewResult result = advice::review_repairs(model, job.parts().facts, job.parts().title,
                                               costs_for(knowledge, options), repairs, options);
  if (auto* gone = std::get_if<ComplaintGone>(&result)) gone->supposed = job.parts().supposed;
  if (auto* review = std::get_if<Review>(&result)) {
    review->best.supposed = job.parts().supposed;
    if (auto first = advice::first_place(model, 1, *parts.sources))
      review->first_place = std::move(*first);
  }
  return result;
}

}  // namespace slipcase

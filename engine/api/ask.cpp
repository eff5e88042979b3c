// The questionnaire: evaluate the job, make its network, ask the advice stage.
#include "slipcase/ask.h"

#include "advice/questions.h"
#include "api/parts.h"

namespace slipcase {

AskResult next_question(const Knowledge& knowledge, const Job& job,
                        std::span<const std::string> passed_over, std::size_t memory_bytes) {
  Knowledge::Parts& parts = knowledge.parts();
  const evaluation::JobFacts& facts = job.parts().facts;
  const evaluation::Evaluation& states = parts.evaluator.evaluate(facts);
  advice::JobModel model(parts.network, states, memory_bytes,
                         advice::tried_in_vain(parts.network, states, facts));
  return advice::ask_next(model, parts.evaluator, job.parts().title, passed_over, *parts.sources);
}

std::vector<QuestionGroup> find_questions(const Knowledge& knowledge, std::string_view word) {
  return advice::questions_with(*knowledge.parts().ground, word);
}

std::optional<Question> question_about(const Knowledge& knowledge, const Job& job,
                                       std::string_view id) {
  return advice::question_named(*knowledge.parts().ground, job.parts().facts, id);
}

}  // namespace slipcase

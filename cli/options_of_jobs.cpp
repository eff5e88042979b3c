// What the commands about one job or one vehicle take.
#include "options.h"

namespace slipcase::cli {

Added add_rank(CLI::App& app, Request& request) {
  const auto rank = std::make_shared<RankCommand>();
  CLI::App* command = app.add_subcommand("rank", "Causes of a job, most likely first");
  add_card(*command, rank->card);
  command
      ->add_option("--draws", rank->draws,
                   "How often every count is drawn anew to say how sure the ranking is; 0: not")
      ->type_name("N")
      ->check(whole_number(0, 100'000))
      ->capture_default_str();
  add_supposed(*command, request.job);
  add_rule_options(*command, request);
  return added(command, rank);
}

Added add_reasons(CLI::App& app, Request& request) {
  const auto reasons = std::make_shared<ReasonsCommand>();
  CLI::App* command = app.add_subcommand("reasons", "The evidence for and against one cause");
  add_card(*command, reasons->card);
  command->add_option("CAUSE", reasons->cause,
                      "For example \"lining_worn of K2\"; the first of the ranking if left out");
  command
      ->add_option("--against", reasons->against,
                   "Another cause: also say what tells the two apart")
      ->check(not_empty());
  add_supposed(*command, request.job);
  add_rule_options(*command, request);
  return added(command, reasons);
}

Added add_next(CLI::App& app, Request& request) {
  const auto next = std::make_shared<NextCommand>();
  CLI::App* command = app.add_subcommand("next", "What to do next: checks and repairs by worth");
  add_card(*command, next->card);
  command->add_option("--checks", next->checks, "How many checks to show; 5 if left out")
      ->type_name("N")
      ->check(whole_number(1, 12));
  command->add_flag("--all", next->all, "Also how each step is done, and every answer of a check");
  add_supposed(*command, request.job);
  add_costs(*command, request.job);
  add_rule_options(*command, request);
  return added(command, next);
}

Added add_review(CLI::App& app, Request& request) {
  const auto review = std::make_shared<ReviewCommand>();
  CLI::App* command = app.add_subcommand("review", "A second opinion on an intended repair");
  add_card(*command, review->card);
  command
      ->add_option("--repair", review->repairs,
                   "What is intended, for example \"element_pack of K2\"; repeated: done together")
      ->type_name("REPAIR")
      ->allow_extra_args(false)
      ->required();
  add_supposed(*command, request.job);
  add_costs(*command, request.job);
  add_rule_options(*command, request);
  return added(command, review);
}

Added add_ask(CLI::App& app, Request& request) {
  const auto ask = std::make_shared<AskCommand>();
  CLI::App* command = app.add_subcommand(
      "ask", "The questionnaire, most useful question first; answers go onto the card");
  command->add_option("JOB", ask->card, "Job card to write to; made if there is none yet")
      ->required();
  command
      ->add_option("--answer", ask->answers,
                   "Write an answer, for example \"flare of 2-3=always\", and show the next "
                   "question; can be repeated")
      ->type_name("QUESTION=ANSWER")
      ->allow_extra_args(false);
  add_rule_options(*command, request);
  return added(command, ask);
}

Added add_compare(CLI::App& app, Request& request) {
  const auto compare = std::make_shared<CompareCommand>();
  CLI::App* command = app.add_subcommand(
      "compare", "Readings before and after values were cleared or something was repaired");
  add_card(*command, compare->card);
  add_rule_options(*command, request);
  return added(command, compare);
}

Added add_trend(CLI::App& app, Request& request) {
  const auto trend = std::make_shared<TrendCommand>();
  CLI::App* command =
      app.add_subcommand("trend", "What the readings of one vehicle do over all its visits");
  command->add_option("VEHICLE", trend->vehicle, "The vehicle as its cards call it (`ref`)")
      ->check(not_empty())
      ->required();
  add_book(*command, trend->book);
  command->add_flag("--all", trend->all, "A plot of every reading, not only of those that moved");
  add_rule_options(*command, request);
  return added(command, trend);
}

}  // namespace slipcase::cli

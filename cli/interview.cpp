#include "interview.h"

#include <algorithm>
#include <iostream>

#include "messages.h"
#include "slipcase/book.h"
#include "slipcase/write_card.h"
#include "terminal.h"

namespace slipcase::cli {

Interview::Interview(const Request& request, std::filesystem::path path, LoadedCard loaded)
    : request_(request),
      path_(std::move(path)),
      knowledge_(loaded.rules.knowledge),
      sources_(loaded.rules.sources),
      card_(std::move(loaded.card)),
      job_(std::move(loaded.job)) {}

AskResult Interview::next() const {
  return next_question(knowledge_, job_, passed_over_,
                       std::size_t{request_.output.memory_megabytes} << 20U);
}

bool Interview::is_passed_over(const std::string& id) const {
  return std::find(passed_over_.begin(), passed_over_.end(), id) != passed_over_.end();
}

std::string Interview::closed() const { return account_of(card_, knowledge_).head.closed; }

Interview::Saved Interview::save(const Question& question, const GivenAnswer& given) {
  return write(question, [&](std::string_view text) { return changes_for(question, given, text); });
}

Interview::Saved Interview::save_time(const Question& question, const GivenTime& given) {
  return write(question,
               [&](std::string_view text) { return changes_for_time(question, given, text); });
}

Interview::Saved Interview::write(const Question& question, const ChangesOf& changes_of) {
  // Each further turn is one in which somebody else got something written.
  for (;;) {
    const Changes changes = changes_of(card_.text);
    if (const auto* wrong = std::get_if<std::string>(&changes)) {
      print_error(wrong_answer, *wrong, request_.output.json);
      return Saved::no;
    }
    Diagnostics diagnostics;
    CardWrite written = write_card(path_, card_, std::get<std::vector<CardChange>>(changes),
                                   knowledge_, diagnostics);
    // Warnings about the card were told when it was read.
    if (diagnostics.has_errors()) print_messages(diagnostics, *sources_, request_.output.json);
    if (written.outcome == CardWritten::refused) return Saved::no;
    if (written.outcome == CardWritten::failed) return Saved::failed;
    if (written.outcome == CardWritten::done) {
      card_ = std::move(*written.card);
      job_ = std::move(*written.job);
      return Saved::yes;
    }
    if (const auto stopped = read_again(question)) return *stopped;
  }
}

std::optional<Interview::Saved> Interview::read_again(const Question& question) {
  const BookCard before = account_of(card_, knowledge_).head;
  auto loaded = load_card_and_rules(request_, path_);
  if (!std::holds_alternative<LoadedCard>(loaded)) return Saved::failed;
  auto& fresh = std::get<LoadedCard>(loaded);
  const BookCard now = account_of(fresh.card, fresh.rules.knowledge).head;
  if (now.job != before.job || now.opened != before.opened || now.vehicle != before.vehicle) {
    print_error(card_changed, "the file holds another job by now; nothing was written to it",
                request_.output.json);
    return Saved::failed;
  }
  knowledge_ = std::move(fresh.rules.knowledge);
  sources_ = std::move(fresh.rules.sources);
  card_ = std::move(fresh.card);
  job_ = std::move(fresh.job);
  const auto there = about(question.id);
  if (there && there->now != question.now) {
    print_error(card_changed,
                "somebody else has written to the card: `" + question.id + "` is `" + there->now +
                    "` there now; yours was not written",
                request_.output.json);
    return Saved::overtaken;
  }
  if (!request_.output.json)
    std::cout << "  (somebody else has written to the card; your answer is added to it)\n";
  return std::nullopt;
}

}  // namespace slipcase::cli

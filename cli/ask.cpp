#include "ask.h"

#include <algorithm>
#include <iostream>

#include "line_reader.h"
#include "make_card.h"
#include "messages.h"
#include "session.h"
#include "slipcase/ask.h"
#include "slipcase/write_card.h"
#include "terminal.h"

namespace slipcase::cli {

namespace {

constexpr std::string_view keys =
    " ? why this is asked   s skip   b back   /word another question   q stop\n";

/// A card that is asked about and written to, answer by answer.
class Interview {
 public:
  Interview(const Request& request, std::filesystem::path path, LoadedCard loaded)
      : request_(request),
        path_(std::move(path)),
        knowledge_(loaded.rules.knowledge),
        sources_(loaded.rules.sources),
        card_(std::move(loaded.card)),
        job_(std::move(loaded.job)) {}

  [[nodiscard]] AskResult next() const {
    return next_question(knowledge_, job_, passed_over_,
                         std::size_t{request_.output.memory_megabytes} << 20U);
  }
  [[nodiscard]] std::optional<Question> about(std::string_view id) const {
    return question_about(knowledge_, job_, id);
  }
  [[nodiscard]] std::vector<QuestionGroup> with(std::string_view word) const {
    return find_questions(knowledge_, word);
  }
  void pass_over(const std::string& id) { passed_over_.push_back(id); }

  enum class Saved : std::uint8_t { yes, no, machine_failed };

  Saved save(const Question& question, const GivenAnswer& given) {
    // Each further turn is one in which somebody else got something written.
    for (;;) {
      const auto changes = changes_for(question, given, card_.text);
      if (const auto* wrong = std::get_if<std::string>(&changes)) {
        print_error(wrong_answer, *wrong, request_.output.json);
        return Saved::no;
      }
      Diagnostics diagnostics;
      CardWrite written = write_card(path_, card_, std::get<std::vector<CardChange>>(changes),
                                     knowledge_, diagnostics);
      print_messages(diagnostics, *sources_, request_.output.json);
      if (written.outcome == CardWritten::refused) return Saved::no;
      if (written.outcome == CardWritten::failed) return Saved::machine_failed;
      if (written.outcome == CardWritten::done) {
        card_ = std::move(*written.card);
        job_ = std::move(*written.job);
        return Saved::yes;
      }
      if (!read_again(question, given)) return Saved::no;
    }
  }

 private:
  /// Somebody else wrote to the card. False: what they wrote answers the question already, or
  /// cannot be read.
  bool read_again(const Question& question, const GivenAnswer& given) {
    auto loaded = load_card_and_rules(request_, path_);
    if (!std::holds_alternative<LoadedCard>(loaded)) return false;
    auto& fresh = std::get<LoadedCard>(loaded);
    knowledge_ = std::move(fresh.rules.knowledge);
    sources_ = std::move(fresh.rules.sources);
    card_ = std::move(fresh.card);
    job_ = std::move(fresh.job);
    const auto there = about(question.id);
    if (there && there->now != question.now) {
      print_error(card_changed,
                  "somebody else has written to the card: `" + question.id + "` is `" + there->now +
                      "` there now. Your answer `" + given.answer + "` was not written",
                  request_.output.json);
      return false;
    }
    std::cout << "  (somebody else has written to the card; your answer is added to it)\n";
    return true;
  }

  const Request& request_;
  std::filesystem::path path_;
  Knowledge knowledge_;
  std::shared_ptr<SourceSet> sources_;
  CardText card_;
  Job job_;
  std::vector<std::string> passed_over_;
};

/// The talk: questions until there is none, or whoever answers has had enough.
class Talk {
 public:
  Talk(Interview& interview, const LineReader& lines) : interview_(interview), lines_(lines) {}

  Exit run() {
    std::cout << keys;
    while (!over_) {
      if (auto picked = std::exchange(picked_, std::nullopt)) {
        put(*picked);
        continue;
      }
      const AskResult result = interview_.next();
      if (const auto* question = std::get_if<Question>(&result)) {
        put(*question);
        continue;
      }
      return finish(result);
    }
    return exit_;
  }

 private:
  static Exit finish(const AskResult& result) {
    const auto text = [](const auto& one) { return to_text(one, style_of_standard_output()); };
    const Exit printed = print_result(std::visit(text, result), false);
    if (std::holds_alternative<NothingToAsk>(result) || printed != Exit::done) return printed;
    std::cout << " Put one of these answers right on the card, then ask again.\n";
    return Exit::input_errors;
  }

  void stop(Exit exit) {
    over_ = true;
    exit_ = exit;
  }

  void put(const Question& question) {
    std::cout << to_text(question, style_of_standard_output());
    for (;;) {
      const auto line = lines_.read("> ");
      if (!line || *line == "q") return stop(Exit::done);
      if (line->empty()) continue;
      if (*line == "?") {
        std::cout << why_text(question, style_of_standard_output()) << keys;
      } else if (*line == "s") {
        interview_.pass_over(question.id);
        asked_.push_back(question.id);
        return;
      } else if (*line == "b") {
        if (go_back()) return;
      } else if (line->front() == '/') {
        if (pick(line->substr(1))) return;
      } else if (answer(question, *line)) {
        return;
      }
    }
  }

  bool go_back() {
    while (!asked_.empty()) {
      picked_ = interview_.about(asked_.back());
      asked_.pop_back();
      if (!picked_) continue;
      if (picked_->kind != QuestionKind::event || picked_->now.empty()) return true;
      std::cout << "  `" << picked_->id << "` stands on the card as `" << picked_->now
                << "`: to take it back, take its line out of the card\n";
      picked_.reset();
    }
    std::cout << "  this is where we began\n";
    return false;
  }

  /// A question by a word of it.
  bool pick(const std::string& word) {
    constexpr std::size_t most = 12;
    std::vector<QuestionGroup> groups = interview_.with(word);
    if (groups.empty()) {
      std::cout << "  no question has `" << word << "` in it\n";
      return false;
    }
    if (groups.size() > most) {
      std::cout << "  " << groups.size() << " questions have that; the first " << most << ":\n";
      groups.resize(most);
    }
    for (std::size_t i = 0; i < groups.size(); ++i)
      std::cout << "  " << i + 1 << "  " << groups[i].asks << "\n";
    const auto number = lines_.read("  which? (Enter: none) ");
    if (!number) return stop(Exit::done), true;
    const auto at = std::find_if(groups.begin(), groups.end(), [&](const QuestionGroup& group) {
      return std::to_string(&group - groups.data() + 1) == *number;
    });
    return at != groups.end() && pick(*at);
  }

  bool pick(const QuestionGroup& group) {
    std::string id = group.name;
    if (!group.members.empty()) {
      std::string prompt = "  for which of them (";
      for (std::size_t i = 0; i < group.members.size(); ++i)
        prompt += (i > 0 ? " " : "") + group.members[i];
      const auto member = lines_.read(prompt + ")? ");
      if (!member) return stop(Exit::done), true;
      id += " of " + *member;
    }
    picked_ = interview_.about(id);
    if (!picked_) std::cout << "  there is no `" << id << "`\n";
    return picked_.has_value();
  }

  bool answer(const Question& question, const std::string& line) {
    const bool by_word = question.kind == QuestionKind::complaint && question.choices.empty();
    if (by_word) return pick(line);
    GivenAnswer given;
    given.answer = line;
    if (line == "o" && question.takes_others) {
      given.answer = "no";
      given.others = true;
    }
    if (question.takes_when && is_yes(question, line) && !ask_when(given)) return true;
    switch (interview_.save(question, given)) {
      case Interview::Saved::no:
        return false;
      case Interview::Saved::machine_failed:
        stop(Exit::machine_failure);
        return true;
      case Interview::Saved::yes:
        break;
    }
    if (question.kind == QuestionKind::complaint) interview_.pass_over(question.id);
    asked_.push_back(question.id);
    if (const auto now = interview_.about(question.id);
        now && question.kind != QuestionKind::complaint)
      std::cout << "  on the card: " << question.id << ": " << now->now << "\n";
    return true;
  }

  static bool is_yes(const Question& question, const std::string& line) {
    return std::any_of(question.choices.begin(), question.choices.end(), [&](const auto& choice) {
      return choice.value == "yes" &&
             (line == choice.key || line == choice.word || line == choice.value);
    });
  }

  /// False: the input ended; what was said so far is not written.
  bool ask_when(GivenAnswer& given) {
    const auto when = lines_.read("  when? such as 2031-03-02 or 91400 miles (Enter: not known) ");
    const auto by = when ? lines_.read("  by whom? 1 us, 2 others (Enter: not known) ") : when;
    if (!by || *when == "q" || *by == "q") {
      stop(Exit::done);
      return false;
    }
    given.when = *when == "?" ? std::string() : *when;
    given.by_others = *by == "2" || *by == "others";
    given.by_us = *by == "1" || *by == "us";
    return true;
  }

  Interview& interview_;
  const LineReader& lines_;
  std::vector<std::string> asked_;
  std::optional<Question> picked_;
  bool over_ = false;
  Exit exit_ = Exit::done;
};

Exit unknown_question(const Request& request, const std::string& id) {
  print_error(asked_unknown,
              "the rules have no question about `" + id +
                  "`; `slipcase rules list` shows findings, events and details by name",
              request.output.json);
  return Exit::input_errors;
}

/// Answers from the command line, then the question that comes next.
Exit answer_all(const Request& request, const AskCommand& command, Interview& interview) {
  for (const std::string& text : command.answers) {
    const std::size_t split = text.find('=');
    const std::string id = text.substr(0, split);
    const auto question = interview.about(id);
    if (!question || split == std::string::npos) return unknown_question(request, id);
    switch (interview.save(*question, {text.substr(split + 1), false, {}, false, false})) {
      case Interview::Saved::yes:
        break;
      case Interview::Saved::no:
        return Exit::input_errors;
      case Interview::Saved::machine_failed:
        return Exit::machine_failure;
    }
  }
  const AskResult result = interview.next();
  const auto text = [&](const auto& one) {
    return request.output.json ? to_json(one) : to_text(one, style_of_standard_output());
  };
  const Exit printed = print_result(std::visit(text, result), request.output.json);
  const bool asked =
      std::holds_alternative<Question>(result) || std::holds_alternative<NothingToAsk>(result);
  return printed == Exit::done && !asked ? Exit::input_errors : printed;
}

}  // namespace

Exit run_command(const Request& request, const AskCommand& command) {
  if (command.card == "-") {
    print_error(wrong_usage, "answers are written to the card: name its file, not -",
                request.output.json);
    return Exit::wrong_usage;
  }
  const bool batch = request.output.json || !command.answers.empty();
  const LineReader lines;
  std::error_code code;
  const bool fresh = !batch && !std::filesystem::exists(command.card, code) && !code;
  auto loaded = fresh ? make_card_for(request, command.card, lines)
                      : load_card_and_rules(request, command.card);
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  Interview interview(request, command.card, std::move(std::get<LoadedCard>(loaded)));
  return batch ? answer_all(request, command, interview) : Talk(interview, lines).run();
}

}  // namespace slipcase::cli

#include "ask.h"

#include <algorithm>
#include <iostream>
#include <set>

#include "interview.h"
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
    " ? why this is asked  s skip, k all of its kind  b back  /word another question  q stop\n";

/// The talk: questions until there is none, or whoever answers has had enough.
class Talk {
 public:
  Talk(Interview& interview, const LineReader& lines) : interview_(interview), lines_(lines) {}

  Exit run() {
    std::cout << keys;
    if (const std::string day = interview_.closed(); !day.empty())
      std::cout << " This job was closed on " << day << "; answers are written all the same.\n";
    while (!over_) {
      if (auto picked = std::exchange(picked_, std::nullopt)) {
        put(*picked);
        continue;
      }
      const AskResult result = interview_.next();
      if (const auto* question = std::get_if<Question>(&result)) {
        warn(question->cautions);
        put(*question);
        continue;
      }
      if (const auto* nothing = std::get_if<NothingToAsk>(&result)) warn(nothing->cautions);
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

  /// Each caution once, as soon as an answer asks for it.
  void warn(const std::vector<CautionReport>& cautions) {
    std::vector<CautionReport> fresh;
    for (const CautionReport& caution : cautions)
      if (warned_.insert(caution.id).second) fresh.push_back(caution);
    std::cout << cautions_text(fresh, style_of_standard_output());
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
        return skip(question.id);
      } else if (*line == "k") {
        skip_kind(question);
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

  void skip(const std::string& id) {
    interview_.pass_over(id);
    asked_.push_back(id);
  }

  void skip_kind(const Question& question) {
    const std::string name = question.id.substr(0, question.id.find(" of "));
    for (const QuestionGroup& group : interview_.with(name)) {
      if (group.name != name) continue;
      for (const std::string& member : group.members) interview_.pass_over(name + " of " + member);
    }
    skip(question.id);
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
    std::cout << to_text(groups, most, style_of_standard_output());
    if (groups.size() > most) groups.resize(most);
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
      std::cout << parts_text(group, style_of_standard_output());
      const auto member = lines_.read("  which? ");
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
    GivenAnswer given{line, false};
    if (line == "o" && question.takes_others) given = {"no", true};
    if (!saved(interview_.save(question, given))) return over_ || overtaken_;
    asked_.push_back(question.id);
    const auto now = interview_.about(question.id);
    const bool ours_undone = now && question.kind == QuestionKind::event && now->now.empty();
    if (question.kind == QuestionKind::complaint || ours_undone) {
      interview_.pass_over(question.id);
      return true;
    }
    if (now) std::cout << "  on the card: " << question.id << ": " << now->now << "\n";
    if (given.others) std::cout << "  and no for all others that the card does not name\n";
    if (question.takes_when && now && now->now == "yes") ask_when(question);
    return true;
  }

  /// What stopped the saving was told.
  bool saved(Interview::Saved outcome) {
    overtaken_ = outcome == Interview::Saved::overtaken;
    if (outcome == Interview::Saved::failed) stop(Exit::machine_failure);
    return outcome == Interview::Saved::yes;
  }

  /// The event is on the card; when it was is added to it.
  void ask_when(const Question& question) {
    for (;;) {
      const auto when =
          lines_.read("  when? such as 2031-03-02 or 91400 miles (Enter: not known) ");
      if (!when || *when == "q") return stop(Exit::done);
      const bool known = !when->empty() && *when != "?";
      if (!known || saved(interview_.save_time(question, {*when, {}}))) {
        if (question.list == "events") ask_by_whom(question);
        return;
      }
      if (over_ || overtaken_) return;
    }
  }

  void ask_by_whom(const Question& question) {
    for (;;) {
      const auto by = lines_.read("  by whom? 1 us, 2 others (Enter: not known) ");
      if (!by || *by == "q") return stop(Exit::done);
      if (by->empty() || *by == "?") return;
      const bool us = *by == "1" || *by == "us";
      if (!us && *by != "2" && *by != "others") continue;
      static_cast<void>(saved(interview_.save_time(question, {{}, us ? "us" : "others"})));
      return;
    }
  }

  Interview& interview_;
  const LineReader& lines_;
  std::vector<std::string> asked_;
  std::optional<Question> picked_;
  std::set<std::string> warned_;
  bool overtaken_ = false;
  bool over_ = false;
  Exit exit_ = Exit::done;
};

Exit unknown_question(const Request& request, const Interview& interview, const std::string& id) {
  std::string text = "the rules have no question about `" + id + "`";
  const auto groups = interview.with(id);
  const auto same = std::find_if(groups.begin(), groups.end(),
                                 [&id](const QuestionGroup& group) { return group.name == id; });
  if (same != groups.end() && !same->members.empty())
    text += "; say of which part: `" + id + " of " + same->members.front() + "`";
  else
    text += "; `slipcase rules list` shows findings, events and details by name";
  print_error(asked_unknown, text, request.output.json);
  return Exit::input_errors;
}

std::string trimmed(const std::string& text) {
  const std::size_t first = text.find_first_not_of(' ');
  return first == std::string::npos ? ""
                                    : text.substr(first, text.find_last_not_of(' ') - first + 1);
}

/// "yes 2031-03-02": the answer, and when.
std::pair<std::string, std::string> with_time(const Question& question, const std::string& text) {
  const std::size_t blank = text.find(' ');
  const bool split = question.takes_when && text.starts_with("y") && blank != std::string::npos;
  return split ? std::pair(text.substr(0, blank), trimmed(text.substr(blank)))
               : std::pair(text, std::string());
}

Exit write_answer(const Request& request, const std::string& text, Interview& interview) {
  const std::size_t split = text.find('=');
  const std::string id = trimmed(text.substr(0, split));
  const auto question = interview.about(id);
  if (!question) return unknown_question(request, interview, id);
  if (split == std::string::npos) {
    print_error(wrong_answer, "no answer stands behind `" + id + "`: write `" + id + "=...`",
                request.output.json);
    return Exit::input_errors;
  }
  const auto [answer, when] = with_time(*question, trimmed(text.substr(split + 1)));
  auto saved = interview.save(*question, {answer, false});
  const auto written = interview.about(id);
  if (saved == Interview::Saved::yes && !when.empty() && written)
    saved = interview.save_time(*written, {when, {}});
  if (saved == Interview::Saved::yes) return Exit::done;
  return saved == Interview::Saved::failed ? Exit::machine_failure : Exit::input_errors;
}

/// Answers from the command line, then the question that comes next.
Exit answer_all(const Request& request, const AskCommand& command, Interview& interview) {
  for (std::size_t i = 0; i < command.answers.size(); ++i) {
    const Exit written = write_answer(request, command.answers[i], interview);
    if (written == Exit::done) continue;
    if (i > 0 && !request.output.json)
      std::cerr << "slipcase: the answers before that one are on the card\n";
    return written;
  }
  const AskResult result = interview.next();
  const auto text = [&](const auto& one) {
    if (request.output.json) return to_json(one);
    std::string out;
    if constexpr (requires { one.cautions; })
      out = cautions_text(one.cautions, style_of_standard_output());
    return out + to_text(one, style_of_standard_output());
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

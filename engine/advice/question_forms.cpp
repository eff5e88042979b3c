#include "advice/question_forms.h"

#include <algorithm>

#include <fmt/core.h>

#include "support/suggest.h"

namespace slipcase::advice {

namespace {

using evaluation::DetailFact;
using evaluation::JobFacts;
using grounding::GroundRules;

class Choices {
 public:
  void add(std::string word, std::string value, std::string says) {
    list_.push_back(
        {std::to_string(list_.size() + 1), std::move(word), std::move(value), std::move(says)});
  }
  /// "No" is as quick to give as "yes", and is not "nobody knows".
  void add_no_and_not_sure() {
    add("n", "no", "no, looked and it is not there");
    add_not_sure();
  }
  void add_not_sure() { add("u", "not sure", "not sure"); }

  [[nodiscard]] std::vector<AnswerChoice> take() { return std::move(list_); }

 private:
  std::vector<AnswerChoice> list_;
};

std::vector<AnswerChoice> yes_no_choices() {
  Choices choices;
  choices.add("y", "yes", "yes");
  choices.add("n", "no", "no");
  choices.add_not_sure();
  return choices.take();
}

std::string said(const rulebase::Finding& declared, const evaluation::Answer& answer) {
  switch (answer.said) {
    case evaluation::Answer::Said::nothing:
      return {};
    case evaluation::Answer::Said::not_sure:
      return "not sure";
    case evaluation::Answer::Said::no:
      return "no";
    case evaluation::Answer::Said::yes:
      break;
  }
  return answer.grade == 0 || declared.grades.empty() ? "yes"
                                                      : declared.grades.at(answer.grade - 1).name;
}

std::string form_of(const rulebase::Detail& declared) {
  if (declared.type == rulebase::Detail::Type::date) return "a day, such as 2031-04-17";
  const auto units = units::spellings_of(declared.dimension);
  std::vector<std::string> names(units.begin(), units.end());
  constexpr std::size_t most_named = 6;
  if (names.size() > most_named) names.resize(most_named);
  return "a number with its unit: " + quoted_list(names);
}

std::string said(const rulebase::Detail& declared, const DetailFact& fact) {
  switch (fact.kind) {
    case DetailFact::Kind::unknown:
      return fact.place ? "not sure" : "";
    case DetailFact::Kind::yes_no:
      return fact.yes ? "yes" : "no";
    case DetailFact::Kind::word:
      return declared.words.at(fact.word);
    case DetailFact::Kind::number:
      return "given";
  }
  return {};
}

}  // namespace

Question question_of(const GroundRules& ground, const JobFacts& facts,
                     grounding::GroundFinding finding) {
  const rulebase::Finding& declared = ground.declaration(finding);
  Question question;
  question.kind = QuestionKind::finding;
  question.id = ground.name_of(finding);
  question.asks = ground.asks(finding);
  question.takes_others = ground.scope_of(finding).has_value();
  question.now = said(declared, facts.answers.at(finding.at()));
  Choices choices;
  if (declared.grades.empty()) choices.add("y", "yes", "yes");
  for (const rulebase::GradeLine& grade : declared.grades) choices.add("", grade.name, grade.name);
  choices.add_no_and_not_sure();
  question.choices = choices.take();
  return question;
}

Question question_of(const GroundRules& ground, const JobFacts& facts,
                     grounding::GroundEvent event) {
  Question question;
  question.kind = QuestionKind::event;
  question.id = ground.name_of(event);
  question.asks = ground.asks(event);
  question.takes_when = true;
  question.choices = yes_no_choices();
  const grounding::Origin& origin = ground.events.origins.at(event.at());
  const auto& done_by = ground.rules->events.at(origin.declaration).done_by;
  question.list = std::holds_alternative<rulebase::CheckId>(done_by)    ? "checks"
                  : std::holds_alternative<rulebase::RepairId>(done_by) ? "repairs"
                                                                        : "events";
  const auto [first, last] = facts.occurrences.range(event.index);
  if (first != last)
    question.now = "yes";
  else if (facts.history.at(event.at()))
    question.now = "no";
  else if (facts.events_asked.at(event.at()))
    question.now = "not sure";
  return question;
}

Question question_of(const GroundRules& ground, const JobFacts& facts,
                     grounding::GroundDetail detail) {
  const rulebase::Detail& declared =
      ground.rules->details.at(ground.details.origins.at(detail.at()).declaration);
  Question question;
  question.kind = QuestionKind::detail;
  question.id = ground.name_of(detail);
  question.asks = ground.asks(detail);
  question.now = said(declared, facts.details.at(detail.at()));
  if (declared.type == rulebase::Detail::Type::yes_no) {
    question.choices = yes_no_choices();
  } else if (declared.type == rulebase::Detail::Type::choice) {
    Choices choices;
    for (const std::string& word : declared.words) choices.add("", word, word);
    choices.add_not_sure();
    question.choices = choices.take();
  } else {
    question.form = form_of(declared);
  }
  return question;
}

Question codes_question(const GroundRules& ground, const JobFacts& facts, std::size_t controller) {
  const std::string& name = ground.profile->controllers.at(controller).name;
  const bool own = name == ground.profile->own_controller;
  const bool read = facts.controllers_read.at(controller) || (own && facts.own_controller_read);
  Question question;
  question.kind = QuestionKind::codes;
  question.reason = QuestionReason::codes;
  question.id = "codes of " + name;
  question.asks = fmt::format("Which codes are stored in the controller `{}`?", name);
  question.form =
      "codes with blanks between, such as P0733 P0735, or none; skip if it was not read";
  if (read) question.now = "read";
  question.own_controller = ground.profile->own_controller;
  question.why.push_back(
      "A code that is not stored counts only if its controller was read. Write codes down before "
      "anybody clears them.");
  return question;
}

Question what_it_came_for() {
  Question question;
  question.kind = QuestionKind::complaint;
  question.reason = QuestionReason::names_complaint;
  question.id = "complaint";
  question.asks = "What is the car here for?";
  question.form =
      "a word of it finds the question to answer, such as flare, kick, reverse, shudder, warning; "
      "skip if none fits";
  question.why.push_back(
      "All other questions are chosen by what is known: begin with what brought "
      "the car.");
  return question;
}

Question complaint_question(const GroundRules& ground, grounding::GroundFinding finding) {
  Question question;
  question.kind = QuestionKind::complaint;
  question.reason = QuestionReason::names_complaint;
  question.id = ground.name_of(finding);
  question.asks = fmt::format("\"{}\": is that what the car came for?", ground.says(finding));
  Choices choices;
  choices.add("y", "yes", "yes");
  choices.add("n", "no", "no");
  question.choices = choices.take();
  question.why.push_back("Plans are made for the complaint: what a repair has to end.");
  return question;
}

}  // namespace slipcase::advice

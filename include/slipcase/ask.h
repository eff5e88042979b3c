// The questionnaire: what to ask next about a job, and what an answer changes on its card.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "slipcase/card_value.h"
#include "slipcase/job.h"
#include "slipcase/ranking.h"

namespace slipcase {

enum class QuestionKind : std::uint8_t {
  event,      // did it happen, and when
  codes,      // which trouble codes a controller holds
  finding,    // what somebody saw
  detail,     // what is so about the job
  complaint,  // is a finding what the car came for; with the id "complaint": which one is it
};

/// Why a question comes where it comes.
enum class QuestionReason : std::uint8_t {
  evidence,  // decides whether what is on the card may be used; asked before all others
  safety,    // a caution goes with what is asked
  codes,     // what the controllers stored; asked before anyone is asked what it feels like
  names_complaint,
  tells,  // by what it tells about the causes
};

struct AnswerChoice {
  std::string key;    // "1"
  std::string word;   // "y", "n" or "u" for short; may be empty
  std::string value;  // as it is written on a card: "always", "no", "not sure"
  std::string says;   // for people: "no, looked and it is not there"
};

/// What one answer would make of the ranking.
struct QuestionOutcome {
  std::string answer;  // for people
  std::optional<Probability> chance;
  std::string first;  // the cause to start with then, for people
};

struct Question {
  QuestionKind kind = QuestionKind::finding;
  QuestionReason reason = QuestionReason::tells;
  std::string id;    // as on a card: "flare of 2-3", "values_cleared", "codes of engine", "use"
  std::string asks;  // for people
  std::vector<AnswerChoice> choices;  // empty: the answer is typed
  std::string form;                   // how a typed answer looks: "a voltage, such as 10.4 V"
  bool takes_others = false;     // of a finding: "no" may be given for all parts that nothing names
  bool takes_when = false;       // of an event: a "yes" may come with a day or an odometer
  std::string now;               // the answer on the card; "" for none
  double information = 0.0;      // expected, about single causes, summed, in bits
  std::vector<std::string> why;  // for people, a sentence each
  std::vector<QuestionOutcome> outcomes;
};

/// No open question is worth asking.
struct NothingToAsk {
  std::string job;
  std::size_t open = 0;         // questions that nobody has answered and that tell next to nothing
  std::size_t passed_over = 0;  // that nobody has answered
  std::optional<MissingFinding> best_check;  // what tells most for its time now is no question
};

using AskResult = std::variant<Question, NothingToAsk, ImpossibleEvidence, TooWide>;

/// `passed_over`: ids of questions that are not to be asked now.
[[nodiscard]] AskResult next_question(const Knowledge& knowledge, const Job& job,
                                      std::span<const std::string> passed_over = {},
                                      std::size_t memory_bytes = std::size_t{2} << 30U);

/// The question about this finding, event or detail, open or not; nothing if there is none.
[[nodiscard]] std::optional<Question> question_about(const Knowledge& knowledge, const Job& job,
                                                     std::string_view id);

/// Questions about one thing, once for all its parts.
struct QuestionGroup {
  std::string name;                  // "flare"
  std::string asks;                  // "Do the revs jump up for a moment when it shifts {shift}?"
  std::vector<std::string> members;  // "1-2", ...; empty: it has no parts
};

/// Those with `word` in their name or text, capitals aside, in the order of the rules.
[[nodiscard]] std::vector<QuestionGroup> find_questions(const Knowledge& knowledge,
                                                        std::string_view word);

struct GivenAnswer {
  std::string answer;  // a choice's key, word or value, or what was typed
  bool others = false;
  std::string when;  // "2031-03-02", "91400 miles"; empty: not known
  bool by_us = false;
  bool by_others = false;
};

/// What the answer changes on the card whose text this is; a text for people where it is none.
/// Whether a typed value is right shows when the changed card is read (write_card).
[[nodiscard]] std::variant<std::vector<CardChange>, std::string> changes_for(
    const Question& question, const GivenAnswer& given, std::string_view card_text);

}  // namespace slipcase

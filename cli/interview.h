// A card that is asked about and written to, answer by answer.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "command_line.h"
#include "session.h"
#include "slipcase/ask.h"

namespace slipcase::cli {

class Interview {
 public:
  Interview(const Request& request, std::filesystem::path path, LoadedCard loaded);

  [[nodiscard]] AskResult next() const;
  [[nodiscard]] std::optional<Question> about(std::string_view id) const {
    return question_about(knowledge_, job_, id);
  }
  [[nodiscard]] std::vector<QuestionGroup> with(std::string_view word) const {
    return find_questions(knowledge_, word);
  }
  void pass_over(const std::string& id) { passed_over_.push_back(id); }
  [[nodiscard]] bool is_passed_over(const std::string& id) const;
  /// The day on which the job was closed; empty: it is open.
  [[nodiscard]] std::string closed() const;

  enum class Saved : std::uint8_t {
    yes,
    no,         // it is no answer, or the card would be wrong with it: told
    overtaken,  // somebody else has answered the question: told
    failed,     // nothing can be written: told
  };
  Saved save(const Question& question, const GivenAnswer& given);
  /// When the event of the question was, which is on the card by now.
  Saved save_time(const Question& question, const GivenTime& given);

 private:
  using Changes = std::variant<std::vector<CardChange>, std::string>;
  using ChangesOf = std::function<Changes(std::string_view card_text)>;

  Saved write(const Question& question, const ChangesOf& changes_of);
  /// Somebody else wrote to the card. Nothing where the question is open there still.
  std::optional<Saved> read_again(const Question& question);

  const Request& request_;
  std::filesystem::path path_;
  Knowledge knowledge_;
  std::shared_ptr<SourceSet> sources_;
  CardText card_;
  Job job_;
  std::vector<std::string> passed_over_;
};

}  // namespace slipcase::cli

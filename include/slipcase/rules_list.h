// What is in the rules, with the shares of all jobs that they imply.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "slipcase/knowledge.h"
#include "slipcase/probability.h"

namespace slipcase {

struct ListedCause {
  struct Raised {
    std::string when;  // the condition as the rule writes it
    Probability rate;  // with that condition alone
  };
  std::string id;
  std::string says;
  std::string group;
  std::string place;  // "drums.rules:12:7"
  Probability rate;   // `found in`
  Probability share;  // of all jobs, with what other causes make of it
  std::vector<Raised> raised;
};

struct ListedFinding {
  struct GradeRate {
    std::string grade;             // "" for an ungraded finding; "raised or more", "high"
    double share = 0.0;            // of all jobs that come in
    double share_by_causes = 0.0;  // were there nothing but the listed causes
    double otherwise = 0.0;        // of jobs with none of the listed causes
  };
  std::string id;
  std::string says;
  std::string place;
  std::size_t causes = 0;  // that feed it directly
  std::vector<GradeRate> rates;
  std::string asks;                 // the question; "": nobody is asked
  std::vector<std::string> grades;  // weakest first; none: answered yes or no
  bool worked_out = false;          // of readings, codes, details or other findings
  bool result_of_check = false;     // answered where the check of that name is done
  std::string family;               // "flare of SHIFT"; "": it stands by itself
  std::string family_says;          // the text with the name of the scope in place of the member
  std::string family_asks;
  std::size_t members = 1;  // of the family, listed or not
};

struct ListedName {
  std::string kind;  // "check", "repair", "event" ...
  std::string id;
  std::string says;
  std::string place;
  std::string asks;                  // of a detail or an event
  std::vector<std::string> answers;  // the choices of a detail; what a check answers
};

struct RulesList {
  std::vector<ListedCause> causes;
  std::vector<ListedFinding> findings;
  std::vector<ListedName> others;
};

/// Everything whose name or text holds `word` (any case); all of it for an empty word.
[[nodiscard]] RulesList list_rules(const Knowledge& knowledge, std::string_view word);

}  // namespace slipcase

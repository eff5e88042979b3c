#include "reference/rule_text.h"

#include <iterator>

#include <fmt/core.h>

namespace reference {

namespace {

/// "Never without a listed cause" is read as half a count, so it is counted over as many jobs as
/// the language allows: 5 in 10^19 is far below what these tests can see.
Share stated(const Share& otherwise) {
  return otherwise.hits > 0 ? otherwise : Share{0, 1'000'000'000'000'000'000};
}

}  // namespace

RuleText::RuleText() : text_("language 1\n\n") {}

void RuleText::cause(std::string_view name, const Share& found,
                     const std::vector<std::pair<std::string, Share>>& shows) {
  auto out = std::back_inserter(text_);
  fmt::format_to(out, "cause {}\n  found in {} jobs\n", name, in_words(found));
  for (const auto& [finding, share] : shows) {
    fmt::format_to(out, "  shows {} in {} jobs\n", finding, in_words(share));
  }
  text_ += '\n';
}

void RuleText::finding(std::string_view name, const Share& otherwise) {
  fmt::format_to(std::back_inserter(text_),
                 "finding {0}\n  asks \"{0}?\"\n  otherwise in {1} jobs\n\n", name,
                 in_words(stated(otherwise)));
}

void RuleText::check(std::string_view name, std::string_view flagged, const Share& bad,
                     const Share& good) {
  fmt::format_to(std::back_inserter(text_),
                 "check {}\n  takes 10 minutes\n  flags {} in {} bad, in {} good\n\n", name,
                 flagged, in_words(bad), in_words(good));
}

std::string card_text(const Answers& answers) {
  std::string text = "job: reference\nunit: six_speed\nopened: 2031-04-17\n";
  auto out = std::back_inserter(text);
  if (!answers.findings.empty()) text += "answers:\n";
  for (const auto& [name, seen] : answers.findings) {
    fmt::format_to(out, "  {}: {}\n", name, seen ? "yes" : "no");
  }
  if (!answers.checks.empty()) text += "checks:\n";
  for (const auto& [name, seen] : answers.checks) {
    fmt::format_to(out, "  - done: {}\n    found: {}\n", name, seen ? "yes" : "no");
  }
  return text;
}

std::string as_name(std::string_view id) {
  std::string name(id);
  for (char& c : name) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return name;
}

}  // namespace reference

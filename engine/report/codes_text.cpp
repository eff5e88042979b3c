// Trouble codes in words, on screen.
#include <fmt/core.h>

#include "report/lines.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::heading;
using report::joined;
using report::led;
using report::wrapped;

constexpr std::size_t indent = 7;  // behind "P0733  "

std::string_view author_words(CodeAuthor author) {
  switch (author) {
    case CodeAuthor::standard:
      return "code of the standard";
    case CodeAuthor::manufacturer:
      return "the maker's own code";
    case CodeAuthor::reserved:
      return "code that the standard keeps back";
  }
  return "";
}

std::string text_of(const CodeMeaning& code) {
  if (!code.text.empty()) return code.text;
  switch (code.author) {
    case CodeAuthor::standard:
      return "its text is not known here; look it up in the standard's list";
    case CodeAuthor::manufacturer:
      return "its text is not known here; only the maker's service information has it";
    case CodeAuthor::reserved:
      return "its text is not known here";
  }
  return "";
}

std::string structure(const CodeMeaning& code) {
  std::string text = fmt::format("{}, {}", author_words(code.author), code.system);
  if (!code.group.empty()) text += ", group: " + code.group;
  text += "; as two bytes " + code.bytes;
  if (!code.controller.empty()) text += "; held by the controller `" + code.controller + "`";
  return text;
}

/// "K1 and K2 hold it"
std::string with_verb(const std::vector<std::string>& names, std::string_view one,
                      std::string_view several) {
  return fmt::format("{} {}", joined(names, "and"), names.size() == 1 ? one : several);
}

std::string shift_text(const CodePart& part) {
  std::string text = ": " + with_verb(part.applies, "comes on", "come on");
  if (!part.releases.empty()) text += ", " + with_verb(part.releases, "goes off", "go off");
  if (!part.elements.empty()) text += ", " + with_verb(part.elements, "stays on", "stay on");
  return text;
}

std::string elements_text(const CodePart& part) {
  if (part.elements.empty()) return {};
  if (part.scope == "gear") return ", held by " + joined(part.elements, "and");
  const bool itself = part.elements.size() == 1 && part.elements.front() == part.member;
  return fmt::format("{}, used in gear{} {}", itself ? "" : " of " + joined(part.elements, "and"),
                     part.gears.size() == 1 ? "" : "s", joined(part.gears, "and"));
}

std::string part_text(const CodePart& part) {
  std::string text = "on this unit ";
  if (!part.scope.empty()) {
    text += part.scope + " " + part.member;
    text += part.applies.empty() ? elements_text(part) : shift_text(part);
    text += "; ";
  }
  return text + fmt::format("`{}` in the rules", part.family);
}

std::string common_lines(const CodeMeanings& meanings, std::size_t width) {
  if (meanings.common_gears.empty()) return {};
  const std::string gears = joined(meanings.common_gears, "and");
  if (meanings.common_elements.empty()) {
    return "\n" + wrapped(fmt::format("No element holds in {} alike: think of what all gears need, "
                                      "line pressure, level, fluid and the speed sensors.",
                                      gears),
                          width, 0, 0);
  }
  return "\n" + wrapped(fmt::format("In {} alike: {}. A gear that was not driven sets no code.",
                                    gears, joined(meanings.common_elements, "and")),
                        width, 0, 0);
}

}  // namespace

std::string to_text(const CodeMeanings& meanings, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out = wrapped(meanings.title, width, 0, 2) + "\n";
  for (const CodeMeaning& code : meanings.codes) {
    out += led(code.code, indent, text_of(code), width);
    out += wrapped(structure(code), width, indent, 0);
    for (const CodePart& part : code.parts) out += wrapped(part_text(part), width, indent, 0);
    if (code.letter_open)
      out += wrapped(
          "the letter is the maker's numbering; the profile does not say which part it "
          "is on this unit",
          width, indent, 0);
  }
  out += common_lines(meanings, width);
  out += "\n" + heading("WRITE DOWN BEFORE CLEARING", style);
  for (const std::string& thing : meanings.save_first) out += wrapped("- " + thing, width, 1, 2);
  return out;
}

}  // namespace slipcase

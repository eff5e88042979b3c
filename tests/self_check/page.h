// What came out, as a section of docs/rulebase.md and as a few lines for whoever runs it.
#pragma once

#include <filesystem>
#include <string>

#include "self_check/absent.h"
#include "self_check/run.h"

namespace self_check {

struct Results {
  Run shop;
  Run shop_both_known;  // see RunOptions::one_is_named
  Run every_second;
  Run everything;
  AbsentRun absent;
};

/// Everything between the marks of the page.
[[nodiscard]] std::string page_text(const Shipped& shipped, const Results& results,
                                    const std::string& command);

/// Puts the text between the marks; throws where they are not.
void write_page(const std::filesystem::path& page, const std::string& text);

/// The fingerprint of the rules that the page was made with; "" where the page has no such section.
[[nodiscard]] std::string rules_of_page(const std::filesystem::path& page);

}  // namespace self_check

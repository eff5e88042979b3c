// Any text as a JSON job card. What the JSON library can read must come out the same after it has
// written it again in its own way: blanks, escapes and the order of keys mean nothing.
#include <cstdlib>
#include <string>

#include <nlohmann/json.hpp>

#include "facts/job_card.h"

namespace {

bool is_card(const std::string& text) {
  slipcase::SourceSet sources;
  const auto source = sources.add("card.json", text);
  slipcase::Diagnostics diagnostics;
  const auto card = slipcase::facts::read_job_card(sources, source, diagnostics);
  for (const slipcase::Diagnostic& diagnostic : diagnostics.list()) {
    if (diagnostic.place && diagnostic.place->begin > text.size()) std::abort();
  }
  const bool usable = card && !card->faulty;
  if (usable == diagnostics.has_errors()) std::abort();
  return usable;
}

// The library writes a number in its own way (1e2 is 100.0); only texts are sure to stay.
bool holds_numbers(const nlohmann::json& value) {
  if (value.is_number()) return true;
  if (!value.is_structured()) return false;
  for (const auto& part : value) {
    if (holds_numbers(part)) return true;
  }
  return false;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(data, data + size);
  const bool read = is_card(text);
  if (!read) return 0;
  const auto parsed = nlohmann::json::parse(text, nullptr, false);
  if (!parsed.is_object() || holds_numbers(parsed)) return 0;
  if (!is_card(parsed.dump())) std::abort();
  if (!is_card(parsed.dump(2, ' ', true))) std::abort();
  return 0;
}

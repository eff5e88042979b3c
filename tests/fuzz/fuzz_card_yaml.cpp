// Any text as a job card: it is read or refused, and every complaint has a place that can be shown.
#include <cstdlib>
#include <string>

#include "facts/job_card.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  slipcase::SourceSet sources;
  const auto source = sources.add("card.yaml", std::string(data, data + size));
  slipcase::Diagnostics diagnostics;
  const auto card = slipcase::facts::read_job_card(sources, source, diagnostics);
  const bool usable = card && !card->faulty;
  if (usable == diagnostics.has_errors()) std::abort();

  std::size_t shown = 0;
  for (const slipcase::Diagnostic& diagnostic : diagnostics.list()) {
    if (diagnostic.place && diagnostic.place->begin > size) std::abort();
    if (shown++ < 20 && slipcase::render(diagnostic, sources).empty()) std::abort();
  }
  return 0;
}

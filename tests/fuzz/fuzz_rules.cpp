// Any bytes as rule text: it is read to its end, complaints have places that can be shown, and a
// text without complaints is printed and read back as the same tree.
#include <cstdint>
#include <cstdlib>
#include <string>

#include "language/parse.h"
#include "language/print.h"

namespace {

using slipcase::language::File;

File read(std::string text, slipcase::Diagnostics& diagnostics) {
  slipcase::SourceSet sources;
  const std::size_t size = text.size();
  const auto source = sources.add("fuzz.rules", std::move(text));
  File file = slipcase::language::parse(sources, source, diagnostics);
  std::size_t shown = 0;
  for (const slipcase::Diagnostic& diagnostic : diagnostics.list()) {
    if (!diagnostic.place || diagnostic.place->end > size) std::abort();
    if (diagnostic.place->begin > diagnostic.place->end) std::abort();
    if (shown++ < 10 && slipcase::render(diagnostic, sources).empty()) std::abort();
  }
  return file;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  slipcase::Diagnostics diagnostics;
  const File file = read(std::string(data, data + size), diagnostics);
  const std::string printed = slipcase::language::print(file);
  if (!diagnostics.empty()) return 0;

  slipcase::Diagnostics again;
  const File reread = read(printed, again);
  if (!again.empty()) std::abort();
  if (slipcase::language::print(reread) != printed) std::abort();
  if (reread.declarations.size() != file.declarations.size()) std::abort();
  return 0;
}

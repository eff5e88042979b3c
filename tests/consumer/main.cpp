// What a program outside this project sees: the installed headers and one library.
#include <iostream>
#include <slipcase/diagnostic.h>
#include <slipcase/source.h>
#include <slipcase/version.h>

int main() {
  constexpr slipcase::Message example{"example", slipcase::Severity::warning};
  slipcase::Diagnostics diagnostics;
  diagnostics.add(example, std::nullopt, "made by a program outside");
  const std::string text = slipcase::render(diagnostics.list().front(), slipcase::SourceSet{});
  std::cout << slipcase::version << ": " << text << '\n';
  return text.find("made by a program outside") == std::string::npos ? 1 : 0;
}

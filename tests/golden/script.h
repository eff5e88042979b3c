// The two kinds of text that hold commands and what they must print: .test files and Markdown
// pages.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace golden {

using Lines = std::vector<std::string>;

/// A piece of a script, in the order of the file. Writing all pieces back gives the file again.
struct Piece {
  enum class Kind { text, file, command };

  Kind kind = Kind::text;
  // text: lines to keep as they are; file: its contents; command: what is expected.
  Lines lines;
  // file: its name; command: the command line.
  std::string name;
};

struct Script {
  std::vector<Piece> pieces;
  // A Markdown page shows what a terminal shows: both streams mixed, no exit code, no markers.
  bool markdown = false;
};

[[nodiscard]] Lines split_lines(std::string_view text);

/// `# comment`, `--- file name`, `$ command`, and lines as described in run.h.
[[nodiscard]] Script parse_test(std::string_view text);

/// Blocks fenced as ```console hold commands; a fence with a second word (```yaml card.yaml) writes
/// that file. A console block whose first command is not ours is left alone.
[[nodiscard]] Script parse_markdown(std::string_view text);

/// The words of a command line; 'single' and "double" quotes hold a word together.
[[nodiscard]] Lines split_words(std::string_view command);

/// Whether this command is one that scripts may run.
[[nodiscard]] bool is_ours(std::string_view command);

[[nodiscard]] std::string write(const Script& script);

}  // namespace golden

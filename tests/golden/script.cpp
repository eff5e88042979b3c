#include "golden/script.h"

#include <array>
#include <optional>

namespace golden {
namespace {

constexpr std::string_view command_mark = "$ ";
constexpr std::string_view file_mark = "--- ";
constexpr std::string_view fence = "```";

bool starts_piece(std::string_view line) {
  return line.starts_with(command_mark) || line.starts_with(file_mark);
}

// Blank lines before the next piece separate for the eye only; they become text of their own.
void move_trailing_blanks(std::vector<Piece>& pieces) {
  Piece& last = pieces.back();
  Piece blanks;
  while (last.kind != Piece::Kind::text && !last.lines.empty() && last.lines.back().empty()) {
    last.lines.pop_back();
    blanks.lines.emplace_back();
  }
  if (!blanks.lines.empty()) pieces.push_back(std::move(blanks));
}

std::optional<std::string> file_name_of_fence(std::string_view info) {
  const Lines words = split_words(info);
  if (words.size() != 2) return std::nullopt;
  return words[1];
}

// The commands of one console block.
void append_console(std::vector<Piece>& pieces, const Lines& block) {
  const bool ours = !block.empty() && block.front().starts_with(command_mark) &&
                    is_ours(std::string_view(block.front()).substr(command_mark.size()));
  if (!ours) {
    pieces.push_back({Piece::Kind::text, block, {}});
    return;
  }
  for (const std::string& line : block) {
    if (line.starts_with(command_mark)) {
      move_trailing_blanks(pieces);
      pieces.push_back({Piece::Kind::command, {}, line.substr(command_mark.size())});
    } else {
      pieces.back().lines.push_back(line);
    }
  }
  move_trailing_blanks(pieces);
}

void append(std::string& text, const Lines& lines) {
  for (const std::string& line : lines) text.append(line).append("\n");
}

}  // namespace

Lines split_lines(std::string_view text) {
  Lines lines;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    lines.emplace_back(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return lines;
}

Script parse_test(std::string_view text) {
  Script script;
  script.pieces.emplace_back();
  for (const std::string& line : split_lines(text)) {
    if (!starts_piece(line)) {
      script.pieces.back().lines.push_back(line);
      continue;
    }
    move_trailing_blanks(script.pieces);
    if (line.starts_with(command_mark)) {
      script.pieces.push_back({Piece::Kind::command, {}, line.substr(command_mark.size())});
    } else {
      script.pieces.push_back({Piece::Kind::file, {}, line.substr(file_mark.size())});
    }
  }
  move_trailing_blanks(script.pieces);
  return script;
}

Script parse_markdown(std::string_view text) {
  Script script;
  script.markdown = true;
  script.pieces.emplace_back();
  const Lines lines = split_lines(text);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    script.pieces.back().lines.push_back(lines[i]);
    if (!lines[i].starts_with(fence)) continue;

    const std::string_view info = std::string_view(lines[i]).substr(fence.size());
    Lines block;
    while (++i < lines.size() && !lines[i].starts_with(fence)) block.push_back(lines[i]);
    if (info == "console") {
      append_console(script.pieces, block);
    } else if (const auto name = file_name_of_fence(info)) {
      script.pieces.push_back({Piece::Kind::file, block, *name});
    } else {
      script.pieces.push_back({Piece::Kind::text, block, {}});
    }
    script.pieces.emplace_back();
    if (i < lines.size()) script.pieces.back().lines.push_back(lines[i]);
  }
  return script;
}

Lines split_words(std::string_view command) {
  Lines words;
  std::string word;
  char quote = '\0';
  bool inside = false;
  for (const char c : command) {
    if (quote != '\0' ? c == quote : c == '"' || c == '\'') {
      quote = quote == '\0' ? c : '\0';
      inside = true;
    } else if (c == ' ' && quote == '\0') {
      if (inside) words.push_back(std::move(word));
      word.clear();
      inside = false;
    } else {
      word += c;
      inside = true;
    }
  }
  if (inside) words.push_back(std::move(word));
  return words;
}

bool is_ours(std::string_view command) {
  constexpr std::array<std::string_view, 3> programs = {"slipcase", "./cli/run", "cat"};
  const std::string_view program = command.substr(0, command.find(' '));
  for (const std::string_view known : programs) {
    if (program == known) return true;
  }
  return false;
}

std::string write(const Script& script) {
  std::string text;
  for (const Piece& piece : script.pieces) {
    if (piece.kind == Piece::Kind::command) {
      text.append(command_mark).append(piece.name).append("\n");
    } else if (piece.kind == Piece::Kind::file && !script.markdown) {
      text.append(file_mark).append(piece.name).append("\n");
    }
    append(text, piece.lines);
  }
  return text;
}

}  // namespace golden

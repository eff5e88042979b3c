#include "golden/run.h"

#include <array>
#include <utility>

#include <fmt/core.h>

#include "golden/diff.h"
#include "golden/process.h"

namespace golden {
namespace {

using Names = std::array<std::pair<std::string, std::string>, 2>;

void replace_all(std::string& text, const std::string& from, const std::string& to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at)) {
    text.replace(at, from.size(), to);
    at += to.size();
  }
}

std::string filled_in(std::string text, const Names& names) {
  for (const auto& [name, path] : names) replace_all(text, name, path);
  return text;
}

std::string made_stable(std::string text, const Names& names) {
  for (const auto& [name, path] : names) replace_all(text, path, name);
  return text;
}

bool looks_like_marker(std::string_view line) {
  constexpr std::array<std::string_view, 5> markers = {"$ ", "--- ", "! ", "1>", "2>"};
  for (const std::string_view marker : markers) {
    if (line.starts_with(marker)) return true;
  }
  return false;
}

Lines lines_of_stream(const std::string& text) {
  Lines lines = split_lines(text);
  if (!text.empty() && text.back() != '\n') lines.emplace_back("\\ no newline at the end");
  return lines;
}

Lines as_written(const Output& output, const Names& names, bool markdown) {
  Lines lines;
  if (output.code != 0 && !markdown) lines.push_back(fmt::format("! {}", output.code));
  for (const std::string& line : lines_of_stream(made_stable(output.out, names))) {
    lines.push_back(!markdown && looks_like_marker(line) ? "1> " + line : line);
  }
  for (const std::string& line : lines_of_stream(made_stable(output.err, names))) {
    lines.push_back(line.empty() ? "2>" : "2> " + line);
  }
  while (!lines.empty() && lines.back().empty()) lines.pop_back();
  return lines;
}

// `< path`, `<&-` and `> path` at the end, as in a shell; they are taken off.
Redirection taken_off(Lines& words) {
  Redirection redirection;
  while (!words.empty()) {
    const std::size_t size = words.size();
    if (words.back() == "<&-") {
      redirection.input.clear();
      words.pop_back();
    } else if (size >= 2 && (words[size - 2] == "<" || words[size - 2] == ">")) {
      (words[size - 2] == "<" ? redirection.input : redirection.output) = words.back();
      words.resize(size - 2);
    } else {
      break;
    }
  }
  return redirection;
}

Output run_command(const std::string& command, const Settings& settings,
                   const std::filesystem::path& folder, const Names& names, Streams streams) {
  if (!is_ours(command)) return {{}, fmt::format("scripts may not run `{}`\n", command), 127};
  // Split first: a folder's name may hold blanks.
  Lines words = split_words(command);
  const std::filesystem::path program = words[0] == "cat" ? "cat" : settings.program;
  words.erase(words.begin());
  for (std::string& word : words) word = filled_in(std::move(word), names);
  const Redirection redirection = taken_off(words);
  return run_process(program, words, folder, streams, redirection);
}

std::string joined(const Lines& lines) {
  std::string text;
  for (const std::string& line : lines) text.append(line).append("\n");
  return text;
}

}  // namespace

Run run(const Script& script, const Settings& settings) {
  const TemporaryFolder folder;
  const std::filesystem::path work = folder.path() / "work";
  std::filesystem::create_directory(work);
  // Pages show paths as they are seen from the top of the project.
  if (script.markdown) std::filesystem::create_directory_symlink(settings.rules, work / "rules");

  const Names names = {{{"{rules}", settings.rules.string()}, {"{dir}", work.string()}}};
  Run result;
  result.actual = script;
  for (Piece& piece : result.actual.pieces) {
    if (piece.kind == Piece::Kind::file) {
      write_file(work / piece.name, filled_in(joined(piece.lines), names));
    } else if (piece.kind == Piece::Kind::command) {
      const Output output = run_command(piece.name, settings, work, names,
                                        script.markdown ? Streams::mixed : Streams::apart);
      Lines lines = as_written(output, names, script.markdown);
      if (const std::string difference = diff(piece.lines, lines); !difference.empty()) {
        result.differences += fmt::format("$ {}\n{}", piece.name, difference);
      }
      piece.lines = std::move(lines);
      ++result.commands;
      result.any_failed |= output.code != 0;
    }
  }
  return result;
}

}  // namespace golden

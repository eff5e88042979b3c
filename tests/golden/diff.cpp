#include "golden/diff.h"

#include <algorithm>
#include <cstddef>

namespace golden {
namespace {

constexpr std::size_t context = 3;

struct Marked {
  char mark;
  const std::string* line;
};

// Longest common subsequence by the textbook table; outputs here have a few hundred lines at most.
std::vector<Marked> align(const Lines& expected, const Lines& actual) {
  const std::size_t rows = expected.size();
  const std::size_t columns = actual.size();
  std::vector<std::vector<std::size_t>> common(rows + 1, std::vector<std::size_t>(columns + 1));
  for (std::size_t i = rows; i-- > 0;) {
    for (std::size_t j = columns; j-- > 0;) {
      common[i][j] = expected[i] == actual[j] ? common[i + 1][j + 1] + 1
                                              : std::max(common[i + 1][j], common[i][j + 1]);
    }
  }

  std::vector<Marked> lines;
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < rows || j < columns) {
    if (i < rows && j < columns && expected[i] == actual[j]) {
      lines.push_back({' ', &expected[i++]});
      ++j;
    } else if (j == columns || (i < rows && common[i + 1][j] >= common[i][j + 1])) {
      lines.push_back({'-', &expected[i++]});
    } else {
      lines.push_back({'+', &actual[j++]});
    }
  }
  return lines;
}

bool near_difference(const std::vector<Marked>& lines, std::size_t index) {
  const std::size_t first = index < context ? 0 : index - context;
  const std::size_t last = std::min(lines.size(), index + context + 1);
  for (std::size_t i = first; i < last; ++i) {
    if (lines[i].mark != ' ') return true;
  }
  return false;
}

}  // namespace

std::string diff(const Lines& expected, const Lines& actual) {
  if (expected == actual) return {};
  const std::vector<Marked> lines = align(expected, actual);
  std::string text;
  bool gap = false;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (!near_difference(lines, i)) {
      gap = true;
      continue;
    }
    if (gap) text += "  ...\n";
    gap = false;
    text.append(1, lines[i].mark).append(" ").append(*lines[i].line).append("\n");
  }
  return text;
}

}  // namespace golden

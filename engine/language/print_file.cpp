// A whole file to text: its lines with the comments around them.
#include <limits>
#include <utility>

#include <fmt/core.h>

#include "language/print.h"
#include "language/print_parts.h"

namespace slipcase::language {

namespace {

class FilePrinter {
 public:
  explicit FilePrinter(const File& file) : file_(file), next_(file.comments.begin()) {}

  std::string print() {
    if (file_.language)
      add_line(file_.language->place, fmt::format("language {}", file_.language->value));
    if (file_.unit) add_line(file_.unit->place, "unit " + file_.unit->text);
    for (const Declaration& declaration : file_.declarations) add_declaration(declaration);
    add_comments(std::numeric_limits<std::uint32_t>::max(), "", Which::all);
    finish_line();
    return std::move(text_);
  }

 private:
  void add_declaration(const Declaration& declaration) {
    // Indented comments at its end belong to the declaration before.
    add_comments(declaration.place.begin, indent, Which::indented);
    add_empty_line();
    add_line(declaration.place, header_text(declaration));
    for (const Clause& clause : declaration.clauses) {
      add_line(clause.place, slipcase::language::print(clause), indent);
    }
  }

  void add_line(const Place& place, const std::string& line, std::string_view indentation = "") {
    add_comments(place.begin, indentation, Which::all);
    finish_line();
    // Comments in the midst of a line that was broken up come in front of it.
    add_comments(place.end, indentation, Which::all);
    text_.append(indentation).append(line);
    open_ = true;
  }

  enum class Which : std::uint8_t { all, indented };

  void add_comments(std::uint32_t end, std::string_view indentation, Which which) {
    for (; next_ != file_.comments.end() && next_->place.begin < end; ++next_) {
      if (!next_->first_on_line && open_) {
        text_ += "  " + next_->text;
        finish_line();
        continue;
      }
      if (which == Which::indented && next_->first_on_line && !next_->indented) return;
      finish_line();
      text_.append(indentation).append(next_->text).append("\n");
      if (next_->blank_behind) add_empty_line();
    }
  }

  void finish_line() {
    if (std::exchange(open_, false)) text_ += "\n";
  }

  void add_empty_line() {
    finish_line();
    if (!text_.empty() && !text_.ends_with("\n\n")) text_ += "\n";
  }

  const File& file_;
  std::vector<Comment>::const_iterator next_;
  std::string text_;
  bool open_ = false;  // the last line may still get a comment
};

}  // namespace

std::string print(const File& file) { return FilePrinter(file).print(); }

}  // namespace slipcase::language

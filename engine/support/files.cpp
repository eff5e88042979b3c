#include "support/files.h"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <iterator>
#include <optional>
#include <set>
#include <system_error>

#include <fmt/core.h>

#include "support/ascii.h"

namespace slipcase {

namespace fs = std::filesystem;

namespace {

FileProblem problem_of(const std::error_code& code) {
  if (code == std::errc::no_such_file_or_directory || code == std::errc::not_a_directory)
    return FileProblem::missing;
  if (code == std::errc::permission_denied) return FileProblem::no_permission;
  return FileProblem::unreadable;
}

std::variant<std::string, FileFailure> read_stream(const fs::path& path,
                                                   std::uintmax_t most_bytes) {
  errno = 0;
  std::ifstream in(path, std::ios::binary);
  if (!in) {
    const std::error_code code(errno, std::generic_category());
    return FileFailure{problem_of(code), path, code.message()};
  }
  std::string text;
  std::string block(1U << 16U, '\0');
  while (in.read(block.data(), static_cast<std::streamsize>(block.size())) || in.gcount() > 0) {
    text.append(block, 0, static_cast<std::size_t>(in.gcount()));
    if (text.size() > most_bytes) return FileFailure{FileProblem::too_large, path, {}};
  }
  if (in.bad())
    return FileFailure{FileProblem::unreadable, path, "the system could not read it to its end"};
  return text;
}

/// Everything in a folder that has the name of a wanted file counts, whether it can be read or not:
/// who reads it says what is wrong. Half of the files must never pass for all of them.
class FolderWalk {
 public:
  explicit FolderWalk(std::string_view extension) : extension_(extension) {}

  std::optional<FileFailure> visit(const fs::path& folder) {
    std::error_code code;
    const fs::path real = fs::canonical(folder, code);
    if (code) return FileFailure{problem_of(code), folder, code.message()};
    if (!visited_.insert(real).second) return std::nullopt;  // a link that leads back
    fs::directory_iterator walk(folder, code);
    for (; !code && walk != fs::directory_iterator(); walk.increment(code)) {
      if (auto failure = take(walk->path())) return failure;
    }
    if (code) return FileFailure{problem_of(code), folder, code.message()};
    return std::nullopt;
  }

  std::vector<fs::path> found() {
    std::sort(found_.begin(), found_.end(),
              [](const fs::path& a, const fs::path& b) { return a.string() < b.string(); });
    return std::move(found_);
  }

 private:
  std::optional<FileFailure> take(const fs::path& path) {
    if (path.filename().string().starts_with('.')) return std::nullopt;  // an editor's own
    std::error_code ignored;
    if (fs::is_directory(path, ignored)) return visit(path);
    if (in_small_letters(path.extension().string()) != extension_) return std::nullopt;
    if (fs::is_fifo(path, ignored)) return FileFailure{FileProblem::not_a_file, path, {}};
    found_.push_back(path);
    return std::nullopt;
  }

  std::string_view extension_;
  std::set<fs::path> visited_;
  std::vector<fs::path> found_;
};

}  // namespace

std::variant<std::string, FileFailure> read_file(const fs::path& path, std::uintmax_t most_bytes) {
  std::error_code code;
  const fs::file_status status = fs::status(path, code);
  if (status.type() == fs::file_type::not_found) return FileFailure{FileProblem::missing, path, {}};
  if (status.type() == fs::file_type::none)
    return FileFailure{problem_of(code), path, code.message()};
  if (status.type() == fs::file_type::directory)
    return FileFailure{FileProblem::is_folder, path, {}};
  const bool pipe =
      status.type() == fs::file_type::fifo || status.type() == fs::file_type::character;
  if (!pipe && status.type() != fs::file_type::regular)
    return FileFailure{FileProblem::not_a_file, path, {}};
  if (status.type() == fs::file_type::regular) {
    const std::uintmax_t size = fs::file_size(path, code);
    if (!code && size > most_bytes) return FileFailure{FileProblem::too_large, path, {}};
  }
  return read_stream(path, most_bytes);
}

std::string describe(const FileFailure& failure) {
  const std::string name = failure.path.string();
  switch (failure.problem) {
    case FileProblem::missing:
      return fmt::format("there is no file `{}`: check the path", name);
    case FileProblem::is_folder:
      return fmt::format("`{}` is a folder: name the file inside it", name);
    case FileProblem::not_a_file:
      return fmt::format("`{}` is not a file that can be read", name);
    case FileProblem::no_permission:
      return fmt::format("`{}` may not be read by this user: check its permissions", name);
    case FileProblem::too_large:
      return fmt::format("`{}` is far larger than such a file can be: is it the right one?", name);
    case FileProblem::unreadable:
      return fmt::format("`{}` could not be read: {}", name, failure.detail);
  }
  return {};
}

std::variant<std::vector<fs::path>, FileFailure> files_below(const fs::path& folder,
                                                             std::string_view extension) {
  FolderWalk walk(extension);
  if (auto failure = walk.visit(folder)) return *std::move(failure);
  return walk.found();
}

}  // namespace slipcase

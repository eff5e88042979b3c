// Reading files whole, with every way that can fail as a value.
#pragma once

#include <filesystem>
#include <string>
#include <variant>
#include <vector>

namespace slipcase {

enum class FileProblem : std::uint8_t {
  missing,
  is_folder,
  not_a_file,
  no_permission,
  too_large,
  unreadable
};

struct FileFailure {
  FileProblem problem;
  std::filesystem::path path;
  std::string detail;  // what the system said
};

/// The whole file. Larger than `most_bytes` is refused before it is read; pipes and devices are
/// refused unless they are what the path says ("/dev/stdin").
[[nodiscard]] std::variant<std::string, FileFailure> read_file(const std::filesystem::path& path,
                                                               std::uintmax_t most_bytes);

/// "there is no file `x`" and so on, with what to do.
[[nodiscard]] std::string describe(const FileFailure& failure);

/// Files below `folder` whose name ends in `extension` (small letters; the name may have capitals),
/// in byte order of their path. Links are followed, hidden names left out. A folder that cannot be
/// looked into is a failure; a file that cannot be read is listed, and reading it will say why.
[[nodiscard]] std::variant<std::vector<std::filesystem::path>, FileFailure> files_below(
    const std::filesystem::path& folder, std::string_view extension);

}  // namespace slipcase

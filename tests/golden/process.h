// Runs a program in a folder and catches what it prints.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace golden {

struct Output {
  std::string out;
  std::string err;
  // The exit code, or 128 + the signal that ended it.
  int code = 0;
};

enum class Streams { apart, mixed };

/// Where a program reads from and writes to instead.
struct Redirection {
  std::string input = "/dev/null";  // "" is a standard input that is closed
  std::string output;               // "" is the output that is caught
};

/// Runs `program` with `arguments` in `folder`: a fixed small environment, 80 columns, no colour.
/// Streams::mixed puts both streams into `out` in the order in which they were written.
[[nodiscard]] Output run_process(const std::filesystem::path& program,
                                 const std::vector<std::string>& arguments,
                                 const std::filesystem::path& folder,
                                 Streams streams = Streams::apart,
                                 const Redirection& redirection = {});

/// A fresh folder, removed again with all it holds.
class TemporaryFolder {
 public:
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

[[nodiscard]] std::string read_file(const std::filesystem::path& path);
void write_file(const std::filesystem::path& path, const std::string& text);

}  // namespace golden

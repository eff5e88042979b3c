// Rules and unit profile, read, checked and ready for jobs.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "slipcase/diagnostic.h"
#include "slipcase/source.h"

namespace slipcase {

/// Where rules come from. `shipped` is the folder of one unit (its profile.yaml and *.rules).
struct RulePaths {
  std::optional<std::filesystem::path> shipped;  // none: only `own` (needs `profile`)
  std::vector<std::filesystem::path> own;        // files or folders laid over the shipped ones
  std::optional<std::filesystem::path> profile;  // instead of the shipped folder's profile.yaml
};

/// How reading inputs ended.
enum class Loaded : std::uint8_t {
  good,             // there may be warnings
  input_errors,     // the diagnostics say which
  machine_failure,  // no permission, unreadable disk
};

/// Immutable and cheap to copy; any number of jobs can use it. Not for two threads at once: it
/// keeps work buffers for speed, and copies share them.
class Knowledge {
 public:
  struct Parts;  // the engine's own; see engine/api

  explicit Knowledge(std::shared_ptr<Parts> parts) : parts_(std::move(parts)) {}

  [[nodiscard]] std::string unit() const;
  [[nodiscard]] std::size_t rule_files() const;
  /// The same for the same rules, whatever the order of files and the comments in them.
  [[nodiscard]] std::string fingerprint() const;

  [[nodiscard]] Parts& parts() const { return *parts_; }

 private:
  std::shared_ptr<Parts> parts_;
};

struct KnowledgeLoad {
  Loaded outcome = Loaded::input_errors;
  std::optional<Knowledge> knowledge;
};

/// What the rules are read for.
enum class LoadFor : std::uint8_t {
  jobs,    // trials are passed over unread
  trials,  // everything
  doubts,  // everything, and the warnings about valid rules that mean something else (slower)
};

/// Reads and checks everything asked for; all errors of all files are reported in one run.
/// Every text read is added to `sources`, which the Knowledge keeps: places point into it.
[[nodiscard]] KnowledgeLoad load_knowledge(const RulePaths& paths,
                                           std::shared_ptr<SourceSet> sources,
                                           Diagnostics& diagnostics, LoadFor what = LoadFor::jobs);

}  // namespace slipcase

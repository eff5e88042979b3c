#include "support/replace_file.h"

#include <cerrno>
#include <cstdio>
#include <fcntl.h>
#include <optional>
#include <sys/file.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <variant>

#include <fmt/core.h>

#include "support/files.h"

namespace slipcase {

namespace fs = std::filesystem;

namespace {

/// Of this many bytes no file is that is replaced here.
constexpr std::uintmax_t most_replaced_bytes = std::uintmax_t{64} << 20U;

std::string said_by_system(int error) {
  return std::error_code(error, std::generic_category()).message();
}

/// What helps against the usual ones.
WriteResult failure(const fs::path& path, int error) {
  const std::string name = path.string();
  if (error == ENOSPC || error == EDQUOT)
    return {Written::failed,
            fmt::format("`{}` could not be written, there is no room left: it is as it was. Make "
                        "room and do it again",
                        name)};
  if (error == EACCES || error == EPERM || error == EROFS)
    return {
        Written::failed,
        fmt::format("`{}` could not be written: this user may not write into its folder", name)};
  return {Written::failed,
          fmt::format("`{}` could not be written: {}", name, said_by_system(error))};
}

class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }

  [[nodiscard]] bool is_open() const { return number_ >= 0; }
  [[nodiscard]] int number() const { return number_; }
  /// Some systems say only here that the disk is full.
  [[nodiscard]] bool close_well() {
    const int number = number_;
    number_ = -1;
    return ::close(number) == 0;
  }

 private:
  int number_;
};

std::string name_of_new(const fs::path& path) { return "." + path.filename().string() + ".new"; }

bool write_all(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t written = ::write(descriptor, text.data(), text.size());
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) return false;
    text.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

/// As the old one: a card that a group may write stays so. Who owns it only root may say.
void take_over_rights(int descriptor, const struct stat& old) {
  if (::fchown(descriptor, old.st_uid, old.st_gid) != 0 &&
      ::fchown(descriptor, static_cast<uid_t>(-1), old.st_gid) != 0) {
    errno = 0;  // it belongs to the writer then
  }
  ::fchmod(descriptor, old.st_mode & 07777U);
}

/// The lock of a folder, held while one of its files is looked at and replaced.
class FolderLock {
 public:
  explicit FolderLock(const fs::path& folder)
      : folder_(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
    if (!folder_.is_open()) return;
    int result = -1;
    do result = ::flock(folder_.number(), LOCK_EX);
    while (result != 0 && errno == EINTR);
    held_ = result == 0;
  }

  [[nodiscard]] bool is_held() const { return held_; }
  /// The new name is on the disk when this is done.
  void sync() const { ::fsync(folder_.number()); }

 private:
  Descriptor folder_;  // the lock goes when it is closed, however the program ends
  bool held_ = false;
};

/// A complete file under a hidden name; what an earlier writer left there is overwritten: the lock
/// is ours.
std::optional<WriteResult> write_new(const fs::path& path, const fs::path& beside,
                                     std::string_view text, const struct stat* old) {
  ::unlink(beside.c_str());
  constexpr mode_t rights = 0666;
  Descriptor file(::open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, rights));
  if (!file.is_open()) return failure(path, errno);
  if (old != nullptr) take_over_rights(file.number(), *old);
  const bool written = write_all(file.number(), text) && ::fsync(file.number()) == 0;
  int error = errno;
  const bool closed = file.close_well();
  if (written && !closed) error = errno;
  if (written && closed) return std::nullopt;
  ::unlink(beside.c_str());
  return failure(path, error);
}

fs::path folder_of(const fs::path& path) {
  return path.has_parent_path() ? path.parent_path() : fs::path(".");
}

WriteResult replace_locked(const fs::path& path, std::string_view as_read, std::string_view text,
                           const FolderLock& lock) {
  const auto now = read_file(path, most_replaced_bytes);
  if (const auto* unread = std::get_if<FileFailure>(&now)) {
    const bool gone = unread->problem == FileProblem::missing;
    return {gone ? Written::changed : Written::failed, gone ? std::string() : describe(*unread)};
  }
  if (std::get<std::string>(now) != as_read) return {Written::changed, {}};
  struct stat old {};
  if (::stat(path.c_str(), &old) != 0) return failure(path, errno);
  // Replacing needs a writable folder only; what may not be written is not meant to change.
  if (::access(path.c_str(), W_OK) != 0) {
    return {
        Written::failed,
        fmt::format("`{}` may not be written by this user: check its permissions", path.string())};
  }
  const fs::path beside = folder_of(path) / name_of_new(path);
  if (auto failed = write_new(path, beside, text, &old)) return *std::move(failed);
  if (::rename(beside.c_str(), path.c_str()) != 0) {
    const int error = errno;
    ::unlink(beside.c_str());
    return failure(path, error);
  }
  lock.sync();
  return {Written::done, {}};
}

}  // namespace

WriteResult replace_file(const fs::path& path, std::string_view as_read, std::string_view text) {
  std::error_code code;
  const fs::path real = fs::canonical(path, code);
  if (code == std::errc::no_such_file_or_directory) return {Written::changed, {}};
  if (code) return failure(path, code.value());
  const FolderLock lock(folder_of(real));
  if (!lock.is_held()) return failure(path, errno);
  return replace_locked(real, as_read, text, lock);
}

WriteResult create_file(const fs::path& path, std::string_view text) {
  const FolderLock lock(folder_of(path));
  if (!lock.is_held()) return failure(path, errno);
  const fs::path beside = folder_of(path) / name_of_new(path);
  if (auto failed = write_new(path, beside, text, nullptr)) return *std::move(failed);
  // Never over another file, not even one that another program makes in this moment.
  if (::renameat2(AT_FDCWD, beside.c_str(), AT_FDCWD, path.c_str(), RENAME_NOREPLACE) != 0) {
    const int error = errno;
    ::unlink(beside.c_str());
    return error == EEXIST ? WriteResult{Written::exists, {}} : failure(path, error);
  }
  lock.sync();
  return {Written::done, {}};
}

}  // namespace slipcase

// Writing files so that nobody ever finds half of one: a complete new file beside it takes its
// place.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

namespace slipcase {

enum class Written : std::uint8_t {
  done,
  changed,  // the file is not what it was when it was read, or is gone: nothing was written
  exists,   // a new file was to be made, and there is one: nothing was written
  failed,   // the system refused; the old file is as it was
};

struct WriteResult {
  Written outcome = Written::failed;
  std::string detail;  // of a failure: what to do about it, for people
};

/// Puts `text` in the place of `as_read`, which the file must still hold. The folder is locked
/// between looking and writing, so of two writers of this program the second finds a changed file;
/// who stops in the middle leaves the old file and a hidden one, which the next writer takes away.
/// A link is followed: what it points at is replaced. Rights and, where allowed, owner stay.
[[nodiscard]] WriteResult replace_file(const std::filesystem::path& path, std::string_view as_read,
                                       std::string_view text);

/// Makes a file that is not there yet, as completely.
[[nodiscard]] WriteResult create_file(const std::filesystem::path& path, std::string_view text);

}  // namespace slipcase

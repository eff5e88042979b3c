// A run of the program that can be talked to, limited and killed.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <sys/types.h>
#include <vector>

namespace faults {

struct Ended {
  int code = 0;  // exit status, or 128 + the signal
  std::string out;
  std::string err;
};

class Child {
 public:
  /// `prepare` runs in the new process before the program does.
  Child(
      const std::vector<std::string>& arguments, const std::filesystem::path& folder,
      const std::function<void()>& prepare = [] {});
  ~Child();
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;

  void type(const std::string& text) const;
  /// What it printed, once `wanted` is in it; everything if it ends before.
  [[nodiscard]] std::string wait_for(const std::string& wanted);
  void kill() const;
  /// Closes its input and waits for its end.
  [[nodiscard]] Ended end();

 private:
  bool read_some(int descriptor, std::string& into);

  pid_t process_ = -1;
  int in_ = -1, out_ = -1, err_ = -1;
  std::string printed_, errors_;
};

}  // namespace faults

#include "faults/child.h"

#include <array>
#include <cerrno>
#include <csignal>
#include <fcntl.h>
#include <stdexcept>
#include <sys/wait.h>
#include <unistd.h>

namespace faults {

namespace {

std::array<int, 2> new_pipe() {
  std::array<int, 2> ends{};
  if (pipe2(ends.data(), O_CLOEXEC) != 0) throw std::runtime_error("no pipe");
  return ends;
}

}  // namespace

Child::Child(const std::vector<std::string>& arguments, const std::filesystem::path& folder,
             const std::function<void()>& prepare) {
  const auto in = new_pipe();
  const auto out = new_pipe();
  const auto err = new_pipe();
  process_ = fork();
  if (process_ < 0) throw std::runtime_error("no process");
  if (process_ == 0) {
    dup2(in[0], STDIN_FILENO);
    dup2(out[1], STDOUT_FILENO);
    dup2(err[1], STDERR_FILENO);
    if (chdir(folder.c_str()) != 0) _exit(126);
    prepare();
    std::vector<std::string> words{SLIPCASE_PROGRAM};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<char*> pointers;
    for (std::string& word : words) pointers.push_back(word.data());
    pointers.push_back(nullptr);
    execv(SLIPCASE_PROGRAM, pointers.data());
    _exit(127);
  }
  close(in[0]);
  close(out[1]);
  close(err[1]);
  in_ = in[1];
  out_ = out[0];
  err_ = err[0];
}

Child::~Child() {
  if (process_ > 0) {
    kill();
    static_cast<void>(end());
  }
}

void Child::type(const std::string& text) const {
  std::signal(SIGPIPE, SIG_IGN);  // it may be dead already
  static_cast<void>(!write(in_, text.data(), text.size()));
}

bool Child::read_some(int descriptor, std::string& into) {
  std::array<char, 4096> block{};
  const ssize_t got = read(descriptor, block.data(), block.size());
  if (got > 0) into.append(block.data(), static_cast<std::size_t>(got));
  return got > 0 || (got < 0 && errno == EINTR);
}

std::string Child::wait_for(const std::string& wanted) {
  while (printed_.find(wanted) == std::string::npos && read_some(out_, printed_)) {
  }
  return std::exchange(printed_, {});
}

void Child::kill() const { ::kill(process_, SIGKILL); }

Ended Child::end() {
  close(in_);
  while (read_some(out_, printed_)) {
  }
  while (read_some(err_, errors_)) {
  }
  close(out_);
  close(err_);
  int status = 0;
  while (waitpid(process_, &status, 0) < 0 && errno == EINTR) {
  }
  process_ = -1;
  return {WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status), printed_, errors_};
}

}  // namespace faults

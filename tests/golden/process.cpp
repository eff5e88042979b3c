#include "golden/process.h"

#include <cerrno>
#include <cstdlib>
#include <fcntl.h>
#include <fstream>
#include <iterator>
#include <sys/wait.h>
#include <system_error>
#include <unistd.h>

namespace golden {
namespace {

[[noreturn]] void fail(const std::string& what) {
  throw std::system_error(errno, std::generic_category(), what);
}

void become_stream(const char* path, int how, int stream) {
  const int file = ::open(path, how | O_CLOEXEC);
  if (file < 0 || ::dup2(file, stream) < 0) ::_exit(127);
}

// Everything between fork and exec uses calls that are safe there; nothing allocates.
[[noreturn]] void become(char* const* arguments, char* const* environment, const char* folder,
                         const Redirection& redirection, int out, int err) {
  if (::dup2(out, 1) < 0 || ::dup2(err, 2) < 0 || ::chdir(folder) != 0) ::_exit(127);
  if (!redirection.output.empty()) become_stream(redirection.output.c_str(), O_WRONLY, 1);
  if (redirection.input.empty()) {
    ::close(0);
  } else {
    become_stream(redirection.input.c_str(), O_RDONLY, 0);
  }
  ::execvpe(arguments[0], arguments, environment);
  ::_exit(127);
}

std::vector<char*> pointers(std::vector<std::string>& texts) {
  std::vector<char*> result;
  for (std::string& text : texts) result.push_back(text.data());
  result.push_back(nullptr);
  return result;
}

int create(const std::filesystem::path& path) {
  const int file = ::open(path.c_str(), O_CREAT | O_WRONLY | O_APPEND | O_CLOEXEC, 0600);
  if (file < 0) fail("cannot create " + path.string());
  return file;
}

int wait_for(pid_t child) {
  int status = 0;
  while (::waitpid(child, &status, 0) < 0) {
    if (errno != EINTR) fail("waitpid");
  }
  return WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
}

}  // namespace

Output run_process(const std::filesystem::path& program, const std::vector<std::string>& arguments,
                   const std::filesystem::path& folder, Streams streams,
                   const Redirection& redirection) {
  // Files instead of pipes: no amount of output can block, and no reader threads are needed.
  const TemporaryFolder streams_folder;
  const std::filesystem::path out_path = streams_folder.path() / "out";
  const std::filesystem::path err_path = streams_folder.path() / "err";

  std::vector<std::string> words = {program.string()};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<std::string> settings = {"NO_COLOR=1",         "COLUMNS=80",
                                       "LC_ALL=C.UTF-8",     "TZ=UTC",
                                       "PATH=/usr/bin:/bin", "HOME=" + folder.string()};
  const std::vector<char*> argv = pointers(words);
  const std::vector<char*> envp = pointers(settings);

  const int out = create(out_path);
  const int err = streams == Streams::mixed ? out : create(err_path);
  const pid_t child = ::fork();
  if (child < 0) fail("fork");
  if (child == 0) become(argv.data(), envp.data(), folder.c_str(), redirection, out, err);
  ::close(out);
  if (err != out) ::close(err);

  Output output;
  output.code = wait_for(child);
  output.out = read_file(out_path);
  if (streams == Streams::apart) output.err = read_file(err_path);
  return output;
}

TemporaryFolder::TemporaryFolder() {
  std::string name = (std::filesystem::temp_directory_path() / "slipcase-XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) fail("mkdtemp");
  path_ = std::filesystem::canonical(name);
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

std::string read_file(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  if (!stream) fail("cannot read " + path.string());
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

void write_file(const std::filesystem::path& path, const std::string& text) {
  std::filesystem::create_directories(path.parent_path());
  std::ofstream stream(path, std::ios::binary);
  stream << text;
  if (!stream.flush()) fail("cannot write " + path.string());
}

}  // namespace golden

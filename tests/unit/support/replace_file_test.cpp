#include "support/replace_file.h"

#include <atomic>
#include <csignal>
#include <functional>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>
#include <vector>

#include <doctest/doctest.h>

#include "support/card_folder.h"

using namespace slipcase;
using slipcase::testing::CardFolder;
using slipcase::testing::text_of;

namespace fs = std::filesystem;

namespace {

/// What `action` gives in a process of its own, which it may spoil as it likes.
int in_a_child(const std::function<int()>& action) {
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) _exit(action());
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

int number(const WriteResult& result) { return static_cast<int>(result.outcome); }
int number(Written outcome) { return static_cast<int>(outcome); }

}  // namespace

TEST_CASE("A file is replaced whole, with its rights, and nothing is left beside it") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", "old");
  REQUIRE(chmod(card.c_str(), 0640) == 0);
  CHECK(replace_file(card, "old", "new and longer").outcome == Written::done);
  CHECK(text_of(card) == "new and longer");
  struct stat now {};
  REQUIRE(stat(card.c_str(), &now) == 0);
  CHECK((now.st_mode & 07777U) == 0640);
  CHECK(folder.files() == 1);
}

TEST_CASE("What changed since it was read, or is gone, is not overwritten") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", "somebody else's");
  CHECK(replace_file(card, "old", "new").outcome == Written::changed);
  CHECK(text_of(card) == "somebody else's");
  CHECK(replace_file(folder.path() / "gone.yaml", "old", "new").outcome == Written::changed);
  CHECK(folder.files() == 1);
}

TEST_CASE("A new file is made once, and never over another") {
  const CardFolder folder;
  const fs::path card = folder.path() / "card.yaml";
  CHECK(create_file(card, "one").outcome == Written::done);
  CHECK(create_file(card, "two").outcome == Written::exists);
  CHECK(text_of(card) == "one");
  CHECK(folder.files() == 1);
}

TEST_CASE("A link stays a link: what it points at is replaced") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", "old");
  fs::create_symlink("card.yaml", folder.path() / "link.yaml");
  CHECK(replace_file(folder.path() / "link.yaml", "old", "new").outcome == Written::done);
  CHECK(fs::is_symlink(folder.path() / "link.yaml"));
  CHECK(text_of(card) == "new");
}

TEST_CASE("What a killed writer left is taken away by the next one") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", "old");
  folder.write(".card.yaml.new", "half of");
  CHECK(replace_file(card, "old", "new").outcome == Written::done);
  CHECK(text_of(card) == "new");
  CHECK(folder.files() == 1);
}

// A write that fails half-way is the same to the program as a disk that fills up half-way.
TEST_CASE("Where the new file cannot be written whole, the old one stays") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", "old");
  const int outcome = in_a_child([&card] {
    std::signal(SIGXFSZ, SIG_IGN);
    constexpr rlim_t most = 4096;
    const rlimit limit{most, most};
    if (setrlimit(RLIMIT_FSIZE, &limit) != 0) return -1;
    return number(replace_file(card, "old", std::string(100'000, 'x')));
  });
  CHECK(outcome == number(Written::failed));
  CHECK(text_of(card) == "old");
  CHECK(folder.files() == 1);
}

TEST_CASE("Who may not write the folder or the file is told so, and nothing changes") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", "old");
  REQUIRE(chmod(folder.path().c_str(), 0755) == 0);
  const auto as_somebody = [&card] {
    constexpr uid_t somebody = 65534;
    if (getuid() == 0 && setuid(somebody) != 0) return -1;
    return number(replace_file(card, "old", "new"));
  };
  REQUIRE(chmod(card.c_str(), 0444) == 0);
  CHECK(in_a_child(as_somebody) == number(Written::failed));
  if (getuid() == 0) {
    REQUIRE(chmod(card.c_str(), 0666) == 0);
    CHECK(in_a_child(as_somebody) == number(Written::failed));
  }
  CHECK(text_of(card) == "old");
  CHECK(folder.files() == 1);
}

TEST_CASE("Of many writers at once each change is kept or its writer told") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", "");
  constexpr int writers = 4;
  constexpr int lines_each = 25;
  std::atomic<int> refused{0};
  std::vector<std::thread> threads;
  for (int w = 0; w < writers; ++w) {
    threads.emplace_back([&, w] {
      for (int line = 0; line < lines_each;) {
        const std::string read = text_of(card);
        const std::string mine = std::to_string(w) + ":" + std::to_string(line) + "\n";
        const Written outcome = replace_file(card, read, read + mine).outcome;
        if (outcome == Written::done) ++line;
        if (outcome == Written::changed) ++refused;
        if (outcome == Written::failed) break;
      }
    });
  }
  for (std::thread& thread : threads) thread.join();
  const std::string text = text_of(card);
  for (int w = 0; w < writers; ++w) {
    for (int line = 0; line < lines_each; ++line)
      CHECK(text.find(std::to_string(w) + ":" + std::to_string(line) + "\n") != std::string::npos);
  }
  CHECK(folder.files() == 1);
  MESSAGE(refused.load(), " writers found a changed file");
}

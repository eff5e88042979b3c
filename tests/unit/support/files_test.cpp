#include "support/files.h"

#include <fstream>
#include <sys/stat.h>
#include <unistd.h>

#include <doctest/doctest.h>

using namespace slipcase;

namespace fs = std::filesystem;

namespace {

constexpr std::uintmax_t card_limit = std::uintmax_t{4} << 20U;

class Folder {
 public:
  Folder() {
    std::string name = (fs::temp_directory_path() / "slipcase_files_XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  [[nodiscard]] fs::path write(const std::string& name, const std::string& text) const {
    const fs::path file = path_ / name;
    fs::create_directories(file.parent_path());
    std::ofstream(file, std::ios::binary) << text;
    return file;
  }
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

FileFailure failure(const fs::path& path) {
  const auto result = read_file(path, card_limit);
  REQUIRE(std::holds_alternative<FileFailure>(result));
  return std::get<FileFailure>(result);
}

}  // namespace

TEST_CASE("a file is read whole, byte for byte") {
  const Folder folder;
  const std::string text("a\0b\r\n\xFF", 6);
  const auto result = read_file(folder.write("card.yaml", text), card_limit);
  REQUIRE(std::holds_alternative<std::string>(result));
  CHECK(std::get<std::string>(result) == text);
  CHECK(std::get<std::string>(read_file(folder.write("empty", ""), card_limit)).empty());
}

TEST_CASE("nothing with the name of a wanted file is passed over") {
  const Folder folder;
  const fs::path plain = folder.write("a.rules", "");
  const fs::path capitals = folder.write("sub/B.RULES", "");
  const fs::path elsewhere = folder.write("other/c.rules", "");
  (void)folder.write("sub/notes.txt", "");
  fs::create_symlink("nowhere", folder.path() / "sub" / "gone.rules");
  fs::create_directory_symlink(folder.path(), folder.path() / "sub" / "round");
  const auto found = files_below(folder.path(), ".rules");
  REQUIRE(std::holds_alternative<std::vector<fs::path>>(found));
  CHECK(std::get<std::vector<fs::path>>(found) ==
        std::vector<fs::path>{plain, elsewhere, capitals, folder.path() / "sub" / "gone.rules"});
  CHECK(failure(folder.path() / "sub" / "gone.rules").problem == FileProblem::missing);
}

TEST_CASE("a folder that cannot be looked into, or a pipe in it, is a failure of the whole") {
  const Folder folder;
  const auto missing = files_below(folder.path() / "none", ".rules");
  REQUIRE(std::holds_alternative<FileFailure>(missing));
  CHECK(std::get<FileFailure>(missing).problem == FileProblem::missing);
  REQUIRE(mkfifo((folder.path() / "p.rules").c_str(), 0600) == 0);
  const auto pipe = files_below(folder.path(), ".rules");
  REQUIRE(std::holds_alternative<FileFailure>(pipe));
  CHECK(std::get<FileFailure>(pipe).problem == FileProblem::not_a_file);
}

TEST_CASE("a missing file is told with its path") {
  const Folder folder;
  const FileFailure found = failure(folder.path() / "none.yaml");
  CHECK(found.problem == FileProblem::missing);
  CHECK(describe(found) ==
        "there is no file `" + (folder.path() / "none.yaml").string() + "`: check the path");
  const fs::path below_a_file = folder.write("card.yaml", "x") / "more";
  CHECK(failure(below_a_file).problem == FileProblem::missing);
}

TEST_CASE("a folder is not a file") {
  const Folder folder;
  CHECK(failure(folder.path()).problem == FileProblem::is_folder);
  CHECK(describe(failure(folder.path())).ends_with("is a folder: name the file inside it"));
}

TEST_CASE("a file without permission is told as such") {
  const Folder folder;
  const fs::path file = folder.write("card.yaml", "x");
  fs::permissions(file, fs::perms::none);
  // The superuser may read everything.
  if (geteuid() == 0) {
    CHECK(std::holds_alternative<std::string>(read_file(file, card_limit)));
    CHECK(describe(FileFailure{FileProblem::no_permission, file, {}}).find("permissions") !=
          std::string::npos);
  } else {
    CHECK(failure(file).problem == FileProblem::no_permission);
  }
}

TEST_CASE("a file of 100 MB is refused before it is read") {
  const Folder folder;
  const fs::path file = folder.write("card.yaml", "");
  fs::resize_file(file, 100'000'000);
  CHECK(failure(file).problem == FileProblem::too_large);
  fs::resize_file(file, card_limit);
  CHECK(std::holds_alternative<std::string>(read_file(file, card_limit)));
  fs::resize_file(file, card_limit + 1);
  CHECK(failure(file).problem == FileProblem::too_large);
}

TEST_CASE("an endless device stops at the limit") {
  CHECK(failure("/dev/zero").problem == FileProblem::too_large);
}

TEST_CASE("a socket is no file") {
  const Folder folder;
  const fs::path node = folder.path() / "socket";
  REQUIRE(mknod(node.c_str(), S_IFSOCK | 0600, 0) == 0);
  CHECK(failure(node).problem == FileProblem::not_a_file);
}

TEST_CASE("files below a folder come in the order of their names") {
  const Folder folder;
  static_cast<void>(folder.write("b.rules", ""));
  static_cast<void>(folder.write("a/z.rules", ""));
  static_cast<void>(folder.write("a.rules", ""));
  static_cast<void>(folder.write("notes.txt", ""));
  const auto result = files_below(folder.path(), ".rules");
  REQUIRE(std::holds_alternative<std::vector<fs::path>>(result));
  std::vector<std::string> names;
  for (const fs::path& file : std::get<std::vector<fs::path>>(result)) {
    names.push_back(fs::relative(file, folder.path()).string());
  }
  CHECK(names == std::vector<std::string>{"a.rules", "a/z.rules", "b.rules"});
}

TEST_CASE("files below a folder that is not there are a failure") {
  const Folder folder;
  CHECK(std::holds_alternative<FileFailure>(files_below(folder.path() / "none", ".rules")));
}

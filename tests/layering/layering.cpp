// Holds the #include lines of engine/, include/ and cli/ against what each folder may use.
//
//   layering ROOT FOLDER=DEPENDENCY,DEPENDENCY...
//
// The folders and their dependencies come from the DEPENDS of slipcase_module(), so there is one
// table. slipcase_module() itself refuses a dependency that comes later in the pipeline.

#include <algorithm>
#include <array>
#include <exception>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/core.h>

namespace {

namespace fs = std::filesystem;

using Names = std::set<std::string, std::less<>>;
using Table = std::map<std::string, Names, std::less<>>;

// Each third-party library stays behind the folders named here, so that it can be replaced there;
// `*` is every folder. None is ever seen in a public header. What stands in no row is the standard
// library.
struct ThirdParty {
  std::string_view prefix;
  std::string_view allowed;
};
constexpr std::array<ThirdParty, 7> third_party = {{
    {"boost/spirit/", "language"},
    {"boost/", "language model"},
    {"yaml-cpp/", "facts"},
    {"nlohmann/", "facts report"},
    {"csv.h", "facts"},
    {"CLI/", "cli"},
    {"fmt/", "*"},
}};

// The engine neither prints nor exits nor asks the machine for anything but files.
constexpr std::string_view forbidden_in_engine =
    R"(\bstd::(cout|cerr|clog|cin|exit|abort|quick_exit|terminate|getenv|rand|random_device)\b)"
    R"(|\b(printf|fprintf|puts|putchar|getenv|abort|exit|_exit|srand|rand|localtime|gmtime)\s*\()"
    R"(|\bfmt::print\b|<iostream>|<ctime>|\b(system|steady|high_resolution)_clock\b|std::time\s*\()";

class Check {
 public:
  Check(fs::path root, Table depends) : root_(std::move(root)), depends_(std::move(depends)) {}

  void folder(const std::string& name, const std::string& layer) {
    std::vector<fs::path> files;
    for (const auto& entry : fs::recursive_directory_iterator(root_ / name)) {
      const std::string extension = entry.path().extension().string();
      if (extension == ".h" || extension == ".cpp") files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    for (const fs::path& path : files) file(path, layer);
  }

  [[nodiscard]] unsigned files() const { return files_; }
  [[nodiscard]] unsigned problems() const { return problems_; }

 private:
  void file(const fs::path& path, const std::string& layer) {
    static const std::regex include_line(R"re(^\s*#\s*include\s*(["<])([^">]+)[">])re");
    static const std::regex forbidden{std::string(forbidden_in_engine)};
    ++files_;
    path_ = path;
    line_ = 0;
    std::ifstream stream(path);
    for (std::string text; std::getline(stream, text);) {
      ++line_;
      std::smatch match;
      if (std::regex_search(text, match, include_line)) include(match[1], match[2], layer);
      const std::string code = without_texts(text);
      if (layer != "cli" && std::regex_search(code, match, forbidden)) {
        report(fmt::format("the engine may not use `{}`", match.str()));
      }
    }
  }

  void include(const std::string& bracket, const std::string& target, const std::string& layer) {
    for (const ThirdParty& library : third_party) {
      const bool allowed =
          layer != "public" && (library.allowed == "*" || has_word(library.allowed, layer));
      if (target.starts_with(library.prefix) && !allowed) {
        report(fmt::format("<{}> is only for: {}", target, library.allowed));
      }
    }
    if (bracket != "\"" || target.starts_with("slipcase/")) return;

    const std::string folder = target.substr(0, target.find('/'));
    if (layer == "public") {
      report(fmt::format("a public header includes the private \"{}\"", target));
    } else if (layer == "cli") {
      // The program's own headers stand in its folder; everything else is the engine's.
      if (!fs::exists(root_ / "cli" / target)) {
        report(fmt::format("the program sees only slipcase/..., not \"{}\"", target));
      }
    } else if (folder != layer && !depends_.at(layer).contains(folder)) {
      report(
          fmt::format("engine/{}/CMakeLists.txt does not list slipcase_{} under DEPENDS, "
                      "but \"{}\" is included",
                      layer, folder, target));
    }
  }

  // Comments and quoted texts may say anything. A quote in single quotes would confuse this; the
  // worst that follows is a word overlooked on that line.
  static std::string without_texts(const std::string& line) {
    std::string code;
    bool quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
      if (!quoted && line.compare(i, 2, "//") == 0) break;
      if (quoted && line[i] == '\\') {
        ++i;
      } else if (line[i] == '"') {
        quoted = !quoted;
      } else if (!quoted) {
        code += line[i];
      }
    }
    return code;
  }

  static bool has_word(std::string_view words, std::string_view word) {
    return fmt::format(" {} ", words).find(fmt::format(" {} ", word)) != std::string::npos;
  }

  void report(const std::string& text) {
    fmt::print("{}:{}: {}\n", fs::relative(path_, root_).string(), line_, text);
    ++problems_;
  }

  fs::path root_;
  Table depends_;
  fs::path path_;
  unsigned line_ = 0;
  unsigned files_ = 0;
  unsigned problems_ = 0;
};

Names split(const std::string& text) {
  Names names;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = std::min(text.find(',', start), text.size());
    names.insert(text.substr(start, end - start));
    start = end + 1;
  }
  return names;
}

int check(const std::vector<std::string>& arguments) {
  Table depends;
  for (std::size_t i = 1; i < arguments.size(); ++i) {
    const std::size_t equals = arguments[i].find('=');
    depends[arguments[i].substr(0, equals)] = split(arguments[i].substr(equals + 1));
  }

  Check check(arguments.at(0), depends);
  for (const auto& [folder, unused] : depends) check.folder("engine/" + folder, folder);
  check.folder("include", "public");
  check.folder("cli", "cli");
  fmt::print("{} files, {} problems\n", check.files(), check.problems());
  return check.problems() == 0 && check.files() > 0 ? 0 : 1;
}

}  // namespace

int main(int count, char** values) {
  try {
    return check({values + 1, values + count});
  } catch (const std::exception& problem) {
    fmt::print(stderr, "{}: {}\n", values[0], problem.what());
    return 2;
  }
}

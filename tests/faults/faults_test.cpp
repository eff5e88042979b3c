// No card is ever lost or half-written. Cards are invented.
#include <algorithm>
#include <chrono>
#include <csignal>
#include <memory>
#include <random>
#include <sys/mount.h>
#include <sys/resource.h>
#include <thread>
#include <unistd.h>

#include <doctest/doctest.h>

#include "faults/child.h"
#include "slipcase/slipcase.h"
#include "support/card_folder.h"
#include "support/drive_maker.h"

using namespace slipcase;
using faults::Child;
using faults::Ended;
using slipcase::testing::CardFolder;
using slipcase::testing::text_of;

namespace fs = std::filesystem;

namespace {

constexpr const char* first_card =
    "# invented\n"
    "job: J-41\n"
    "unit: six_speed\n"
    "opened: 2031-04-17\n"
    "vehicle: { ref: car 9, odometer: 148200 km }\n"
    "complaint: { text: revs jump, findings: [flare of 3-4] }\n"
    "answers: { flare: { 3-4: always } }\n"
    "codes: { transmission: none, engine: none, brakes: none }\n";

class Rules {
 public:
  Rules() {
    Diagnostics diagnostics;
    RulePaths paths;
    paths.shipped = fs::path(SLIPCASE_RULES) / "six_speed";
    knowledge_ = load_knowledge(paths, std::make_shared<SourceSet>(), diagnostics).knowledge;
    REQUIRE(knowledge_.has_value());
  }
  [[nodiscard]] bool reads(const fs::path& card) const {
    Diagnostics diagnostics;
    auto text = read_card(card, diagnostics);
    return text.card && load_job(std::move(*text.card), *knowledge_, diagnostics).job;
  }

 private:
  std::optional<Knowledge> knowledge_;
};

/// Everything of `before` is still there, in its order: a card only grows here.
bool holds(const std::string& after, const std::string& before) {
  std::size_t at = 0;
  for (const char c : before) {
    at = after.find(c, at);
    if (at == std::string::npos) return false;
    ++at;
  }
  return true;
}

/// As a user who may not do everything; tests often run as root.
void become_somebody() {
  constexpr uid_t somebody = 65534;
  if (getuid() == 0 && setuid(somebody) != 0) _exit(125);
}

}  // namespace

TEST_CASE("Killed at any moment while it writes, the program leaves a whole card") {
  const Rules rules;
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", first_card);
  std::mt19937 random(5);
  std::uniform_int_distribution<int> delay(0, 60'000);  // microseconds
  std::string answers;
  for (int i = 0; i < 60; ++i) answers += "u\n";
  constexpr int kills = 250;
  int killed = 0;
  int killed_while_writing = 0;
  for (int i = 0; i < kills; ++i) {
    const std::string before = text_of(card);
    Child child({"ask", "card.yaml"}, folder.path());
    static_cast<void>(child.wait_for("\n> "));  // it has read rules and card
    child.type(answers);
    std::this_thread::sleep_for(std::chrono::microseconds(delay(random)));
    child.kill();
    if (child.end().code == 128 + SIGKILL) ++killed;
    const std::string after = text_of(card);
    if (after != before) ++killed_while_writing;
    REQUIRE(holds(after, before));
    REQUIRE(rules.reads(card));
    if (i % 5 == 4) folder.write("card.yaml", first_card);  // there are no endless questions
  }
  CHECK(killed > kills / 2);
  CHECK(killed_while_writing > kills / 4);
  MESSAGE(killed, " of ", kills, " killed, ", killed_while_writing, " after at least one answer");
  // What the last one left beside the card is taken away by the next writer.
  CHECK(Child({"ask", "card.yaml", "--answer", "buzz=no"}, folder.path()).end().code == 0);
  CHECK(folder.files() == 1);
}

TEST_CASE("A write that cannot be finished leaves the old card, and says so") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", first_card);
  const Ended ended = Child({"ask", "card.yaml", "--answer", "buzz=no"}, folder.path(), [] {
                        std::signal(SIGXFSZ, SIG_IGN);
                        constexpr rlim_t most = 64;
                        const rlimit limit{most, most};
                        setrlimit(RLIMIT_FSIZE, &limit);
                      }).end();
  CHECK(ended.code == 3);
  CHECK(ended.err.find("[card-not-written]") != std::string::npos);
  CHECK(text_of(card) == first_card);
  CHECK(folder.files() == 1);
}

TEST_CASE("A full disk leaves the old card, and says to make room") {
  const CardFolder folder;
  const fs::path disk = folder.path() / "disk";
  fs::create_directory(disk);
  if (mount("tmpfs", disk.c_str(), "tmpfs", 0, "size=16k") != 0) {
    MESSAGE("no disk of its own may be mounted here: the test above stands for it");
    return;
  }
  std::ofstream(disk / "card.yaml") << first_card;
  std::ofstream(disk / "filler") << std::string(100'000, 'x');
  const Ended ended = Child({"ask", "card.yaml", "--answer", "buzz=no"}, disk).end();
  CHECK(ended.code == 3);
  CHECK(ended.err.find("no room left") != std::string::npos);
  CHECK(text_of(disk / "card.yaml") == first_card);
  CHECK_FALSE(fs::exists(disk / ".card.yaml.new"));
  umount2(disk.c_str(), MNT_DETACH);
}

TEST_CASE("Without the right to write the card stays, and the message says what is missing") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", first_card);
  fs::permissions(folder.path(), fs::perms(0755));
  fs::permissions(card, fs::perms(0444));
  const Ended read_only =
      Child({"ask", "card.yaml", "--answer", "buzz=no"}, folder.path(), become_somebody).end();
  CHECK(read_only.code == 3);
  CHECK(read_only.err.find("may not be written by this user") != std::string::npos);
  if (getuid() == 0) {
    fs::permissions(card, fs::perms(0666));
    const Ended folder_closed =
        Child({"ask", "card.yaml", "--answer", "buzz=no"}, folder.path(), become_somebody).end();
    CHECK(folder_closed.code == 3);
    CHECK(folder_closed.err.find("may not write into its folder") != std::string::npos);
  }
  CHECK(text_of(card) == first_card);
  CHECK(folder.files() == 1);
}

TEST_CASE("An answer is added to what somebody else wrote while the question stood there") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", first_card);
  Child child({"ask", "card.yaml"}, folder.path());
  CHECK(child.wait_for("\n> ").find("cleared") != std::string::npos);
  folder.write("card.yaml", std::string(first_card) + "details: { use: towing }  # by her\n");
  child.type("n\n");
  CHECK(child.wait_for("values_cleared: no").find("somebody else has written") !=
        std::string::npos);
  child.type("q\n");
  CHECK(child.end().code == 0);
  CHECK(text_of(card) ==
        std::string(first_card) + "details: { use: towing }  # by her\nnever: [values_cleared]\n");
}

TEST_CASE("Of two answers to one question the first stays, and the second is told") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", first_card);
  Child child({"ask", "card.yaml"}, folder.path());
  static_cast<void>(child.wait_for("\n> "));
  const std::string theirs = std::string(first_card) + "never: [values_cleared]  # she knows\n";
  folder.write("card.yaml", theirs);
  child.type("y\nq\n");
  const Ended ended = child.end();
  CHECK(ended.err.find("`values_cleared` is `no` there now") != std::string::npos);
  CHECK(ended.err.find("yours was not written") != std::string::npos);
  CHECK(text_of(card) == theirs);
}

// Beside the others because no small golden file holds a whole drive.
TEST_CASE("A complete drive is written onto the card, once") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", first_card);
  test::DriveMaker drive;
  drive.whole_procedure();
  folder.write("log.csv", drive.csv());
  folder.write("columns.yaml", test::DriveMaker::mapping());
  const std::vector<std::string> check{"drive",      "check",        "card.yaml", "log.csv",
                                       "--columns",  "columns.yaml", "--record",  "--date",
                                       "2031-04-18", "--odometer",   "148260 km"};
  const Ended first = Child(check, folder.path()).end();
  CHECK(first.code == 0);
  CHECK(first.out.find("written: learning_drive of 2031-04-18") != std::string::npos);
  const std::string with_drive =
      std::string(first_card) +
      "repairs:\n  - done: learning_drive\n    date: 2031-04-18\n    odometer: 148260 km\n";
  CHECK(text_of(card) == with_drive);
  std::vector<std::string> again = check;
  again.emplace_back("--json");
  const Ended second = Child(again, folder.path()).end();
  CHECK(second.code == 1);
  CHECK(second.err.find("drive-not-recorded") != std::string::npos);
  CHECK(text_of(card) == with_drive);
}

TEST_CASE("A drive that the card contradicts, or of a day before the clearing, is not written") {
  const CardFolder folder;
  test::DriveMaker drive;
  drive.whole_procedure();
  folder.write("log.csv", drive.csv());
  folder.write("columns.yaml", test::DriveMaker::mapping());
  const auto refused = [&](const std::string& text, const std::string& why) {
    const fs::path card = folder.write("card.yaml", text);
    const Ended ended = Child({"drive", "check", "card.yaml", "log.csv", "--columns",
                               "columns.yaml", "--record", "--date", "2031-04-18"},
                              folder.path())
                            .end();
    CHECK(ended.code == 1);
    CHECK(ended.err.find(why) != std::string::npos);
    CHECK(text_of(card) == text);
  };
  const std::string head =
      "unit: six_speed\nopened: 2031-04-17\nvehicle: { odometer: 148200 km }\n";
  refused(head + "codes: [P0733]\n", "one code is stored (P0733)");
  refused(head + "codes: none\nevents: [{ what: values_cleared, date: 2031-04-19 }]\n",
          "a clearing of 2031-04-19");
}

TEST_CASE("A drive that is not complete is not written") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", first_card);
  test::DriveMaker drive;
  drive.upshifts();
  folder.write("log.csv", drive.csv());
  folder.write("columns.yaml", test::DriveMaker::mapping());
  const Ended ended = Child({"drive", "check", "card.yaml", "log.csv", "--columns", "columns.yaml",
                             "--record", "--date", "2031-04-18"},
                            folder.path())
                          .end();
  CHECK(ended.code == 1);
  CHECK(ended.err.find("the drive is not complete") != std::string::npos);
  CHECK(text_of(card) == first_card);
}

TEST_CASE("A yes is on the card before anyone is asked when") {
  const CardFolder folder;
  const fs::path card = folder.write("card.yaml", first_card);
  Child child({"ask", "card.yaml"}, folder.path());
  static_cast<void>(child.wait_for("\n> "));
  child.type("y\n");
  static_cast<void>(child.wait_for("when?"));
  child.kill();
  CHECK(child.end().code == 128 + SIGKILL);
  CHECK(text_of(card) == std::string(first_card) + "events:\n  - what: values_cleared\n");
}

TEST_CASE("An answer never goes onto another job that took the file's place") {
  const CardFolder folder;
  folder.write("card.yaml", first_card);
  Child child({"ask", "card.yaml"}, folder.path());
  static_cast<void>(child.wait_for("\n> "));
  std::string other = first_card;
  other.replace(other.find("J-41"), 4, "J-42");
  const fs::path card = folder.write("card.yaml", other);
  child.type("n\n");
  const Ended ended = child.end();
  CHECK(ended.code == 3);
  CHECK(ended.err.find("another job") != std::string::npos);
  CHECK(text_of(card) == other);
}

TEST_CASE("With --json the second of two answers is told as card-changed") {
  const Rules rules;
  const CardFolder folder;
  int told = 0;
  constexpr int rounds = 30;
  for (int i = 0; i < rounds; ++i) {
    const fs::path card = folder.write("card.yaml", first_card);
    Child one({"ask", "card.yaml", "--answer", "late_drive=seconds", "--json"}, folder.path());
    Child two({"ask", "card.yaml", "--answer", "late_drive=longer", "--json"}, folder.path());
    const Ended first = one.end();
    const Ended second = two.end();
    const std::string text = text_of(card);
    const bool seconds = text.find("late_drive: seconds") != std::string::npos;
    const bool longer = text.find("late_drive: longer") != std::string::npos;
    CHECK(seconds != longer);
    CHECK(rules.reads(card));
    for (const auto& [ended, stands] : {std::pair(first, seconds), std::pair(second, longer)}) {
      if (ended.code == 0) continue;  // it wrote; who came later and saw that may have changed it
      ++told;
      CHECK(ended.code == 1);
      CHECK_FALSE(stands);
      CHECK(ended.err.find("card-changed") != std::string::npos);
    }
  }
  MESSAGE(told, " of ", rounds, " pairs met");
}

TEST_CASE("Answers of many at once are all on the card in the end") {
  const Rules rules;
  const CardFolder folder;
  const std::vector<std::string> findings{"late_drive", "late_reverse", "buzz",
                                          "gear_noise", "pump_whine",   "hunting"};
  for (int i = 0; i < 8; ++i) {
    const fs::path card = folder.write("card.yaml", first_card);
    std::vector<std::unique_ptr<Child>> children;
    for (const std::string& finding : findings)
      children.push_back(std::make_unique<Child>(
          std::vector<std::string>{"ask", "card.yaml", "--answer", finding + "=no"},
          folder.path()));
    for (const auto& child : children) CHECK(child->end().code == 0);
    const std::string text = text_of(card);
    for (const std::string& finding : findings)
      CHECK(text.find(finding + ": no") != std::string::npos);
    CHECK(rules.reads(card));
  }
}

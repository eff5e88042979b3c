#include <doctest/doctest.h>

#include "support/rules_text.h"

using namespace slipcase::test;
using slipcase::Origin;
using slipcase::rulebase::MemberId;

namespace {

constexpr const char* shipped = R"(language 1
detail use : one of private, towing
detail odometer : distance
finding noise asks "?" otherwise in 1 of 20 jobs
finding flare of shift asks "?" otherwise in 1 of 50 jobs
event cleared
cause worn of element
    says "Worn"
    found in 1 of 50 jobs
    becomes 3 times as likely when use is towing
    shows noise in 5 of 10 jobs
cause loose
    found in 1 of 30 jobs
    shows noise in 2 of 10 jobs
    then causes worn of each element in 1 of 10 jobs
check listen takes 5 minutes answers noise
repair mend takes 1 h cures worn of each element, loose
)";

Resolved with_layer(std::string_view own) {
  return resolve_texts({{"shipped", shipped, Origin::shipped},
                        {"own", "language 1\nunit small\n" + std::string(own), Origin::own}});
}

std::string messages(std::string_view own) { return with_layer(own).messages(); }

}  // namespace

TEST_CASE("extend adds a line, for all members or for one") {
  const auto resolved = with_layer(
      "extend worn shows flare of each shift applying element in 3 of 10 jobs\n"
      "extend worn of K3 found in 1 of 12 jobs");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  const auto& worn = resolved.rules->causes.front();
  CHECK(worn.shows.size() == 2);
  CHECK(worn.found.at(MemberId{0})->count.total() == 50);
  CHECK(worn.found.at(MemberId{2})->count.total() == 12);
}

TEST_CASE("a layer's line keeps its place in the shop's file") {
  const auto resolved = with_layer("extend loose shows flare of 2-3 in 1 of 2 jobs");
  REQUIRE(resolved.rules.has_value());
  const auto place = resolved.rules->causes[1].shows.back().place;
  CHECK(resolved.sources.describe(place) == "own:3:14");
}

TEST_CASE("extend of what is there suggests revise and points at the line") {
  const auto resolved = with_layer("extend loose shows noise in 9 of 10 jobs");
  CHECK(resolved.messages() == "own:3:14 already-there");
  CHECK(resolved.sources.describe(*resolved.diagnostics.list().front().notes.front().place) ==
        "shipped:14:5");
  CHECK(messages("extend loose found in 1 of 9 jobs") == "own:3:14 already-there");
  CHECK(messages("extend listen answers noise") == "own:3:15 already-there");
}

TEST_CASE("revise replaces the line with the same first word and target and nothing else") {
  const auto resolved = with_layer("revise loose shows noise in 9 of 10 jobs found in 1 of 8 jobs");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  const auto& loose = resolved.rules->causes[1];
  REQUIRE(loose.shows.size() == 1);
  CHECK(loose.shows.front().count.at_least.front()->hits() == 9);
  CHECK(loose.found.all->count.total() == 8);
  CHECK(loose.causes.size() == 1);
  REQUIRE(resolved.rules->changes.size() == 1);
  CHECK(resolved.rules->changes.front().replaced.size() == 2);
}

TEST_CASE("revise for one member leaves the line for the others") {
  const auto resolved = with_layer("revise worn of K2 shows noise in 9 of 10 jobs");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  const auto& shows = resolved.rules->causes.front().shows;
  // Four members keep the old count, K2 has the new one.
  REQUIRE(shows.size() == 5);
  for (const auto& link : shows) {
    REQUIRE(link.only_for.has_value());
    CHECK(link.count.at_least.front()->hits() == (*link.only_for == MemberId{1} ? 9U : 5U));
  }
}

TEST_CASE("the condition of the only multiplier can be revised") {
  const auto resolved =
      with_layer("revise worn becomes 2 times as likely when odometer > 200000 km");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  REQUIRE(resolved.rules->causes.front().becomes.size() == 1);
  CHECK(resolved.rules->causes.front().becomes.front().times == 2.0);
}

TEST_CASE("a list is revised as a whole") {
  const auto resolved = with_layer("revise mend cures loose");
  REQUIRE(resolved.rules.has_value());
  CHECK(resolved.rules->repairs.front().cures.size() == 1);
}

TEST_CASE("revise of nothing lists the lines that are there") {
  const auto resolved = with_layer("revise loose shows flare of 2-3 in 1 of 2 jobs");
  CHECK(resolved.messages() == "own:3:14 revise-finds-nothing");
  const auto& notes = resolved.diagnostics.list().front().notes;
  REQUIRE(notes.size() == 1);
  CHECK(notes.front().text == "`loose` has `shows noise`");
}

TEST_CASE("one line cannot be revised twice") {
  CHECK(messages("revise loose found in 1 of 9 jobs\nrevise loose found in 1 of 8 jobs") ==
        "own:4:14 revised-twice");
}

TEST_CASE("what holds for all members alike is not changed for one") {
  CHECK(messages("revise worn of K1 says \"x\"") == "own:3:19 not-for-one-member");
  CHECK(messages("remove listen of K1") == "own:3:18 no-members");
  CHECK(messages("extend loose of K1 found in 1 of 9 jobs") == "own:3:17 no-members");
  CHECK(messages("extend worn of K9 found in 1 of 9 jobs") == "own:3:16 unknown-member");
}

TEST_CASE("a layer for what does not exist suggests a near name") {
  const auto resolved = with_layer("revise losse found in 1 of 9 jobs");
  CHECK(resolved.messages() == "own:3:8 unknown-name");
  CHECK(resolved.diagnostics.list().front().text ==
        "there is no declaration `losse` to revise, did you mean `loose`?");
}

TEST_CASE("a line that does not belong is refused in a layer too") {
  CHECK(messages("extend noise found in 1 of 9 jobs") == "own:3:14 clause-not-here");
}

TEST_CASE("remove takes shipped lines that lead there out of use as well") {
  const auto resolved =
      with_layer("remove worn by \"JM\" dated 2031-05-02 note \"not in this unit\"");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  const auto& rules = *resolved.rules;
  REQUIRE(rules.causes.size() == 1);
  CHECK(rules.causes.front().causes.empty());
  CHECK(rules.repairs.front().cures.size() == 1);
  CHECK(rules.left_out.size() == 2);
  REQUIRE(rules.changes.size() == 1);
  CHECK(rules.changes.front().by == "JM");
  CHECK(rules.changes.front().note == "not in this unit");
}

TEST_CASE("remove with lines takes out those lines, named by first word and target") {
  const auto resolved = with_layer("remove loose shows noise then causes worn of each element");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  const auto& loose = resolved.rules->causes[1];
  CHECK(loose.shows.empty());
  CHECK(loose.causes.empty());
  CHECK(loose.found.all->count.total() == 30);
  REQUIRE(resolved.rules->changes.size() == 1);
  CHECK(resolved.rules->changes.front().replaced.size() == 2);
}

TEST_CASE("a count behind a line that is taken out does not count") {
  const auto resolved = with_layer("remove loose shows noise in 9 of 10 jobs");
  CHECK(resolved.text() == "");
  CHECK(resolved.rules->causes[1].shows.empty());
}

TEST_CASE("a line is taken out for one member and stays for the others") {
  const auto resolved =
      with_layer("remove worn of K2 shows noise becomes 3 times as likely when use is towing");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  const auto& worn = resolved.rules->causes.front();
  CHECK(worn.shows.size() == 4);
  for (const auto& link : worn.shows) CHECK(link.only_for != MemberId{1});
  CHECK(worn.becomes.size() == 4);
}

TEST_CASE("a member's own line is taken out before the one for all") {
  const std::string own = "extend worn of K3 found in 1 of 12 jobs\n";
  const auto resolved = with_layer(own + "remove worn of K3 found");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  CHECK(resolved.rules->causes.front().found.at(MemberId{2})->count.total() == 50);
  CHECK(messages("remove worn of K3 found") == "own:3:19 not-for-one-member");
}

TEST_CASE("what was revised for one member and taken out for it does not come back") {
  const auto resolved =
      with_layer("revise worn of K2 shows noise in 9 of 10 jobs\nremove worn of K2 shows noise");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  CHECK(resolved.rules->causes.front().shows.size() == 4);
}

TEST_CASE("otherwise gives way to overall, for all members or for one") {
  const auto whole = with_layer("remove noise otherwise\nextend noise overall in 2 of 10 jobs");
  CHECK(whole.text() == "");
  REQUIRE(whole.rules.has_value());
  CHECK_FALSE(whole.rules->findings.front().otherwise.all.has_value());
  CHECK(whole.rules->findings.front().overall.all.has_value());

  const auto one = with_layer(
      "remove flare of 2-3 otherwise\nextend flare of 2-3 overall in 2 of 10 jobs\n"
      "extend loose shows flare of each shift in 1 of 2 jobs");
  CHECK(one.text() == "");
  REQUIRE(one.rules.has_value());
  const auto& flare = one.rules->findings[1];
  for (std::uint32_t m = 0; m < 4; ++m) {
    const bool is_2_3 = flare.overall.at(MemberId{m}) != nullptr;
    CHECK((flare.otherwise.at(MemberId{m}) == nullptr) == is_2_3);
  }
  CHECK(flare.overall.of_member.size() == 1);
}

TEST_CASE("a rate that was taken out and not replaced is missed") {
  CHECK(messages("remove noise otherwise") == "shipped:4:9 clause-missing");
  CHECK(messages("remove flare of 2-3 otherwise\n"
                 "extend loose shows flare of each shift in 1 of 2 jobs") ==
        "shipped:5:9 clause-missing");
}

TEST_CASE("of a list the named entries are taken out") {
  const auto resolved = with_layer("remove mend cures loose");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  CHECK(resolved.rules->repairs.front().cures.size() == 1);
  const auto all = with_layer("remove mend cures loose, worn of each element");
  CHECK(all.text() == "");
  CHECK(all.rules->repairs.front().cures.empty());
}

TEST_CASE("remove of a line that is not there lists those that are") {
  const auto resolved = with_layer("remove loose shows flare of 2-3");
  CHECK(resolved.messages() == "own:3:14 remove-finds-nothing");
  const auto& notes = resolved.diagnostics.list().front().notes;
  REQUIRE(notes.size() == 1);
  CHECK(notes.front().text == "`loose` has `shows noise`");
  CHECK(messages("remove mend cures noise") == "own:3:13 remove-finds-nothing");
  CHECK(messages("remove worn becomes 3 times as likely when use is private") ==
        "own:3:13 remove-finds-nothing");
}

TEST_CASE("a cause can be out of use for one member") {
  const auto resolved = with_layer("remove worn of K1");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  CHECK_FALSE(resolved.rules->causes.front().header.in_use(MemberId{0}));
  CHECK(resolved.rules->causes.front().header.in_use(MemberId{1}));
  CHECK(messages("remove worn of K1\nextend loose then causes worn of K1 in 1 of 2 jobs") ==
        "own:4:26 taken-out");
  CHECK(messages("remove flare of 2-3\nfinding odd when flare of 2-3") == "own:4:18 taken-out");
}

TEST_CASE("what a shop does is there for every member or for none") {
  CHECK(messages("check feel of element takes 5 minutes answers noise\nremove feel of K1") ==
        "own:4:16 not-for-one-member");
}

TEST_CASE("a layer that changes nothing is worth a word") {
  CHECK(messages("extend noise") == "own:3:1 layer-says-nothing");
  CHECK(messages("revise loose by \"AB\"") == "own:3:1 layer-says-nothing");
  CHECK(messages("remove loose\nremove loose") == "own:4:8 removed-twice");
  CHECK(messages("remove worn of K1\nremove worn of K1") == "own:4:8 removed-twice");
  CHECK(messages("remove worn of K1\nremove worn") == "own:3:8 removed-twice");
  CHECK(messages("remove loose shows noise\nremove loose shows noise") == "own:4:14 removed-twice");
  CHECK(messages("remove mend cures loose\nremove mend cures loose") == "own:4:13 removed-twice");
}

TEST_CASE("own lines that lead to what was removed are errors that say where") {
  const auto resolved =
      with_layer("remove noise\ncause own found in 1 of 9 jobs shows noise in 1 of 2 jobs");
  CHECK(resolved.messages() == "own:4:38 taken-out");
  CHECK(resolved.sources.describe(*resolved.diagnostics.list().front().notes.front().place) ==
        "own:3:8");
}

TEST_CASE("a condition that asks what was removed is an error wherever it stands") {
  CHECK(messages("remove use") == "shipped:10:36 taken-out");
  CHECK(messages("remove use\nrevise worn becomes 2 times as likely when odometer > 5 km") == "");
}

TEST_CASE("the order of the shop's files does not matter") {
  const std::string extend = "language 1\nextend loose shows flare of 2-3 in 1 of 2 jobs";
  const std::string revise =
      "language 1\nunit small\nrevise loose shows flare of 2-3 in 1 of 3 jobs";
  const auto resolved =
      resolve_texts({{"r", revise, Origin::own},
                     {"e", "language 1\nunit small\n" + extend.substr(11), Origin::own},
                     {"s", shipped, Origin::shipped}});
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  CHECK(resolved.rules->causes[1].shows.back().count.at_least.front()->total() == 3);
}

// Learning procedures: what is read, what follows from the chart, what is refused.
#include "profile_text.h"

using namespace slipcase;
using namespace slipcase::test;

namespace {

struct ProcedureReading {
  explicit ProcedureReading(const std::string& manoeuvres) {
    const std::string text = std::string(three_speed) +
                             "procedures:\n  drive:\n    title: Drive\n    events: 5\n"
                             "    manoeuvres:\n      all: { says: All., shifts: [upshifts, "
                             "downshifts, engagements] }\n" +
                             manoeuvres;
    const SourceId source = sources.add("profile.yaml", text);
    profile = profile::read_profile(sources, source, diagnostics);
  }

  [[nodiscard]] std::string names() const {
    std::string all;
    for (const Diagnostic& one : diagnostics.list())
      all += (all.empty() ? "" : " ") + std::string(one.name);
    return all;
  }
  [[nodiscard]] std::string taught_by_last() const {
    std::string all;
    for (const auto element : profile->procedures.at(0).manoeuvres.back().teaches)
      all += profile->vocabulary.scope(profile->element_scope).members[element.at()];
    return all;
  }

  SourceSet sources;
  Diagnostics diagnostics;
  std::optional<profile::Profile> profile;
};

std::string names_after(const std::string& manoeuvre) {
  return ProcedureReading("      last: " + manoeuvre + "\n").names();
}

}  // namespace

TEST_CASE("what a manoeuvre teaches follows from the chart where nothing is said") {
  const ProcedureReading up("      last: { says: Up., path: [1, 2, 3] }\n");
  REQUIRE(up.profile);
  CHECK(up.taught_by_last() == "DI");
  CHECK(ProcedureReading("      last: { says: In., path: [N, 1] }\n").taught_by_last() == "FL");
  CHECK(ProcedureReading("      last: { says: One., shifts: [2-1] }\n").taught_by_last() == "L");
  CHECK(ProcedureReading("      last: { says: Cruise., path: [3], hold: 2 minutes }\n")
            .taught_by_last()
            .empty());
}

TEST_CASE(
    "numbers of a procedure come in base units, with the profile's window where none is said") {
  const ProcedureReading reading(
      "      last: { says: Up., path: [1, 2], speed: [0 km/h, 36 km/h], pedal: [5 %, 20 %], hold: "
      "5 "
      "s, standing: yes, repeats: 7, takes: 90 s }\n");
  REQUIRE(reading.profile);
  const auto* procedure = reading.profile->find_procedure("drive");
  REQUIRE(procedure != nullptr);
  CHECK(procedure->events == 5);
  CHECK(procedure->steady_pedal == 0.05);
  const auto& last = procedure->manoeuvres.back();
  CHECK(last.speed->high == doctest::Approx(10.0));
  CHECK(last.pedal->low == 0.05);
  CHECK(last.hold == 5000.0);
  CHECK(last.standing);
  CHECK(last.repeats == 7);
  CHECK(last.takes == 90000.0);
  CHECK(reading.profile->find_procedure("other") == nullptr);
}

TEST_CASE("what contradicts the chart or itself is refused") {
  CHECK(names_after("{ says: Up., path: [1, 3] }") == "procedure-no-such-shift");
  CHECK(names_after("{ says: Out., path: [1, N] }") == "procedure-no-such-shift");
  CHECK(names_after("{ says: Up., shifts: [1-9] }") == "procedure-no-such-shift");
  CHECK(names_after("{ says: Up., path: [1, 9] }") == "profile-unknown-member");
  CHECK(names_after("{ says: Up., path: [1, 2], teaches: [L] }") == "procedure-teaches-not");
  CHECK(names_after("{ says: Up., path: [3], hold: 5 s, teaches: [D] }") ==
        "procedure-teaches-not");
  CHECK(names_after("{ says: Up., path: [1, 2, 1] }") == "profile-named-twice");
  CHECK(names_after("{ says: Up., path: [1, 2], shifts: [1-2] }") == "procedure-shape");
  CHECK(names_after("{ says: Wait., hold: 5 s }") == "procedure-shape");
  CHECK(names_after("{ says: Up., path: [1, 2], standing: yes }") == "procedure-shape");
  CHECK(names_after("{ says: Cruise., path: [3] }") == "procedure-shape");
  CHECK(names_after("{ says: Up., path: [1, 2], repeats: 0 }") == "profile-impossible-number");
  CHECK(names_after("{ says: Up., path: [1, 2], pedal: [20 %, 10 %] }") == "range-reversed");
  CHECK(names_after("{ says: Up., path: [1, 2], pedal: [-5 %, 10 %] }") ==
        "profile-impossible-number");
  CHECK(names_after("{ says: Up., path: [1, 2], speed: [0 bar, 5 bar] }") ==
        "value-unit-wrong value-unit-wrong");
  CHECK(names_after("{ path: [1, 2] }") == "document-missing-key");
}

TEST_CASE("an element that nothing teaches gets a warning") {
  const std::string text = std::string(three_speed) +
                           "procedures: { drive: { title: D, events: 5, manoeuvres: { up: { says: "
                           "U, path: [1, 2] } } } }\n";
  SourceSet sources;
  Diagnostics diagnostics;
  const SourceId source = sources.add("profile.yaml", text);
  REQUIRE(profile::read_profile(sources, source, diagnostics));
  REQUIRE(diagnostics.list().size() == 1);
  CHECK(diagnostics.list()[0].name == "procedure-element-untaught");
  CHECK(diagnostics.list()[0].text == "no manoeuvre of `drive` teaches `F`, `D` or `L`");
}

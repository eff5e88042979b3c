#include "facts/job_card.h"

#include <doctest/doctest.h>

#include "support/card_reading.h"
#include "support/card_text.h"
#include "support/files.h"

using namespace slipcase;
using namespace slipcase::facts;
using slipcase::test::CardReading;

namespace {

std::string file(const std::string& name) {
  const auto read = read_file(std::string(SLIPCASE_TEST_DATA) + "/cards/" + name, 1U << 20U);
  REQUIRE(std::holds_alternative<std::string>(read));
  return std::get<std::string>(read);
}

JobCard card(const std::string& text) {
  CardReading reading(text);
  CAPTURE(reading.first_text());
  REQUIRE(reading.usable());
  return std::move(*reading.card);
}

double value_of(const std::optional<units::Quantity>& quantity) {
  REQUIRE(quantity);
  return quantity->value;
}

const std::vector<std::pair<Scalar, Scalar>>& members(const Entry& entry) {
  return std::get<std::vector<std::pair<Scalar, Scalar>>>(entry.value);
}

}  // namespace

TEST_CASE("who, what and when of the full card arrive") {
  const JobCard full = card(file("full.yaml"));
  CHECK(full.job->text == "J-0417");
  CHECK(full.unit->text == "six_speed");
  CHECK(full.vehicle.ref->text == "van 12");
  CHECK(value_of(full.vehicle.odometer) == 148'200e6);
  CHECK(full.opened->text() == "2031-04-17");
  CHECK(full.complaint_text == "Flares two-three when warm");
  REQUIRE(full.complaint_findings.size() == 1);
  CHECK(full.complaint_findings[0].name.text == "flare");
  CHECK(full.complaint_findings[0].member->text == "2-3");
}

TEST_CASE("details and answers of the full card arrive as they were written") {
  const JobCard full = card(file("full.yaml"));
  REQUIRE(full.details.size() == 2);
  CHECK(full.details[0].name.text == "use");
  CHECK(std::get<Scalar>(full.details[0].value).text == "towing");
  REQUIRE(full.answers.size() == 2);
  const auto& flare = members(full.answers[0]);
  REQUIRE(flare.size() == 3);
  CHECK(flare[0].first.text == "2-3");
  CHECK(flare[0].second.text == "always");
  CHECK(flare[1].second.text == "no");
  CHECK(flare[2].first.text == "others");
  CHECK(flare[2].second.text == "unknown");
  CHECK(std::get<Scalar>(full.answers[1].value).text == "not sure");
}

TEST_CASE("codes of the full card arrive with their controller, state and temperature") {
  const JobCard full = card(file("full.yaml"));
  REQUIRE(full.codes);
  REQUIRE(full.codes->size() == 1);
  CHECK(full.codes->at(0).controller->text == "transmission");
  const auto& codes = full.codes->at(0).codes;
  REQUIRE(codes.size() == 2);
  CHECK(codes[0].code.text() == "P0733");
  CHECK_FALSE(codes[0].pending);
  CHECK(codes[1].code.text() == "P0735");
  CHECK(codes[1].pending);
  CHECK(value_of(codes[1].temperature) == 94);
}

TEST_CASE("readings of the full card arrive with what was not learned") {
  const JobCard full = card(file("full.yaml"));
  REQUIRE(full.readings.size() == 2);
  CHECK_FALSE(full.readings[0].when.moment);
  CHECK(value_of(full.readings[0].when.odometer) == 120'000e6);
  const Snapshot& last = full.readings[1];
  CHECK(last.when.moment->text() == "2031-04-17");
  CHECK(last.software->text == "A3");
  CHECK(value_of(last.fluid_temperature) == 46);
  REQUIRE(last.values.size() == 2);
  CHECK(last.values[0].name.text == "fill_pressure");
  CHECK(members(last.values[0])[2].second.text == "-15 mbar");
  CHECK(members(last.values[0])[4].second.text == "not learned");
  CHECK(last.values[1].name.text == "fill_time");
}

TEST_CASE("history of the full card arrives") {
  const JobCard full = card(file("full.yaml"));
  REQUIRE(full.events.size() == 2);
  CHECK(full.events[0].what.name.text == "fluid_service");
  CHECK(full.events[0].by == Hand::others);
  CHECK(value_of(full.events[0].when.odometer) == 147'100e6);
  CHECK(full.events[1].when.after->name.text == "fluid_service");
  CHECK(full.events[1].by == Hand::unsaid);
  CHECK_FALSE(full.history_complete);
  CHECK(full.never.at(0).name.text == "drum_rebuilt");
  CHECK(full.never.at(0).member->text == "K1");
}

TEST_CASE("checks, repairs and the outcome of the full card arrive") {
  const JobCard full = card(file("full.yaml"));
  REQUIRE(full.checks.size() == 3);
  CHECK(full.checks[0].done.name.text == "level_at_temperature");
  CHECK(std::get<Scalar>(full.checks[0].found.at(0).value).text == "no");
  CHECK(full.checks[1].found.at(0).name.text == "K2");
  CHECK(full.checks[2].done.member->text == "K3");
  CHECK(full.checks[2].answer->text == "yes");
  REQUIRE(full.repairs.size() == 1);
  CHECK(full.repairs[0].complaint == ComplaintAfter::gone);
  CHECK(value_of(full.repairs[0].after) == 300e6);
  REQUIRE(full.outcome);
  CHECK(full.outcome->closed->text() == "2031-05-02");
  CHECK(full.outcome->confirmed.at(0).member->text == "K2");
  CHECK(full.outcome->sound.at(0).name.text == "lining_worn");
  CHECK(full.outcome->note == "all plates but those of K2 like new");
}

TEST_CASE("a card as JSON is the same card") {
  CHECK(test::text_of(card(file("full.json"))) == test::text_of(card(file("full.yaml"))));
}

TEST_CASE("an almost empty card is a card: what is missing is unknown") {
  const JobCard small = card("job: J-1\n");
  CHECK(small.job->text == "J-1");
  CHECK_FALSE(small.unit);
  CHECK_FALSE(small.codes);
  CHECK_FALSE(small.outcome);
  CHECK_FALSE(small.vehicle.odometer);
}

TEST_CASE("codes that were read and are empty differ from codes that were not read") {
  for (const char* text : {"codes: none\n", "codes: []\n", "{\"codes\": []}"}) {
    const JobCard none = card(text);
    REQUIRE(none.codes);
    CHECK(none.codes->at(0).codes.empty());
    CHECK_FALSE(none.codes->at(0).controller);
  }
  const JobCard two = card("codes: { transmission: none, engine: [p0741] }\n");
  REQUIRE(two.codes->size() == 2);
  CHECK(two.codes->at(0).codes.empty());
  CHECK(two.codes->at(1).codes.at(0).code.text() == "P0741");
  CHECK_FALSE(card("job: J-1\n").codes);
}

TEST_CASE("a code may carry everything the scan tool froze with it") {
  const JobCard one = card(
      "codes:\n  - { code: P0733, state: stored, temperature: 201 F, odometer: 91400 miles, date: "
      "2031-04-01 }\n");
  const CardCode& code = one.codes->at(0).codes.at(0);
  CHECK(value_of(code.temperature) == doctest::Approx(93.8889).epsilon(1e-5));
  CHECK(value_of(code.odometer) == 91'400 * 1'609'344.0);
  CHECK(code.date->text() == "2031-04-01");
  CHECK_FALSE(code.pending);
}

TEST_CASE("dashes, quotes and blanks of a phone are read as plain ones") {
  const JobCard phone = card(
      "complaint: { findings: [flare of 2\u20133, \u201Charsh of 3\u20114\u201D, flare\u00A0of "
      "4-5] }\n"
      "answers: { flare: { 2\u20133: always } }\n");
  REQUIRE(phone.complaint_findings.size() == 3);
  CHECK(phone.complaint_findings[0].member->text == "2-3");
  CHECK(phone.complaint_findings[1].name.text == "harsh");
  CHECK(phone.complaint_findings[1].member->text == "3-4");
  CHECK(phone.complaint_findings[2].member->text == "4-5");
  CHECK(members(phone.answers.at(0)).at(0).first.text == "2-3");
}

TEST_CASE("name and member of a reference have their own places") {
  CardReading reading("never: [drum_rebuilt of K1, \"seal_renewed of  K2\"]\n");
  REQUIRE(reading.usable());
  const auto text = [&](const Scalar& scalar) { return reading.sources.text_at(scalar.place); };
  CHECK(text(reading.card->never[0].name) == "drum_rebuilt");
  CHECK(text(*reading.card->never[0].member) == "K1");
  CHECK(text(reading.card->never[1].name) == "seal_renewed");
  CHECK(text(*reading.card->never[1].member) == "K2");
}

TEST_CASE("a member may stand in the key, as in every other place") {
  const JobCard one =
      card("answers: { flare of 2-3: always, flare of 3-4: no, flare_cold: yes }\n");
  REQUIRE(one.answers.size() == 3);
  CHECK(one.answers[0].name.text == "flare");
  CHECK(members(one.answers[0]).at(0).first.text == "2-3");
  CHECK(members(one.answers[1]).at(0).second.text == "no");
}

TEST_CASE("a single finding needs no brackets") {
  CHECK(card("complaint: { findings: harsh }\n").complaint_findings.size() == 1);
  CHECK(card("outcome: { confirmed: lining_worn of K2 }\n").outcome->confirmed.size() == 1);
}

TEST_CASE("a repair may be judged after a time instead of a distance") {
  const JobCard one = card("repairs: [{ done: overhaul, complaint: back, after: 30 days }]\n");
  CHECK(one.repairs.at(0).complaint == ComplaintAfter::back);
  CHECK(one.repairs.at(0).after->dimension == units::of(units::Base::duration));
}

TEST_CASE("an odometer that falls with the date is kept: whether it matters is decided later") {
  const JobCard one = card(
      "readings:\n  - { date: 2031-01-01, odometer: 150000 km, fill_time: { K1: 1 ms } }\n"
      "  - { date: 2031-04-01, odometer: 120000 km, fill_time: { K1: 2 ms } }\n");
  CHECK(one.readings.size() == 2);
}

TEST_CASE("numbers and booleans of JSON become the text that was written") {
  const JobCard one = card("{\"job\": 417, \"details\": {\"rebuilt\": true, \"gears\": 6.50}}");
  CHECK(one.job->text == "417");
  CHECK(std::get<Scalar>(one.details[0].value).text == "true");
  CHECK(says_yes(std::get<Scalar>(one.details[0].value).text));
  CHECK(std::get<Scalar>(one.details[1].value).text == "6.50");
}

#include "units/date.h"

#include <doctest/doctest.h>

using slipcase::units::Date;
using slipcase::units::is_date_shaped;
using slipcase::units::looks_like_other_date;
using slipcase::units::Moment;

TEST_CASE("every day of 400 years reads back from its own text") {
  // The Gregorian calendar repeats after 400 years of 146097 days (definition).
  const auto first = Date::parse("2000-01-01");
  REQUIRE(first);
  std::int64_t days = 0;
  for (int year = 2000; year < 2400; ++year) {
    for (int month = 1; month <= 12; ++month) {
      for (int day = 1; day <= 31; ++day) {
        std::string text = std::to_string(year);
        text += month < 10 ? "-0" : "-";
        text += std::to_string(month);
        text += day < 10 ? "-0" : "-";
        text += std::to_string(day);
        const auto date = Date::parse(text);
        if (!date) continue;
        CHECK(date->text() == text);
        CHECK(date->days_since_1970() - first->days_since_1970() == days);
        ++days;
      }
    }
  }
  CHECK(days == 146'097);
}

TEST_CASE("days are counted from 1970-01-01") {
  CHECK(Date::parse("1970-01-01")->days_since_1970() == 0);
  // A well known pair: 1,000,000,000 seconds after the epoch it was 2001-09-09, day 11574.
  CHECK(Date::parse("2001-09-09")->days_since_1970() == 1'000'000'000 / 86'400);
  CHECK(Date::parse("2031-04-17") < Date::parse("2031-04-18"));
}

TEST_CASE("days that do not exist are no dates") {
  for (const char* text : {"2031-02-29", "2031-02-30", "2031-13-01", "2031-00-10", "2031-04-31",
                           "2031-04-00", "2100-02-29"}) {
    CAPTURE(text);
    CHECK_FALSE(Date::parse(text));
    CHECK(is_date_shaped(text));
    CHECK_FALSE(looks_like_other_date(text));
  }
  CHECK(Date::parse("2032-02-29"));
}

TEST_CASE("a date is written in one way only") {
  for (const char* text : {"", "2031-4-17", "31-04-17", "2031-04-17 ", " 2031-04-17", "2031/04/17",
                           "20310417", "2031-04-1x", "+031-04-17", "2031-04-177"}) {
    CAPTURE(text);
    CHECK_FALSE(Date::parse(text));
    CHECK_FALSE(is_date_shaped(text));
  }
}

TEST_CASE("other ways to write a date are recognised, so that the message can help") {
  for (const char* text :
       {"4/22/2031", "17.4.2031", "2031-4-7", "22-04-2031", "2031/04/22", "early March",
        "March 2031", "22 Apr 2031", "mid 2031", "Sept. 2031", "last week"}) {
    CAPTURE(text);
    CHECK(looks_like_other_date(text));
  }
  for (const char* text :
       {"", "148200 km", "not sure", "1.5", "1-2", "1/2/3/4", "gone", "marching"}) {
    CAPTURE(text);
    CHECK_FALSE(looks_like_other_date(text));
  }
}

TEST_CASE("a moment is a day, with a minute if it is known") {
  const auto day = Moment::parse("2031-04-17");
  REQUIRE(day);
  CHECK_FALSE(day->minute);
  CHECK(day->text() == "2031-04-17");
  const auto timed = Moment::parse("2031-04-17 14:30");
  REQUIRE(timed);
  CHECK(timed->minute == 14 * 60 + 30);
  CHECK(timed->text() == "2031-04-17 14:30");
  CHECK(Moment::parse("2031-04-17 00:00")->minute == 0);
  CHECK(Moment::parse("2031-04-17 23:59")->text() == "2031-04-17 23:59");
}

TEST_CASE("a time that no clock shows is refused") {
  for (const char* text :
       {"2031-04-17 24:00", "2031-04-17 12:60", "2031-04-17 2:30", "2031-04-17T14:30",
        "2031-04-17 14:30:00", "2031-04-17 ", "2031-02-30 14:30", "14:30"}) {
    CAPTURE(text);
    CHECK_FALSE(Moment::parse(text));
  }
}

#include "support/utf8.h"

#include <string>

#include <doctest/doctest.h>

using namespace slipcase;

TEST_CASE("characters of one to four bytes are decoded") {
  CHECK(decode("a").code == U'a');
  CHECK(decode("é").code == U'é');
  CHECK(decode("≥").code == U'≥');
  CHECK(decode("\xF0\x9F\x94\xA7").code == 0x1F527U);
  CHECK(decode("\xF0\x9F\x94\xA7").length == 4);
}

TEST_CASE("what RFC 3629 does not allow is found at its first byte") {
  // RFC 3629, sections 3 and 4: overlong forms, surrogates, above U+10FFFF, stray and missing
  // bytes.
  for (const std::string bad :
       {"\xC0\x80", "\xC1\xBF", "\xE0\x80\x80", "\xED\xA0\x80", "\xF0\x80\x80\x80",
        "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\x80", "\xFF", "\xE2\x82", "\xE2(\xA1"}) {
    CAPTURE(bad.size());
    CHECK(first_invalid("ab" + bad) == 2);
  }
}

TEST_CASE("good text has no invalid byte, and U+FFFD itself is good") {
  CHECK_FALSE(first_invalid(""));
  CHECK_FALSE(first_invalid("plain, °C, ≥ and \xF0\x9F\x94\xA7"));
  CHECK_FALSE(first_invalid("\xEF\xBF\xBD"));
}

TEST_CASE("wide, narrow and combining characters have their columns") {
  CHECK(display_width(U'a') == 1);
  CHECK(display_width(U'é') == 1);
  CHECK(display_width(0x4E2D) == 2);
  CHECK(display_width(0x0301) == 0);
  CHECK(display_width(0x1F527) == 2);
}

TEST_CASE("control characters are not printable") {
  CHECK(is_printable("a°≥"));
  CHECK_FALSE(is_printable("a\x1B[31m"));
  CHECK_FALSE(is_printable("a\n"));
  CHECK_FALSE(is_printable("\xFF"));
  CHECK_FALSE(is_printable("\xC2\x85"));
}

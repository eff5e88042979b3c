// Of one text no more messages than a person reads.
#include "support/listed.h"

#include <doctest/doctest.h>

using namespace slipcase;

namespace {

constexpr Message test_error{"test-error"};
constexpr Message test_warning{"test-warning", Severity::warning};

void add_many(Diagnostics& diagnostics, const Message& message, SourceId source,
              std::uint32_t count) {
  for (std::uint32_t i = 0; i < count; ++i) {
    diagnostics.add(message, Place{source, i, i + 1}, "text " + std::to_string(i));
  }
}

}  // namespace

TEST_CASE("as many messages as a person reads stay as they are") {
  Diagnostics all;
  add_many(all, test_error, SourceId{0}, most_messages);
  add_many(all, test_warning, SourceId{0}, most_messages);
  const Diagnostics kept = listed(all);
  CHECK(kept.list().size() == 2 * most_messages);
  CHECK(kept.error_count() == most_messages);
}

TEST_CASE("of more than that the first are listed, and the last says how many are not") {
  Diagnostics all;
  add_many(all, test_error, SourceId{0}, 9000);
  const Diagnostics kept = listed(all);
  REQUIRE(kept.list().size() == most_messages + 1);
  CHECK(kept.list().back().name == "too-many-errors");
  CHECK(kept.list().back().text == "8950 more errors in this text are not listed");
  CHECK(kept.list().back().place->begin == most_messages);
}

TEST_CASE("a list that was cut before counts in full, and once") {
  Diagnostics all;
  add_many(all, test_error, SourceId{0}, most_messages);
  add_not_listed(all, Severity::error, 70, Place{SourceId{0}, 200, 201});
  add_many(all, test_error, SourceId{0}, 5);
  add_many(all, test_error, SourceId{1}, 1);
  const Diagnostics kept = listed(all);
  REQUIRE(kept.list().size() == most_messages + 2);
  CHECK(kept.list()[most_messages].text == "75 more errors in this text are not listed");
  CHECK(kept.list()[most_messages].place->begin == 200);
  CHECK(kept.list().back().place->source == SourceId{1});
  CHECK(listed(kept).list()[most_messages].text == "75 more errors in this text are not listed");
}

TEST_CASE("warnings never push an error out, nor one text those of another") {
  Diagnostics all;
  add_many(all, test_warning, SourceId{0}, 51);
  add_many(all, test_error, SourceId{0}, 1);
  add_many(all, test_error, SourceId{1}, 3);
  all.add(test_error, std::nullopt, "about no text");
  const Diagnostics kept = listed(all);
  CHECK(kept.error_count() == 5);
  CHECK(kept.warning_count() == most_messages + 1);
  CHECK(kept.list()[most_messages].name == "too-many-warnings");
  CHECK(kept.list()[most_messages].text == "1 more warning in this text is not listed");
}

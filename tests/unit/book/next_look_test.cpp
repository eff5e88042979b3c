// When to look again. The distances are common practice, no source.
#include "book/next_look.h"

#include <doctest/doctest.h>

namespace slipcase::book {
namespace {

ReadingTrend reading(TrendShape shape, ReadingRange range,
                     std::optional<LimitDistance> to_limit = {}) {
  ReadingTrend trend;
  trend.id = "fill_time of K2";
  trend.segments.emplace_back();
  trend.segments.back().shape = shape;
  trend.segments.back().values.emplace_back();
  trend.range = range;
  trend.to_limit = to_limit;
  judge_look(trend, look_distances(false));
  return trend;
}

NextLook next(const std::vector<ReadingTrend>& readings, std::optional<RecentWork> work = {}) {
  return next_look(readings, work, look_distances(false), 100000.0, 100000.0);
}

TEST_CASE("quiet, watch and act") {
  CHECK(reading(TrendShape::flat, ReadingRange::inside).look == Look::quiet);
  CHECK(reading(TrendShape::flat, ReadingRange::beyond_watch).look == Look::watch);
  CHECK(reading(TrendShape::bending, ReadingRange::inside).look == Look::watch);
  CHECK(reading(TrendShape::disorder, ReadingRange::inside).look == Look::watch);
  CHECK(reading(TrendShape::flat, ReadingRange::beyond_limit).look == Look::act);
  CHECK(reading(TrendShape::rising, ReadingRange::inside, LimitDistance{300, 20000, 40000}).look ==
        Look::act);
  CHECK(reading(TrendShape::rising, ReadingRange::inside, LimitDistance{300, 40000, 60000}).look ==
        Look::watch);
  CHECK(reading(TrendShape::rising, ReadingRange::inside, LimitDistance{300, 50000, 60000}).look ==
        Look::quiet);
}

TEST_CASE("distances in kilometres and in miles") {
  CHECK(next({reading(TrendShape::flat, ReadingRange::inside)}).to == 22500.0);
  CHECK(next({reading(TrendShape::flat, ReadingRange::beyond_watch)}).from == 8000.0);
  CHECK(next({reading(TrendShape::flat, ReadingRange::beyond_limit)}).to == 5000.0);
  CHECK(look_distances(true).routine == 14000.0);
  CHECK(look_distances(true).after_repair == 1500.0);
}

TEST_CASE("never later than half-way to the earliest limit") {
  const auto near =
      reading(TrendShape::rising, ReadingRange::inside, LimitDistance{300, 6000, 9000});
  CHECK(next({near}).to == 3000.0);
  CHECK(next({near}).from == 2500.0);
}

TEST_CASE("what the newest values ask for by themselves") {
  ReadingTrend fast = reading(TrendShape::too_few, ReadingRange::beyond_watch);
  judge_look(fast, look_distances(false), {Look::act, "moved fast", 1800.0});
  CHECK(fast.look == Look::act);
  CHECK(fast.look_because == "moved fast");
  CHECK(next({fast}).to == 900.0);
  ReadingTrend slow = reading(TrendShape::flat, ReadingRange::inside);
  judge_look(slow, look_distances(false), {Look::watch, "moves", {}});
  CHECK(next({slow}).to == 11000.0);
}

TEST_CASE("soon where nothing was read since a reset, even if nobody knows where that was") {
  auto unread = reading(TrendShape::too_few, ReadingRange::inside);
  unread.segments.back().values.clear();
  unread.segments.back().since = "2031-02-01";
  CHECK(next({unread}).to == 2500.0);
  CHECK(next({unread}).because == "not read since: 2031-02-01");
}

TEST_CASE("soon after work, and now if that is overdue") {
  const auto quiet = reading(TrendShape::flat, ReadingRange::inside);
  CHECK(next({quiet}, RecentWork{"Drum rebuilt", 99000.0}).to == 1500.0);
  CHECK(next({quiet}, RecentWork{"Drum rebuilt", 90000.0}).to == 0.0);
}

}  // namespace
}  // namespace slipcase::book

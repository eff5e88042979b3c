#include "book/next_look.h"

#include <algorithm>

#include <fmt/core.h>

namespace slipcase::book {

namespace {

void look(ReadingTrend& reading, Look look, std::string because) {
  if (look <= reading.look && !reading.look_because.empty()) return;
  reading.look = look;
  reading.look_because = std::move(because);
}

/// Of all readings that ask for that look; many of them are cut.
std::string reasons(const std::vector<ReadingTrend>& readings, Look look) {
  constexpr std::size_t most_reasons = 3;
  std::string text;
  std::size_t count = 0;
  for (const ReadingTrend& reading : readings) {
    if (look == Look::quiet || reading.look != look || ++count > most_reasons) continue;
    text += (text.empty() ? "" : "; ") + reading.id + " " + reading.look_because;
  }
  if (count > most_reasons) text += fmt::format("; and {} more", count - most_reasons);
  return text;
}

/// The reading whose limit may come first; none that is there already, where `act` says enough.
const ReadingTrend* first_at_limit(const std::vector<ReadingTrend>& readings) {
  const ReadingTrend* first = nullptr;
  for (const ReadingTrend& reading : readings) {
    if (!reading.to_limit || reading.to_limit->earliest <= 0.0) continue;
    const bool sooner = !first || reading.to_limit->earliest < first->to_limit->earliest;
    if (sooner) first = &reading;
  }
  return first;
}

const ReadingTrend* first_at_pace(const std::vector<ReadingTrend>& readings) {
  const ReadingTrend* first = nullptr;
  for (const ReadingTrend& reading : readings) {
    if (!reading.ahead_at_pace) continue;
    if (!first || *reading.ahead_at_pace < *first->ahead_at_pace) first = &reading;
  }
  return first;
}

/// What a look asks for by itself.
NextLook plain_look(Look look, const LookDistances& distances, double now) {
  switch (look) {
    case Look::quiet:
      break;
    case Look::watch:
      return {look, distances.watch_from, distances.watch_to, now, ""};
    case Look::act:
      return {look, distances.act_from, distances.act_to, now, ""};
  }
  return {look, distances.routine, distances.routine, now, ""};
}

void bring_forward(NextLook& next, double distance, const std::string& because) {
  if (distance >= next.to) return;
  next.to = std::max(distance, 0.0);
  next.from = std::min(next.from, next.to);
  next.because += (next.because.empty() ? "" : "; ") + because;
}

}  // namespace

LookDistances look_distances(bool miles) {
  if (miles) return {14000.0, 5000.0, 7000.0, 1500.0, 3000.0, 1500.0, 1000.0};
  return {22500.0, 8000.0, 11000.0, 2500.0, 5000.0, 2500.0, 1500.0};
}

void judge_look(ReadingTrend& reading, const LookDistances& distances, const PaceLook& pace) {
  const TrendSegment& newest = reading.segments.back();
  reading.ahead_at_pace = pace.ahead;
  if (reading.range == ReadingRange::beyond_limit) look(reading, Look::act, "is at its limit");
  if (reading.to_limit && reading.to_limit->earliest < distances.routine)
    look(reading, Look::act, "may reach its limit before the next routine service");
  if (pace.look == Look::act) look(reading, Look::act, pace.because);
  if (reading.range == ReadingRange::beyond_watch)
    look(reading, Look::watch, "is beyond its watch line");
  if (reading.to_limit && reading.to_limit->earliest < 2.0 * distances.routine)
    look(reading, Look::watch, "may reach its limit before the routine service after next");
  if (pace.look == Look::watch) look(reading, Look::watch, pace.because);
  if (newest.shape == TrendShape::bending) look(reading, Look::watch, "moves faster than before");
  if (newest.shape == TrendShape::step && !newest.steps.back().confirmed)
    look(reading, Look::watch, "jumped, and one reading more will tell whether it stays");
  if (newest.shape == TrendShape::disorder)
    look(reading, Look::watch, "goes up and down by more than readings scatter");
}

NextLook next_look(const std::vector<ReadingTrend>& readings, const std::optional<RecentWork>& work,
                   const LookDistances& distances, double now, double read_at) {
  Look look = Look::quiet;
  for (const ReadingTrend& reading : readings) look = std::max(look, reading.look);
  NextLook next = plain_look(look, distances, now);
  next.because = reasons(readings, look);
  if (work)
    bring_forward(next, work->odometer + distances.after_repair - now,
                  "the last work needs a look soon: " + work->says);
  const auto unread = std::ranges::find_if(
      readings, [](const ReadingTrend& reading) { return reading.segments.back().values.empty(); });
  if (!work && unread != readings.end())
    bring_forward(next, distances.after_repair, "not read since: " + unread->segments.back().since);
  if (const ReadingTrend* first = first_at_limit(readings))
    bring_forward(next, read_at + first->to_limit->earliest / 2.0 - now,
                  "no later than half-way to where " + first->id + " may reach its limit");
  if (const ReadingTrend* first = first_at_pace(readings))
    bring_forward(next, read_at + *first->ahead_at_pace / 2.0 - now,
                  "no later than half-way to the limit of " + first->id + " at its newest pace");
  return next;
}

}  // namespace slipcase::book

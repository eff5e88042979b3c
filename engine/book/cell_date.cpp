#include "book/cell_date.h"

#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "facts/node_reader.h"

namespace slipcase::book {

namespace {

/// "17.4.2031" with its year in front: "2031.4.17".
std::optional<std::string> turned_round(std::string_view day) {
  const std::size_t first = day.find_first_of("-./");
  if (first == std::string_view::npos) return std::nullopt;
  const char sign = day[first];
  const std::size_t second = day.find(sign, first + 1);
  if (second == std::string_view::npos) return std::nullopt;
  return fmt::format("{}{}{}{}{}", day.substr(second + 1), sign,
                     day.substr(first + 1, second - first - 1), sign, day.substr(0, first));
}

/// "9:05" and "09:05:17" as "09:05".
std::optional<std::string> hour_and_minute(std::string_view time) {
  std::array<std::string_view, 3> parts;
  std::size_t count = 0;
  while (true) {
    const std::size_t end = std::min(time.find(':'), time.size());
    const std::string_view part = time.substr(0, end);
    const bool digits = part.find_first_not_of("0123456789") == std::string_view::npos;
    const bool sized = part.size() == 2 || (part.size() == 1 && count == 0);
    if (count == parts.size() || !digits || !sized) return std::nullopt;
    parts[count++] = part;
    if (end == time.size()) break;
    time.remove_prefix(end + 1);
  }
  const bool minute_over = count == 3 && parts[2] > "59";
  if (count < 2 || minute_over) return std::nullopt;
  return fmt::format("{:0>2}:{}", parts[0], parts[1]);
}

}  // namespace

std::optional<units::Moment> cell_moment(std::string_view cell, bool day_first) {
  const std::size_t split = std::min(cell.find_first_of(" T"), cell.size());
  const std::string_view written = cell.substr(0, split);
  const auto turned = day_first ? turned_round(written) : std::optional<std::string>(written);
  const auto day = turned ? facts::year_first(*turned) : std::nullopt;
  if (!day) return std::nullopt;
  if (split == cell.size()) return units::Moment::parse(*day);
  const auto time = hour_and_minute(cell.substr(split + 1));
  return time ? units::Moment::parse(*day + " " + *time) : std::nullopt;
}

}  // namespace slipcase::book

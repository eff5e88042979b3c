// Calendar days and times of day as a card writes them. No clock is ever read here.
#pragma once

#include <chrono>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace slipcase::units {

class Date {
 public:
  /// "2031-04-17" and nothing else; nothing for a day that does not exist.
  [[nodiscard]] static std::optional<Date> parse(std::string_view text);

  [[nodiscard]] static constexpr Date from_days_since_1970(std::int64_t days) {
    return Date(std::chrono::sys_days(std::chrono::days(days)));
  }

  [[nodiscard]] std::string text() const;
  [[nodiscard]] std::int64_t days_since_1970() const { return days_.time_since_epoch().count(); }

  friend constexpr auto operator<=>(Date, Date) = default;

 private:
  explicit constexpr Date(std::chrono::sys_days days) : days_(days) {}
  std::chrono::sys_days days_;
};

/// A day, with the minute where the card gives it ("2031-04-17 14:30").
struct Moment {
  Date date;
  std::optional<std::uint16_t> minute;  // of the day, 0..1439

  [[nodiscard]] static std::optional<Moment> parse(std::string_view text);
  [[nodiscard]] std::string text() const;

  friend constexpr bool operator==(const Moment&, const Moment&) = default;
};

/// Four digits, two, two, with dashes: written as a date should be, whether or not there is such a
/// day.
[[nodiscard]] bool is_date_shaped(std::string_view text);

/// The text looks like a date in another order or a month name ("4/22/2031", "17.4.2031", "early
/// March").
[[nodiscard]] bool looks_like_other_date(std::string_view text);

}  // namespace slipcase::units

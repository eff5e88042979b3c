// What the reports' JSON has in common. Only the reports' own JSON files include this.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "slipcase/job.h"
#include "slipcase/reasons.h"

namespace slipcase::report {

using Json = nlohmann::ordered_json;

/// Infinite factors (a finding that settles a cause) have no JSON number.
[[nodiscard]] inline Json number(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

[[nodiscard]] inline std::string dumped(const Json& json) {
  // Texts come from files that were checked for UTF-8; a name of a file on disk may still not be.
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

/// Answers that were only tried, if there were any.
inline void add_supposed(const std::vector<Supposed>& supposed, Json& json) {
  if (supposed.empty()) return;
  json["supposed"] = Json::array();
  for (const Supposed& one : supposed)
    json["supposed"].push_back({{"finding", one.finding}, {"answer", one.answer}});
}

template <class List, class Function>
[[nodiscard]] Json list_json(const List& list, Function&& function) {
  Json json = Json::array();
  for (const auto& entry : list) json.push_back(function(entry));
  return json;
}

[[nodiscard]] inline Json tipping_json(const TippingCount& count) {
  return Json{{"rule", count.rule},
              {"line", count.line},
              {"from", count.from},
              {"to", count.to},
              {"then_first", count.then_first}};
}

}  // namespace slipcase::report

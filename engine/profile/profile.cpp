#include "profile/profile.h"

#include <algorithm>

namespace slipcase::profile {

const ReadingProfile* Profile::find_reading(std::string_view wanted) const {
  const auto found = std::find_if(readings.begin(), readings.end(),
                                  [&](const ReadingProfile& one) { return one.reading == wanted; });
  return found == readings.end() ? nullptr : &*found;
}

const Procedure* Profile::find_procedure(std::string_view wanted) const {
  const auto found = std::find_if(procedures.begin(), procedures.end(),
                                  [&](const Procedure& one) { return one.name == wanted; });
  return found == procedures.end() ? nullptr : &*found;
}

}  // namespace slipcase::profile

// From rule text and card text to a ranking, by the public headers only.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <string_view>

#include "slipcase/job.h"
#include "slipcase/knowledge.h"
#include "slipcase/next.h"
#include "slipcase/ranking.h"
#include "slipcase/source.h"

namespace reference {

/// All messages as a user would read them.
[[nodiscard]] std::string as_text(const slipcase::Diagnostics& diagnostics,
                                  const slipcase::SourceSet& sources);

struct Answer {
  std::map<std::string, double, std::less<>> chance;  // per cause
  double log_evidence = 0.0;
};

/// Rules read once, for any number of cards.
class WholeTool {
 public:
  /// Throws with the messages as text when the rules have errors.
  explicit WholeTool(std::string_view rules);

  /// Throws when the card has errors or nothing can be ranked.
  [[nodiscard]] Answer rank(std::string_view card) const;
  [[nodiscard]] slipcase::NextAdvice next(std::string_view card,
                                          const slipcase::NextOptions& options) const;

 private:
  [[nodiscard]] slipcase::Job load_job(std::string_view card) const;

  std::shared_ptr<slipcase::SourceSet> sources_ = std::make_shared<slipcase::SourceSet>();
  slipcase::Knowledge knowledge_;
};

}  // namespace reference

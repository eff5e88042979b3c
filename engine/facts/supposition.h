// A name and what is said of it in one text, as behind an option: `flare of 2-3=always`.
#pragma once

#include <optional>
#include <string_view>

#include "facts/job_card.h"
#include "facts/scalar.h"
#include "slipcase/diagnostic.h"
#include "slipcase/source.h"

namespace slipcase::facts {

struct NamedValue {
  CardReference name;
  Scalar value;
};

/// How a text that is none is refused: "`{}` ADVICE".
struct NamedValueWords {
  const Message& message;
  std::string_view advice;
  std::string_view what;  // "a finding"
};

/// The whole text is one `NAME=VALUE`. Nothing comes back where its shape was reported; a name in
/// it may still be faulty.
[[nodiscard]] std::optional<NamedValue> read_named_value(const SourceSet& sources, SourceId source,
                                                         const NamedValueWords& words,
                                                         Diagnostics& diagnostics);

/// An answer that is tried without writing it on a card.
struct Supposition {
  CardReference finding;
  Scalar answer;
};

/// The same for a supposition.
[[nodiscard]] std::optional<Supposition> read_supposition(const SourceSet& sources, SourceId source,
                                                          Diagnostics& diagnostics);

}  // namespace slipcase::facts

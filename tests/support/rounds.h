// How often a property test draws: in full in the release build, and a fifth of it where sanitizers
// make each round five times as dear and look for other things.
#pragma once

namespace slipcase::test {

[[nodiscard]] constexpr unsigned rounds_of(unsigned full) {
#ifdef SLIPCASE_SANITIZED
  return full / 5;
#else
  return full;
#endif
}

}  // namespace slipcase::test

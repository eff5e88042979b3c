// Working memory that is written before it is read: never cleared, never copied when it grows.
//
// Large buffers ask the system for large pages where it has them: touching fresh memory in 4 KB
// pages took longer than the sweep that used it.
#pragma once

#include <cstddef>
#include <cstdlib>
#include <memory>
#include <new>
#include <type_traits>

#if defined(__linux__)
#include <sys/mman.h>
#endif

namespace slipcase::network {

template <class T>
class Buffer {
  static_assert(std::is_trivially_destructible_v<T>);

 public:
  [[nodiscard]] T* data() { return memory_.get(); }

  /// Room for at least `count` items; what was in it is lost when it has to grow.
  void reserve(std::size_t count) {
    if (count <= size_) return;
    memory_.reset();
    size_ = 0;
    memory_.reset(allocate(count));
    size_ = count;
  }

 private:
  static constexpr std::size_t large_page = std::size_t{2} << 20;
  static constexpr std::size_t small_step = 64;

  struct Free {
    void operator()(T* memory) const noexcept { std::free(memory); }
  };

  static T* allocate(std::size_t count) {
    const std::size_t bytes = count * sizeof(T);
    const std::size_t step = bytes >= large_page ? large_page : small_step;
    const std::size_t rounded = (bytes + step - 1) / step * step;
    void* memory = std::aligned_alloc(step, rounded);
    if (memory == nullptr) throw std::bad_alloc();
#if defined(__linux__)
    // Only a wish: the memory is as good without.
    if (step == large_page) madvise(memory, rounded, MADV_HUGEPAGE);
#endif
    return static_cast<T*>(memory);
  }

  std::unique_ptr<T, Free> memory_;
  std::size_t size_ = 0;
};

}  // namespace slipcase::network

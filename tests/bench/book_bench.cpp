// Listing a book of ten thousand cards. The cards are the shipped ones, again and again.
#include <filesystem>
#include <fstream>
#include <iterator>

#include <benchmark/benchmark.h>

#include "slipcase/book.h"
#include "support/card_folder.h"

namespace {

using namespace slipcase;

namespace fs = std::filesystem;

constexpr std::size_t cards_in_book = 10'000;

void fill(const testing::CardFolder& folder) {
  std::vector<std::string> texts;
  for (const auto& file : fs::directory_iterator(SLIPCASE_RULES "/six_speed/jobs"))
    texts.push_back(testing::text_of(file.path()));
  for (std::size_t i = 0; i < cards_in_book; ++i)
    folder.write("card" + std::to_string(i) + ".yaml", texts[i % texts.size()]);
}

void list_ten_thousand_cards(benchmark::State& state) {
  const testing::CardFolder folder;
  fill(folder);
  std::size_t listed = 0;
  for (auto _ : state) {
    Diagnostics diagnostics;
    listed = list_book(folder.path(), {}, diagnostics).cards.size();
  }
  state.counters["cards"] = static_cast<double>(listed);
}
BENCHMARK(list_ten_thousand_cards)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace

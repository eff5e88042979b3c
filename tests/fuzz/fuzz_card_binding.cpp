// Any text as a job card of the shipped unit, through the public functions and as far as it goes:
// read, bound, ranked and explained.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "slipcase/slipcase.h"

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t max_size);

namespace {

using namespace slipcase;

// Enough for every job that comes with the rules; wider ones are refused, not waited for.
constexpr std::size_t memory_bytes = std::size_t{128} << 20U;

void require(bool holds) {
  if (!holds) std::abort();
}

class Shop {
 public:
  Shop() {
    Diagnostics diagnostics;
    RulePaths paths;
    paths.shipped = std::filesystem::path(SLIPCASE_RULES) / "six_speed";
    knowledge_ = load_knowledge(paths, sources_, diagnostics).knowledge;
    require(knowledge_.has_value());
    shipped_ = *sources_;
    const RulesList list = list_rules(*knowledge_, "");
    for (const auto& cause : list.causes) names_.push_back(cause.id);
    for (const auto& finding : list.findings) names_.push_back(finding.id);
    for (const auto& other : list.others) names_.push_back(other.id);
  }

  void take(std::string text) {
    // Texts of cards are kept for as long as the rules are: not those of millions.
    if (sources_->size() > shipped_.size() + 100) *sources_ = shipped_;
    const std::size_t size = text.size();
    Diagnostics diagnostics;
    auto unit = unit_named_in(text);
    const JobLoad load =
        load_job({"card", std::move(text), std::move(unit)}, *knowledge_, diagnostics);
    require(load.job.has_value() != diagnostics.has_errors());
    check(diagnostics, size);
    if (load.job) rank_and_explain(*load.job);
  }

  [[nodiscard]] const std::vector<std::string>& names() const { return names_; }

 private:
  void check(const Diagnostics& diagnostics, std::size_t size) const {
    const Diagnostic* before = nullptr;
    std::size_t shown = 0;
    for (const Diagnostic& diagnostic : diagnostics.list()) {
      require(!diagnostic.place || diagnostic.place->begin <= size);
      if (before != nullptr && before->place && diagnostic.place) {
        require(before->place->begin <= diagnostic.place->begin);
        require(before->place != diagnostic.place || before->text != diagnostic.text);
      }
      before = &diagnostic;
      if (shown++ < 20) require(!render(diagnostic, *sources_).empty());
    }
  }

  void rank_and_explain(const Job& job) const {
    RankOptions options;
    options.memory_bytes = memory_bytes;
    const RankResult result = rank(*knowledge_, job, options);
    const auto* ranking = std::get_if<Ranking>(&result);
    if (ranking == nullptr) return;
    for (const RankedCause& cause : ranking->causes) require(!std::isnan(cause.chance.log_odds()));
    require(!to_text(*ranking).empty());
    // Reasons take a sweep for every known finding: few enough for a fuzzer.
    constexpr std::ptrdiff_t most_explained = 24;
    const auto is_known = [](const FindingReport& finding) {
      return finding.state == FindingState::present || finding.state == FindingState::absent;
    };
    if (std::ranges::count_if(ranking->findings, is_known) > most_explained) return;
    options.tipping = 0;
    const ReasonsResult why = reasons(*knowledge_, job, "", options);
    if (const auto* told = std::get_if<Reasons>(&why)) require(!to_text(*told).empty());
  }

  std::shared_ptr<SourceSet> sources_ = std::make_shared<SourceSet>();
  SourceSet shipped_;
  std::optional<Knowledge> knowledge_;
  std::vector<std::string> names_;
};

Shop& shop() {
  static Shop only;
  return only;
}

bool is_word_part(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
         c == '-';
}

}  // namespace

// Puts a name that the rules know in the place of a word: most other changes end in a name that
// they do not know, long before anything is ranked.
extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t max_size, unsigned seed) {
  std::minstd_rand random(seed);
  if (size == 0 || random() % 2 == 0) return LLVMFuzzerMutate(data, size, max_size);
  std::string text(data, data + size);
  std::size_t begin = random() % size;
  while (begin < size && !is_word_part(text[begin])) ++begin;
  std::size_t end = begin;
  while (begin > 0 && is_word_part(text[begin - 1])) --begin;
  while (end < size && is_word_part(text[end])) ++end;
  std::string_view name = shop().names()[random() % shop().names().size()];
  const std::size_t of = name.find(" of ");
  if (of != std::string_view::npos && random() % 2 == 0) name = name.substr(0, of);
  text.replace(begin, end - begin, name);
  if (text.size() > max_size) return LLVMFuzzerMutate(data, size, max_size);
  std::copy(text.begin(), text.end(), data);
  return text.size();
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  shop().take(std::string(data, data + size));
  return 0;
}

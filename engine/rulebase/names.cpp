#include "rulebase/names.h"

#include <array>

namespace slipcase::rulebase {

namespace {

constexpr std::array every_kind{Kind::detail, Kind::reading, Kind::event,    Kind::finding,
                                Kind::inside, Kind::cause,   Kind::distrust, Kind::check,
                                Kind::access, Kind::repair,  Kind::caution,  Kind::group};

}  // namespace

std::string_view with_article(Kind kind) {
  switch (kind) {
    case Kind::detail:
      return "a detail";
    case Kind::reading:
      return "a reading";
    case Kind::event:
      return "an event";
    case Kind::finding:
      return "a finding";
    case Kind::inside:
      return "an inside";
    case Kind::cause:
      return "a cause";
    case Kind::distrust:
      return "a distrust";
    case Kind::check:
      return "a check";
    case Kind::access:
      return "an access";
    case Kind::repair:
      return "a repair";
    case Kind::caution:
      return "a caution";
    case Kind::group:
      return "a group";
  }
  return "";
}

std::string describe(Kinds kinds) {
  std::vector<std::string_view> words;
  for (const Kind kind : every_kind) {
    if (kinds.has(kind)) words.push_back(with_article(kind));
  }
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += words[i];
  }
  return text;
}

bool Symbol::is(Kinds kinds) const {
  if (kinds.has(kind)) return true;
  if (kinds.has(Kind::finding) && finding) return true;
  return kinds.has(Kind::event) && event.has_value();
}

const Symbol* Names::add(const Symbol& symbol) {
  const auto [place, added] = index_.try_emplace(symbol.name, symbols_.size());
  if (!added) return &symbols_[place->second];
  symbols_.push_back(symbol);
  return nullptr;
}

const Symbol* Names::find(std::string_view name) const {
  const auto found = index_.find(name);
  return found == index_.end() ? nullptr : &symbols_[found->second];
}

Symbol* Names::find(std::string_view name) {
  const auto found = index_.find(name);
  return found == index_.end() ? nullptr : &symbols_[found->second];
}

std::vector<std::string> Names::of(Kinds kinds) const {
  std::vector<std::string> names;
  for (const Symbol& symbol : symbols_) {
    if (!symbol.removed && symbol.is(kinds)) names.emplace_back(symbol.name);
  }
  return names;
}

}  // namespace slipcase::rulebase

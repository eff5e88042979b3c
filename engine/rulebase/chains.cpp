// `median of limit_share of as_read of fill_pressure of every element`: functions before a reading,
// read from right to left, in one fixed order: over members, share, what is taken of the snapshots.
#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "rulebase/messages.h"
#include "rulebase/values.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

enum class Group : std::uint8_t { over_members, share, snapshots, gear };

struct Function {
  std::string_view name;
  Group group;
  Aggregate aggregate = Aggregate::median;
  ShareOf share = ShareOf::nothing;
  ReadingFunction function = ReadingFunction::newest;
};

constexpr Function over_members(std::string_view name, Aggregate aggregate) {
  return {name, Group::over_members, aggregate, ShareOf::nothing, ReadingFunction::newest};
}
constexpr Function share(std::string_view name, ShareOf of) {
  return {name, Group::share, Aggregate::median, of, ReadingFunction::newest};
}
constexpr Function snapshots(std::string_view name, ReadingFunction function) {
  return {name, Group::snapshots, Aggregate::median, ShareOf::nothing, function};
}

constexpr std::array functions{
    over_members("median", Aggregate::median),
    over_members("largest", Aggregate::largest),
    over_members("smallest", Aggregate::smallest),
    over_members("spread", Aggregate::spread),
    share("limit_share", ShareOf::limit),
    share("watch_share", ShareOf::watch),
    snapshots("as_read", ReadingFunction::as_read),
    snapshots("before_clearing", ReadingFunction::before_clearing),
    snapshots("change", ReadingFunction::change),
    snapshots("slope", ReadingFunction::slope),
    snapshots("step", ReadingFunction::step),
    snapshots("scatter", ReadingFunction::scatter),
    snapshots("high_limit", ReadingFunction::high_limit),
    snapshots("low_limit", ReadingFunction::low_limit),
    Function{"ratio_error", Group::gear},
};

const Function* find_function(std::string_view word) {
  const auto found = std::find_if(functions.begin(), functions.end(),
                                  [word](const Function& f) { return f.name == word; });
  return found == functions.end() ? nullptr : &*found;
}

units::Dimension without_scale(units::Dimension dimension) {
  dimension.on_scale = false;
  return dimension;
}

units::Dimension dimension_of(ReadingFunction function, const units::Dimension& reading) {
  switch (function) {
    case ReadingFunction::newest:
    case ReadingFunction::as_read:
    case ReadingFunction::before_clearing:
    case ReadingFunction::high_limit:
    case ReadingFunction::low_limit:
      return reading;
    case ReadingFunction::change:
    case ReadingFunction::step:
    case ReadingFunction::scatter:
      return without_scale(reading);
    case ReadingFunction::slope:
      return units::quotient(without_scale(reading), units::of(units::Base::distance));
  }
  return reading;
}

// A share is of the value as it stands on its side of the limit, so not of a change or a limit.
bool takes_share(ReadingFunction function) {
  return function == ReadingFunction::newest || function == ReadingFunction::as_read ||
         function == ReadingFunction::before_clearing;
}

struct Chain {
  const Function* over_members = nullptr;
  const Function* share = nullptr;
  const Function* snapshots = nullptr;
  std::size_t base = 0;  // index of the reading or detail in the path's words
};

class ChainResolver {
 public:
  ChainResolver(Context& context, const language::Path& path, const Variables& variables,
                bool any_detail)
      : context_(context), path_(path), variables_(variables), any_detail_(any_detail) {}

  ValuePtr resolve() {
    if (path_.words.empty()) return nullptr;
    if (const Function* first = find_function(path_.words.front().text)) {
      if (first->group == Group::gear && !path_.selection) return ratio_error(0, variables_);
    }
    const auto chain = read_chain();
    if (!chain) return nullptr;
    if (chain->over_members != nullptr) return over_all(*chain);
    if (path_.selection) {
      context_.error(
          wrong_chain, path_.selection->place,
          fmt::format("this gives several values; write `median of`, `largest of`, "
                      "`smallest of` or `spread of` before it, or ask each in a condition: "
                      "`any {0} ( ... of {0} ... )`",
                      path_.selection->scope.text));
      return nullptr;
    }
    return base(*chain, variables_);
  }

 private:
  // Functions must stand in the order of their groups, each group once.
  std::optional<Chain> read_chain() {
    Chain chain;
    std::size_t at = 0;
    int last_group = -1;
    for (; at < path_.words.size(); ++at) {
      const Function* function = find_function(path_.words[at].text);
      if (function == nullptr || function->group == Group::gear) break;
      if (static_cast<int>(function->group) <= last_group) {
        report_order(path_.words[at], *function);
        return std::nullopt;
      }
      last_group = static_cast<int>(function->group);
      slot(chain, *function) = function;
    }
    if (at == path_.words.size()) {
      report_incomplete();
      return std::nullopt;
    }
    chain.base = at;
    if (chain.share != nullptr && chain.snapshots != nullptr &&
        !takes_share(chain.snapshots->function)) {
      context_.error(wrong_chain, path_.words[at - 1].place,
                     fmt::format("`{0}` takes the value itself, not its `{1}`; write `{0} of {2}`, "
                                 "`{0} of as_read of {2}` or `{0} of before_clearing of {2}`",
                                 chain.share->name, chain.snapshots->name, path_.words[at].text));
      return std::nullopt;
    }
    return chain;
  }

  static const Function*& slot(Chain& chain, const Function& function) {
    if (function.group == Group::over_members) return chain.over_members;
    return function.group == Group::share ? chain.share : chain.snapshots;
  }

  void report_order(const language::Word& word, const Function& function) {
    context_.error(
        wrong_chain, word.place,
        fmt::format("`{}` cannot stand behind `{}`; write such functions in this order: "
                    "`median of limit_share of as_read of fill_pressure of every element`, "
                    "at most one of each kind",
                    function.name, previous(word)));
  }

  std::string_view previous(const language::Word& word) const {
    for (std::size_t i = 1; i < path_.words.size(); ++i) {
      if (&path_.words[i] == &word) return path_.words[i - 1].text;
    }
    return "";
  }

  void report_incomplete() {
    const language::Word& last = path_.words.back();
    context_.error(wrong_chain, last.place,
                   fmt::format("`{0}` of what? write `{0} of` and a reading", last.text));
  }

  ValuePtr over_all(const Chain& chain) {
    if (!path_.selection) {
      context_.error(
          wrong_chain, path_.words.front().place,
          fmt::format("`{0}` is taken over several members: write `{0} of {1} of every ...`",
                      chain.over_members->name, path_.words[chain.base].text));
      return nullptr;
    }
    if (path_.selection->quantifier != language::Quantifier::every) {
      context_.error(
          wrong_chain, path_.selection->place,
          fmt::format("`{}` is taken over `every ...` of a selection", chain.over_members->name));
      return nullptr;
    }
    const auto selection = resolve_selection(context_, *path_.selection, variables_);
    if (!selection) return nullptr;
    const Variables inside = variables_.with(selection->scope);
    own_member_ = variables_.next();
    member_scope_ = selection->scope;
    const ValuePtr inner = base(chain, inside);
    if (inner == nullptr) return nullptr;
    const Aggregate aggregate = chain.over_members->aggregate;
    const bool is_difference = aggregate == Aggregate::spread;
    const auto dimension = is_difference ? without_scale(inner->dimension) : inner->dimension;
    return std::make_shared<const Value>(
        Value{path_.place, dimension, false, AggregateValue{aggregate, *selection, inner}});
  }

  // The member of the thing at the base: the word behind it, or the selected one.
  std::optional<Term> member(const Symbol& symbol, std::size_t at, const Variables& variables) {
    if (path_.selection) {
      if (path_.words.size() > at + 1) return too_many(at + 1);
      if (symbol.scope == member_scope_) return Term(own_member_);
      context_.error(
          symbol.scope ? wrong_scope : no_members, path_.selection->scope.place,
          symbol.scope
              ? fmt::format("`{}` goes with {}, not with {}", symbol.name,
                            context_.scope_name(*symbol.scope), context_.scope_name(member_scope_))
              : fmt::format("`{}` stands once for the whole unit", symbol.name));
      return std::nullopt;
    }
    if (path_.words.size() > at + 2) return too_many(at + 2);
    const language::Word* of = path_.words.size() > at + 1 ? &path_.words[at + 1] : nullptr;
    return resolve_member(context_, symbol, path_.words[at], of, variables);
  }

  std::optional<Term> too_many(std::size_t at) {
    context_.error(wrong_chain, path_.words[at].place,
                   fmt::format("nothing can be read of `{}`; a value is read like `slope of "
                               "fill_pressure of element`",
                               path_.words[at - 1].text));
    return std::nullopt;
  }

  ValuePtr base(const Chain& chain, const Variables& variables) {
    const language::Word& name = path_.words[chain.base];
    const Function* function = find_function(name.text);
    if (function != nullptr) {
      if (chain.share == nullptr && chain.snapshots == nullptr) {
        return ratio_error(chain.base, variables);
      }
      report_order(name, *function);
      return nullptr;
    }
    const Symbol* symbol = context_.names.find(name.text);
    if (symbol == nullptr && is_misspelt_function(chain)) return nullptr;
    symbol = context_.find(name, Kind::reading | Kind::detail, "a value");
    if (symbol == nullptr) return nullptr;
    const auto term = member(*symbol, chain.base, variables);
    if (!term) return nullptr;
    if (symbol->kind == Kind::detail) return detail(*symbol, *term, chain);
    return reading(*symbol, *term, chain);
  }

  // With more words behind it than a member, an unknown word was meant as a function.
  bool is_misspelt_function(const Chain& chain) {
    const std::size_t behind = path_.words.size() - chain.base - 1 + (path_.selection ? 1 : 0);
    if (behind < 2) return false;
    const language::Word& word = path_.words[chain.base];
    context_.error(wrong_chain, word.place,
                   fmt::format("`{}` is no function of readings{}; there are {}", word.text,
                               context_.did_you_mean(word.text, function_names()),
                               quoted_list(function_names(), 20)));
    return true;
  }

  ValuePtr detail(const Symbol& symbol, const Term& term, const Chain& chain) {
    const auto id = std::get<DetailId>(symbol.entity);
    if (chain.share != nullptr || chain.snapshots != nullptr) {
      context_.error(
          wrong_chain, path_.words[chain.base].place,
          fmt::format("`{}` is a detail, one value; `{}` is taken of a reading", symbol.name,
                      (chain.share != nullptr ? chain.share : chain.snapshots)->name));
      return nullptr;
    }
    const Detail& detail = context_.rules.details[id.at()];
    using Type = Detail::Type;
    if (!any_detail_ && (detail.type == Type::yes_no || detail.type == Type::choice)) {
      context_.error(not_a_value, path_.words[chain.base].place, report_no_quantity(detail));
      return nullptr;
    }
    return std::make_shared<const Value>(
        Value{path_.place, detail.dimension, detail.type == Type::date, DetailValue{id, term}});
  }

  static std::string report_no_quantity(const Detail& detail) {
    const std::string& name = detail.header.name;
    if (detail.type == Detail::Type::yes_no) {
      return fmt::format("`{0}` is yes or no; write `{0}` or `not {0}` alone", name);
    }
    return fmt::format("`{0}` is a word, not a number; write `{0} is {1}`", name,
                       detail.words.empty() ? "..." : detail.words.front());
  }

  ValuePtr reading(const Symbol& symbol, const Term& term, const Chain& chain) {
    ReadingValue value;
    value.reading = std::get<ReadingId>(symbol.entity);
    value.member = term;
    if (chain.snapshots != nullptr) value.function = chain.snapshots->function;
    if (chain.share != nullptr) value.share = chain.share->share;
    const auto& reading = context_.rules.readings[value.reading.at()];
    const auto dimension = value.share == ShareOf::nothing
                               ? dimension_of(value.function, reading.dimension)
                               : units::plain_number();
    return std::make_shared<const Value>(Value{path_.place, dimension, false, value});
  }

  ValuePtr ratio_error(std::size_t at, const Variables& variables) {
    const auto gear = context_.unit.find_scope("gear");
    const language::Word& name = path_.words[at];
    if (!gear) {
      context_.error(
          unknown_scope, name.place,
          fmt::format("the unit `{}` has no gears, so no `ratio_error`", context_.unit.unit));
      return nullptr;
    }
    Symbol symbol;
    symbol.name = "ratio_error";
    symbol.scope = gear;
    const auto term = member(symbol, at, variables);
    if (!term) return nullptr;
    units::Dimension rotation = units::of(units::Base::rotation);
    return std::make_shared<const Value>(
        Value{path_.place, rotation, false, RatioErrorValue{*term}});
  }

  Context& context_;
  const language::Path& path_;
  const Variables& variables_;
  bool any_detail_;
  Variable own_member_;  // with a selection: the selected one
  ScopeId member_scope_;
};

}  // namespace

ValuePtr resolve_path(Context& context, const language::Path& path, const Variables& variables,
                      bool any_detail) {
  return ChainResolver(context, path, variables, any_detail).resolve();
}

bool is_function(std::string_view word) { return find_function(word) != nullptr; }

const std::vector<std::string>& function_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> all;
    for (const Function& function : functions) all.emplace_back(function.name);
    return all;
  }();
  return names;
}

}  // namespace slipcase::rulebase

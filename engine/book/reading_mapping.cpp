#include "book/reading_mapping.h"

#include <algorithm>
#include <array>
#include <span>

#include <fmt/core.h>

#include "book/messages.h"
#include "evaluation/card_names.h"
#include "facts/card_reader.h"
#include "facts/table_mapping.h"
#include "facts/table_messages.h"
#include "support/suggest.h"

namespace slipcase::book {

namespace {

using evaluation::CardKind;
using facts::MappedColumn;
using facts::MapReader;
using facts::Node;
using facts::Scalar;
using grounding::GroundReading;

constexpr std::string_view no_member = "none";

enum class ColumnMeaning : std::uint8_t { date, odometer, software, fluid_temperature };
constexpr std::array<std::string_view, 4> column_meanings = {"date", "odometer", "software",
                                                             "fluid_temperature"};
constexpr std::array<std::string_view, 4> sign_words = {"as_shown", "reversed", "unsigned_16",
                                                        "unsigned_32"};
constexpr std::array<std::string_view, 2> date_orders = {"year_month_day", "day_month_year"};

class ReadingMappingReader {
 public:
  ReadingMappingReader(const grounding::GroundRules& rules, Diagnostics& diagnostics)
      : rules_(rules), diagnostics_(diagnostics), names_(rules, diagnostics) {}

  ReadingMapping read(MapReader& map) {
    const facts::TableMapping table = facts::read_table_mapping(map, diagnostics_);
    mapping_.format = table.format;
    read_words(map);
    // Which column names the members decides how the others are read.
    for (const MappedColumn& column : table.columns)
      if (names_members(column)) read_members(column);
    for (const MappedColumn& column : table.columns)
      if (!names_members(column)) read_column(column);
    map.finish();
    const Node* columns = map.node().find("columns");
    if (columns != nullptr && mapping_.readings.empty() && !diagnostics_.has_errors())
      diagnostics_.add(facts::mapping_missing, facts::head_of(*columns),
                       "no column is a reading: give one `reading: fill_pressure of K1` and its "
                       "`unit`");
    return std::move(mapping_);
  }

 private:
  static bool names_members(const MappedColumn& column) {
    return column.value->find("member_of") != nullptr;
  }

  void read_words(MapReader& map) {
    if (const Node* node = map.optional("not_learned"))
      for (Scalar& word : facts::read_scalars(*node, "`not_learned`", diagnostics_))
        mapping_.not_learned.push_back(std::move(word.text));
    if (const Node* node = map.optional("date_order"))
      mapping_.day_first = read_word(*node, "date_order", date_orders) == 1U;
  }

  /// Which of a few words it is.
  std::optional<std::size_t> read_word(const Node& node, std::string_view key,
                                       std::span<const std::string_view> words) {
    const auto word = facts::read_scalar(node, fmt::format("`{}`", key), diagnostics_);
    if (!word) return std::nullopt;
    const auto found = std::ranges::find(words, std::string_view(word->text));
    if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
    const std::vector<std::string> known(words.begin(), words.end());
    const std::string near = did_you_mean(word->text, known);
    diagnostics_.add(facts::mapping_word, word->place,
                     fmt::format("`{}` is not known for `{}`{}", word->text, key,
                                 near.empty() ? ": write " + quoted_list(known) : near));
    return std::nullopt;
  }

  std::size_t want(const Scalar& header, bool may_be_empty = true) {
    mapping_.wanted.push_back({header, facts::CellKind::text, nullptr, may_be_empty});
    return mapping_.wanted.size() - 1;
  }

  // --- The members of a long table
  // ----------------------------------------------------------------

  void read_members(const MappedColumn& column) {
    auto map = MapReader::of(*column.value, fmt::format("`{}`", column.header.text), diagnostics_);
    if (!map) return;
    const Node* scope_node = map->required("member_of");
    const Node* names = map->optional("names");
    map->finish();
    long_ = true;
    if (scope_node == nullptr) return;
    const auto scope = read_scope(*scope_node);
    if (!scope) return;
    if (mapping_.member) {
      refuse_second("the members", column.header, mapping_.member->column);
      return;
    }
    mapping_.member = MemberColumn{want(column.header, false), *scope, {}};
    if (names != nullptr) read_names(*names, *mapping_.member);
  }

  std::optional<grounding::ScopeId> read_scope(const Node& node) {
    const auto word = facts::read_scalar(node, "`member_of`", diagnostics_);
    if (!word) return std::nullopt;
    const auto& unit = rules_.rules->unit;
    if (const auto found = unit.find_scope(word->text)) return found;
    std::vector<std::string> known;
    for (const auto& scope : unit.scopes) known.push_back(scope.name);
    const std::string near = did_you_mean(word->text, known);
    diagnostics_.add(facts::mapping_word, word->place,
                     fmt::format("the unit has no `{}`{}", word->text,
                                 near.empty() ? ": write " + quoted_list(known) : near));
    return std::nullopt;
  }

  void read_names(const Node& node, MemberColumn& member) {
    if (!MapReader::of(node, "`names`", diagnostics_)) return;
    for (const auto& [key, value] : node.entries) {
      if (key.kind != facts::NodeKind::scalar) continue;
      const auto name = facts::read_scalar(value, "a member", diagnostics_);
      if (!name) continue;
      if (name->text == no_member) {
        member.names[key.text] = std::nullopt;
      } else if (const auto known = names_.member(member.scope, *name)) {
        member.names[key.text] = known;
      }
    }
  }

  // --- Other columns
  // ------------------------------------------------------------------------------

  void read_column(const MappedColumn& column) {
    auto map = MapReader::of(*column.value, fmt::format("`{}`", column.header.text), diagnostics_);
    if (!map) return;
    const Node* reading = map->optional("reading");
    const Node* means = map->optional("means");
    const Node* unit = map->optional("unit");
    const Node* sign = map->optional("sign");
    // What else is wrong in it comes of the key that is misspelt.
    const bool known = map->finish("`reading`, `means` or `member_of` says what the column is");
    if ((reading == nullptr) == (means == nullptr)) {
      if (known)
        diagnostics_.add(reading_column, column.header.place,
                         "say one thing of a column: that it is a `reading`, what it `means`, or "
                         "whose names it holds (`member_of`)");
      return;
    }
    if (reading != nullptr) {
      read_reading(*reading, unit, sign, column.header);
    } else {
      if (sign != nullptr)
        diagnostics_.add(reading_column, sign->place, "only a `reading` has a `sign`");
      read_meaning(*means, unit, column.header);
    }
  }

  void read_reading(const Node& node, const Node* unit, const Node* sign, const Scalar& header) {
    const facts::CardReference name = facts::read_reference(node, "`reading`", diagnostics_);
    ReadingColumn column;
    if (sign != nullptr) {
      const auto word = read_word(*sign, "sign", sign_words);
      if (word) column.sign = static_cast<ColumnSign>(*word);
    }
    if (std::ranges::find(column_meanings, std::string_view(name.name.text)) !=
        column_meanings.end()) {
      diagnostics_.add(reading_column, name.place,
                       fmt::format("`{0}` is said of the whole session: write `means: {0}` in the "
                                   "place of `reading`",
                                   name.name.text));
      return;
    }
    const auto declared = names_.declared(CardKind::reading, name.name);
    if (!declared) return;
    const auto reading =
        long_ ? of_each_member(*declared, name) : names_.ground(CardKind::reading, name);
    const auto& dimension = rules_.rules->readings[declared->index].dimension;
    column.unit = read_unit_of(unit, dimension, header);
    if (!reading) return;
    column.reading = GroundReading{*reading};
    for (const ReadingColumn& other : mapping_.readings) {
      if (other.reading != column.reading) continue;
      refuse_second(fmt::format("`{}`", facts_name(name)), header, other.column);
      return;
    }
    column.column = want(header);
    mapping_.readings.push_back(column);
  }

  static std::string facts_name(const facts::CardReference& name) {
    return name.member ? name.name.text + " of " + name.member->text : name.name.text;
  }

  /// In a long table the row says of which member.
  std::optional<std::uint32_t> of_each_member(const evaluation::Declared& declared,
                                              const facts::CardReference& name) {
    if (!mapping_.member) return std::nullopt;  // that was reported
    const auto& scope = rules_.rules->unit.scope(mapping_.member->scope);
    if (name.member) {
      diagnostics_.add(reading_column, name.place,
                       fmt::format("the rows of this table name the {}: write `{}` alone",
                                   scope.name, name.name.text));
      return std::nullopt;
    }
    if (declared.header->scope == mapping_.member->scope)
      return declared.ground(grounding::MemberId{0});
    diagnostics_.add(reading_column, name.place,
                     fmt::format("the rows of this table are about each {}, and `{}` is not read "
                                 "of one: give it behind `--value`",
                                 scope.name, name.name.text));
    return std::nullopt;
  }

  void read_meaning(const Node& node, const Node* unit, const Scalar& header) {
    const auto word = read_word(node, "means", column_meanings);
    if (!word) return;
    switch (static_cast<ColumnMeaning>(*word)) {
      case ColumnMeaning::date:
        refuse_unit(unit);
        take_place(mapping_.date, "`date`", header);
        break;
      case ColumnMeaning::software:
        refuse_unit(unit);
        take_place(mapping_.software, "`software`", header);
        break;
      case ColumnMeaning::odometer:
        take_place(mapping_.odometer, "`odometer`", header,
                   read_unit_of(unit, units::of(units::Base::distance), header));
        break;
      case ColumnMeaning::fluid_temperature:
        take_place(mapping_.fluid_temperature, "`fluid_temperature`", header,
                   read_unit_of(unit, units::temperature(), header));
        break;
    }
  }

  void refuse_unit(const Node* unit) {
    if (unit != nullptr)
      diagnostics_.add(reading_column, unit->place, "a column that means this has no `unit`");
  }

  /// Where the unit is missing that is said; a plain number needs none.
  const units::Unit* read_unit_of(const Node* node, const units::Dimension& dimension,
                                  const Scalar& header) {
    if (node != nullptr) return facts::read_unit(*node, dimension, diagnostics_);
    if (dimension == units::plain_number()) return nullptr;
    diagnostics_.add(facts::mapping_missing, header.place,
                     fmt::format("say in which `unit` this column is: {}",
                                 quoted_list(units::spellings_of(dimension))));
    return nullptr;
  }

  void take_place(std::optional<std::size_t>& place, std::string_view what, const Scalar& header) {
    if (place) {
      refuse_second(what, header, *place);
    } else {
      place = want(header);
    }
  }

  void take_place(std::optional<QuantityColumn>& place, std::string_view what, const Scalar& header,
                  const units::Unit* unit) {
    if (place) {
      refuse_second(what, header, place->column);
    } else {
      place = QuantityColumn{want(header), unit};
    }
  }

  void refuse_second(std::string_view what, const Scalar& header, std::size_t other) {
    diagnostics_
        .add(facts::mapping_twice, header.place, fmt::format("two columns are {}: keep one", what))
        .notes.push_back({mapping_.header(other).place, "the other is here"});
  }

  const grounding::GroundRules& rules_;
  Diagnostics& diagnostics_;
  evaluation::CardNames names_;
  ReadingMapping mapping_;
  bool long_ = false;
};

}  // namespace

std::optional<ReadingMapping> read_reading_mapping(const SourceSet& sources, SourceId source,
                                                   const grounding::GroundRules& rules,
                                                   Diagnostics& diagnostics) {
  Diagnostics found;
  const auto document = facts::read_document(sources, source, facts::mapping_limits, found);
  auto map = document ? MapReader::of(*document, "a mapping of columns", found) : std::nullopt;
  std::optional<ReadingMapping> mapping;
  if (map) mapping = ReadingMappingReader(rules, found).read(*map);
  const bool failed = found.has_errors();
  diagnostics.append(std::move(found));
  return failed ? std::nullopt : mapping;
}

}  // namespace slipcase::book

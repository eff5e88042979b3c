#include "drive/log_mapping.h"

#include <algorithm>

#include <fmt/core.h>

#include "drive/messages.h"
#include "facts/table_mapping.h"
#include "facts/table_messages.h"
#include "support/suggest.h"

namespace slipcase::drive {

namespace {

using facts::MapReader;
using facts::Node;
using units::Base;

constexpr std::string_view neutral_name = "N";
constexpr std::string_view no_gear = "none";

struct MeaningName {
  Meaning meaning;
  std::string_view name;
};
constexpr std::array<MeaningName, meaning_count> meaning_names = {{
    {Meaning::time, "time"},
    {Meaning::vehicle_speed, "vehicle_speed"},
    {Meaning::turbine_speed, "turbine_speed"},
    {Meaning::output_speed, "output_speed"},
    {Meaning::pedal, "pedal"},
    {Meaning::fluid_temperature, "fluid_temperature"},
    {Meaning::gear, "gear"},
}};

units::Dimension dimension_of(Meaning meaning) {
  switch (meaning) {
    case Meaning::time:
      return units::of(Base::duration);
    case Meaning::vehicle_speed:
      return units::speed();
    case Meaning::turbine_speed:
    case Meaning::output_speed:
      return units::of(Base::rotation);
    case Meaning::fluid_temperature:
      return units::temperature();
    case Meaning::pedal:
    case Meaning::gear:
      break;
  }
  return units::plain_number();
}

class MappingReader {
 public:
  MappingReader(const profile::Profile& unit, Diagnostics& diagnostics)
      : unit_(unit), diagnostics_(diagnostics) {
    for (std::size_t i = 0; i < unit.gears.size(); ++i) {
      mapping_.gears.emplace(unit.gears[i].name, static_cast<GearCode>(i));
    }
    mapping_.gears.emplace(neutral_name, neutral_of(unit));
    mapping_.gears.emplace("", unknown_gear);
  }

  LogMapping read(MapReader& map) {
    facts::TableMapping table = facts::read_table_mapping(map, diagnostics_);
    mapping_.format = table.format;
    for (const facts::MappedColumn& column : table.columns) read_column(column);
    map.finish();
    if (const Node* columns = map.node().find("columns")) check_complete(facts::head_of(*columns));
    return std::move(mapping_);
  }

 private:
  void read_column(const facts::MappedColumn& column) {
    auto map = MapReader::of(*column.value, fmt::format("`{}`", column.header.text), diagnostics_);
    if (!map) return;
    const Node* means = map->required("means");
    const auto meaning = means == nullptr ? std::nullopt : read_meaning(*means);
    facts::WantedColumn wanted{column.header, facts::CellKind::number, nullptr, true};
    const Node* unit = map->optional("unit");
    const Node* values = map->optional("values");
    map->finish();
    if (!meaning) {
      faulty_ = true;
      return;
    }
    const Meaning known = meaning.value_or(Meaning::time);  // there is one; a copy for g++ 12
    if (known == Meaning::gear) {
      wanted.kind = facts::CellKind::text;
      if (unit != nullptr) refuse(*unit, "unit", known);
      if (values != nullptr) read_gears(*values);
    } else {
      if (values != nullptr) refuse(*values, "values", known);
      wanted.unit = read_unit(unit, known, column.header.place);
    }
    wanted.may_be_empty = known != Meaning::time;
    add(known, std::move(wanted));
  }

  std::optional<Meaning> read_meaning(const Node& node) {
    const auto word = facts::read_scalar(node, "`means`", diagnostics_);
    if (!word) return std::nullopt;
    std::vector<std::string> names;
    for (const MeaningName& one : meaning_names) {
      if (one.name == word->text) return one.meaning;
      names.emplace_back(one.name);
    }
    const std::string near = did_you_mean(word->text, names);
    diagnostics_.add(meaning_unknown, word->place,
                     fmt::format("no column of a drive means `{}`{}", word->text,
                                 near.empty() ? ": write " + quoted_list(names) : near));
    return std::nullopt;
  }

  const units::Unit* read_unit(const Node* node, Meaning meaning, const Place& column) {
    if (node != nullptr) return facts::read_unit(*node, dimension_of(meaning), diagnostics_);
    diagnostics_.add(facts::mapping_missing, column,
                     fmt::format("say in which `unit` this column is: {}",
                                 quoted_list(units::spellings_of(dimension_of(meaning)))));
    return nullptr;
  }

  void refuse(const Node& node, std::string_view key, Meaning meaning) {
    diagnostics_.add(meaning_unknown, node.place,
                     fmt::format("a column that means `{}` has no `{}`", name_of(meaning), key));
  }

  void read_gears(const Node& node) {
    if (!MapReader::of(node, "`values`", diagnostics_)) return;
    for (const auto& [key, value] : node.entries) {
      if (key.kind != facts::NodeKind::scalar) continue;
      const auto gear = facts::read_scalar(value, "a gear", diagnostics_);
      if (!gear) continue;
      if (gear->text == no_gear) {
        mapping_.gears[key.text] = unknown_gear;
      } else if (const auto known = gear_named(gear->text)) {
        mapping_.gears[key.text] = *known;
      } else {
        report_gear(*gear);
      }
    }
  }

  [[nodiscard]] std::optional<GearCode> gear_named(std::string_view name) const {
    if (name == neutral_name) return neutral_of(unit_);
    for (std::size_t i = 0; i < unit_.gears.size(); ++i) {
      if (unit_.gears[i].name == name) return static_cast<GearCode>(i);
    }
    return std::nullopt;
  }

  void report_gear(const facts::Scalar& gear) {
    std::vector<std::string> names{std::string(neutral_name)};
    for (const profile::Gear& one : unit_.gears) names.push_back(one.name);
    names.emplace_back(no_gear);
    diagnostics_.add(
        gear_unknown, gear.place,
        fmt::format("`{}` is no gear of the unit: write {}", gear.text, quoted_list(names)));
  }

  void add(Meaning meaning, facts::WantedColumn wanted) {
    auto& place = mapping_.column[static_cast<std::size_t>(meaning)];
    if (place) {
      diagnostics_
          .add(facts::mapping_twice, wanted.header.place,
               fmt::format("two columns mean `{}`: keep one", name_of(meaning)))
          .notes.push_back({mapping_.wanted[*place].header.place, "the other is here"});
      return;
    }
    place = mapping_.wanted.size();
    mapping_.wanted.push_back(std::move(wanted));
  }

  void check_complete(const Place& place) {
    if (faulty_) return;  // it may be the one that is missing
    std::vector<std::string> missing;
    for (const Meaning meaning :
         {Meaning::time, Meaning::vehicle_speed, Meaning::pedal, Meaning::fluid_temperature}) {
      if (!mapping_.at(meaning)) missing.emplace_back(name_of(meaning));
    }
    const bool both_speeds =
        mapping_.at(Meaning::turbine_speed) && mapping_.at(Meaning::output_speed);
    if (!mapping_.at(Meaning::gear) && !both_speeds) missing.emplace_back(name_of(Meaning::gear));
    for (const std::string& name : missing) {
      diagnostics_.add(
          facts::mapping_missing, place,
          fmt::format("no column means `{}`{}", name,
                      name == name_of(Meaning::gear)
                          ? ", nor are there both `turbine_speed` and `output_speed` to tell it by"
                          : ""));
    }
  }

  const profile::Profile& unit_;
  Diagnostics& diagnostics_;
  LogMapping mapping_;
  bool faulty_ = false;
};

}  // namespace

std::string_view name_of(Meaning meaning) {
  return meaning_names[static_cast<std::size_t>(meaning)].name;
}

GearCode neutral_of(const profile::Profile& unit) {
  return static_cast<GearCode>(unit.gears.size());
}

std::string gear_name(const profile::Profile& unit, GearCode gear) {
  if (gear == neutral_of(unit)) return std::string(neutral_name);
  return gear == unknown_gear ? std::string() : unit.gears[static_cast<std::size_t>(gear)].name;
}

std::optional<LogMapping> read_log_mapping(const SourceSet& sources, SourceId source,
                                           const profile::Profile& unit, Diagnostics& diagnostics) {
  Diagnostics found;
  const auto document = facts::read_document(sources, source, facts::mapping_limits, found);
  auto map = document ? MapReader::of(*document, "a mapping of columns", found) : std::nullopt;
  std::optional<LogMapping> mapping;
  if (map) mapping = MappingReader(unit, found).read(*map);
  const bool failed = found.has_errors();
  diagnostics.append(std::move(found));
  return failed ? std::nullopt : mapping;
}

}  // namespace slipcase::drive

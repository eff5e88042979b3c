#include "book/merge_cards.h"

#include <algorithm>
#include <map>

#include <fmt/core.h>

#include "book/messages.h"
#include "units/quantity.h"

namespace slipcase::book {

namespace {

using facts::CardReference;
using facts::CardTime;
using facts::Entry;
using facts::JobCard;
using facts::Scalar;
using facts::Snapshot;
using Members = std::vector<std::pair<Scalar, Scalar>>;

std::string written(const CardReference& reference) {
  return reference.member ? reference.name.text + " of " + reference.member->text
                          : reference.name.text;
}

std::string written(const std::optional<CardReference>& reference) {
  return reference ? written(*reference) : std::string();
}

template <class T>
bool agree(const std::optional<T>& a, const std::optional<T>& b) {
  return !a || !b || *a == *b;
}

template <class T>
void fill(std::optional<T>& into, const std::optional<T>& from) {
  if (!into) into = from;
}

void fill_time(CardTime& into, const CardTime& from) {
  if (into.moment && from.moment && !into.moment->minute) into.moment = from.moment;
  fill(into.moment, from.moment);
  fill(into.odometer, from.odometer);
}

/// "0.21 bar" is 210 mbar.
bool same_value(const Scalar& a, const Scalar& b) {
  if (a.text == b.text) return true;
  const auto first = units::parse_quantity(a.text);
  const auto second = units::parse_quantity(b.text);
  return first.quantity && first.quantity == second.quantity;
}

/// Every value of a session by its whole name: "fill_pressure of K2".
std::map<std::string, Scalar> values_of(const Snapshot& snapshot) {
  std::map<std::string, Scalar> values;
  for (const Entry& entry : snapshot.values) {
    if (const auto* one = std::get_if<Scalar>(&entry.value)) {
      values.emplace(entry.name.text, *one);
      continue;
    }
    for (const auto& [member, value] : std::get<Members>(entry.value))
      values.emplace(entry.name.text + " of " + member.text, value);
  }
  return values;
}

void take_out(Snapshot& snapshot, const std::string& name) {
  for (Entry& entry : snapshot.values)
    if (auto* members = std::get_if<Members>(&entry.value))
      std::erase_if(*members, [&](const auto& member) {
        return entry.name.text + " of " + member.first.text == name;
      });
  std::erase_if(snapshot.values, [&](const Entry& entry) {
    const auto* members = std::get_if<Members>(&entry.value);
    return members != nullptr ? members->empty() : entry.name.text == name;
  });
}

class Merger {
 public:
  Merger(const JobCard& newest, Diagnostics& diagnostics) : diagnostics_(diagnostics) {
    JobCard& card = merged_.card;
    card.job = newest.job;
    card.unit = newest.unit;
    card.vehicle = newest.vehicle;
    card.opened = newest.opened;
    card.opened_place = newest.opened_place;
    card.history_complete = newest.history_complete;
    card.never = newest.never;
    card.place = newest.place;
    // Checks are not taken over, so what is `after` one has nothing to stand behind.
    card.events_lost = true;
  }

  void add(const JobCard& card) {
    const std::size_t known = merged_.card.readings.size();
    std::vector<bool> met(known);
    for (const Snapshot& snapshot : card.readings) add_snapshot(snapshot, met);
    add_each(card.events, merged_.card.events, [](const auto& event) { return event.what; });
    std::vector<facts::DoneRepair> repairs = card.repairs;
    for (facts::DoneRepair& repair : repairs) place_in_time(repair.when, card);
    add_each(repairs, merged_.card.repairs, [](const auto& repair) { return repair.done; });
  }

  MergedCard done() {
    JobCard& card = merged_.card;
    std::erase_if(card.never, [&](const CardReference& never) { return happened(never); });
    return std::move(merged_);
  }

 private:
  /// Work without a date was done before its job was closed.
  static void place_in_time(CardTime& when, const JobCard& card) {
    if (when.moment || when.odometer) return;
    const auto closed = card.outcome ? card.outcome->closed : std::nullopt;
    const auto day = closed ? closed : card.opened;
    if (day) when.moment = units::Moment{*day, std::nullopt};
  }

  /// Sessions of one card are never one: each earlier one is met once.
  void add_snapshot(const Snapshot& snapshot, std::vector<bool>& met) {
    auto& all = merged_.card.readings;
    for (std::size_t i = 0; i < met.size(); ++i) {
      if (met[i] || !is_same_time(all[i].when, snapshot.when)) continue;
      met[i] = true;
      unite(all[i], snapshot);
      return;
    }
    all.push_back(snapshot);
  }

  void unite(Snapshot& into, const Snapshot& from) {
    fill_time(into.when, from.when);
    if (into.software && from.software && into.software->text != from.software->text)
      disagree("software", *from.software, *into.software);
    fill(into.software, from.software);
    fill(into.fluid_temperature, from.fluid_temperature);
    const auto known = values_of(into);
    for (const Entry& entry : from.values) {
      if (const auto* one = std::get_if<Scalar>(&entry.value)) {
        if (!is_settled(into, known, entry.name.text, *one)) into.values.push_back(entry);
        continue;
      }
      Entry fresh{entry.name, Members{}};
      for (const auto& [member, value] : std::get<Members>(entry.value))
        if (!is_settled(into, known, entry.name.text + " of " + member.text, value))
          std::get<Members>(fresh.value).emplace_back(member, value);
      if (!std::get<Members>(fresh.value).empty()) into.values.push_back(std::move(fresh));
    }
  }

  /// The session has a value of that name: the same, or another one, then neither counts.
  bool is_settled(Snapshot& into, const std::map<std::string, Scalar>& known,
                  const std::string& name, const Scalar& value) {
    const auto found = known.find(name);
    if (found == known.end()) return false;
    if (same_value(found->second, value)) return true;
    disagree(name, value, found->second);
    take_out(into, name);
    return true;
  }

  void disagree(const std::string& name, const Scalar& here, const Scalar& there) {
    ++merged_.disagreements;
    diagnostics_
        .add(cards_disagree, here.place,
             fmt::format("`{}` is `{}` here and `{}` on another card, read on the same day: {}",
                         name, here.text, there.text,
                         name == "software" ? "the older card's is taken"
                                            : "neither is used until one is put right"))
        .notes.push_back({there.place, fmt::format("here it is `{}`", there.text)});
  }

  template <class Done, class What>
  void add_each(const std::vector<Done>& list, std::vector<Done>& all, const What& what) {
    std::vector<bool> met(all.size());
    for (const Done& one : list) {
      std::size_t i = 0;
      while (i < met.size() && (met[i] || written(what(all[i])) != written(what(one)) ||
                                !is_same_time(all[i].when, one.when)))
        ++i;
      if (i == met.size()) {
        all.push_back(one);
        continue;
      }
      met[i] = true;
      fill_time(all[i].when, one.when);
      if constexpr (requires { one.by; })
        if (all[i].by == facts::Hand::unsaid) all[i].by = one.by;
    }
  }

  [[nodiscard]] bool happened(const CardReference& never) const {
    const auto is = [&](const CardReference& one) { return one.name.text == never.name.text; };
    return std::ranges::any_of(merged_.card.events, is, &facts::CardEvent::what) ||
           std::ranges::any_of(merged_.card.repairs, is, &facts::DoneRepair::done);
  }

  MergedCard merged_;
  Diagnostics& diagnostics_;
};

}  // namespace

bool is_same_time(const CardTime& a, const CardTime& b) {
  if (written(a.after) != written(b.after)) return false;
  if (a.moment && b.moment) {
    if (a.moment->date != b.moment->date) return false;
    if (!agree(a.moment->minute, b.moment->minute)) return false;
    return agree(a.odometer, b.odometer);
  }
  if (a.odometer && b.odometer) return *a.odometer == *b.odometer;
  return !a.moment && !b.moment && !a.odometer && !b.odometer;
}

MergedCard merge_cards(std::vector<JobCard> cards, Diagnostics& diagnostics) {
  std::ranges::stable_sort(cards, {}, [](const JobCard& card) { return card.opened; });
  Merger merger(cards.back(), diagnostics);
  for (const JobCard& card : cards) merger.add(card);
  return merger.done();
}

}  // namespace slipcase::book

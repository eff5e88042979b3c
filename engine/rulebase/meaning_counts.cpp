#include <cmath>

#include <fmt/core.h>

#include "rulebase/meaning.h"
#include "rulebase/messages.h"

namespace slipcase::rulebase {

namespace {

// "about 1 of 6"
std::string about(double share) {
  if (share > 0.5) return fmt::format("about {:.0f} of 10", share * 10.0);
  return fmt::format("about 1 of {:.0f}", std::round(1.0 / share));
}

// Bayes' rule on odds, for one check that was positive and nothing else known.
std::string after_positive(const Rulebase& rules, const Flag& flag) {
  const Cause& cause = rules.causes[flag.cause.at()];
  if (!cause.found.all || cause.found.all->together) return "";
  const double rate = cause.found.all->count.share_at_least_half().value();
  const double good = flag.good.share_at_least_half().value();
  const double odds = rate / (1.0 - rate) * flag.bad.share().value() / good;
  if (!(odds > 0.0) || !std::isfinite(odds)) return "";
  return fmt::format("; as written, a positive answer raises `{}` from {} to {}", cause.header.name,
                     cause.found.all->count.text(), about(odds / (1.0 + odds)));
}

void check_flags(const Rulebase& rules, Diagnostics& diagnostics) {
  for (const Check& check : rules.checks) {
    for (const Flag& flag : check.flags) {
      const std::uint64_t total = flag.bad.total();
      if (flag.good.total() != total || flag.bad.hits() + flag.good.hits() != total) continue;
      diagnostics.add(
          flags_adds_up, flag.place,
          fmt::format("{} and {} add up to {}; are they the right and wrong calls among the "
                      "cars where `{}` was positive? wanted are {} cars with it and {} "
                      "without{}",
                      flag.bad.text(), flag.good.text(), total, check.header.name, total, total,
                      after_positive(rules, flag)));
    }
  }
}

class EveryTime {
 public:
  explicit EveryTime(Diagnostics& diagnostics) : diagnostics_(diagnostics) {}

  void check(const units::Count& count, const Place& place, std::string_view what) {
    if (count.hits() != count.total()) return;
    diagnostics_.add(
        every_time, place,
        fmt::format("{} of {} means always, so one car where {} rules it out; if that is "
                    "only not seen yet, write {} of {}",
                    count.hits(), count.total(), what, count.hits(), count.total() + 1));
  }
  void check(const GradedLine& line, std::string_view what) {
    for (const auto& count : line.at_least) {
      if (count) return check(*count, line.place, what);
    }
  }
  void check_links(const std::vector<Link>& links) {
    const Place* last = nullptr;
    for (const Link& link : links) {
      // A line revised for one member stands there once for each of the others.
      if (last == nullptr || *last != link.place) check(link.count, "it does not show");
      last = &link.place;
    }
  }
  void check_rates(const PerMember<GradedLine>& rates) {
    if (rates.all) check(*rates.all, "it is not there");
    for (const auto& entry : rates.of_member) check(entry.second, "it is not there");
  }

 private:
  Diagnostics& diagnostics_;
};

void check_every_time(const Rulebase& rules, Diagnostics& diagnostics) {
  EveryTime every(diagnostics);
  for (const Cause& cause : rules.causes) {
    if (cause.found.all) {
      every.check(cause.found.all->count, cause.found.all->place, "it is not found");
    }
    for (const auto& entry : cause.found.of_member) {
      every.check(entry.second.count, entry.second.place, "it is not found");
    }
    every.check_links(cause.shows);
    for (const CauseLink& link : cause.causes) {
      every.check(link.count.count, link.count.place, "it does not follow");
    }
  }
  for (const Inside& inside : rules.insides) {
    every.check_rates(inside.otherwise);
    every.check_links(inside.shows);
  }
  for (const Finding& finding : rules.findings) {
    if (finding.result_of_check) continue;
    every.check_rates(finding.otherwise);
    every.check_rates(finding.overall);
  }
  for (const Check& check : rules.checks) {
    for (const Flag& flag : check.flags) every.check(flag.bad, flag.place, "it is not positive");
  }
}

// Half a count is what a count of this size cannot tell.
bool is_fewer(const units::Count& share, const units::Count& otherwise) {
  const auto hits = static_cast<double>(share.hits()) + 0.5;
  return hits < otherwise.share().value() * static_cast<double>(share.total());
}

struct Target {
  const Header* header;
  const PerMember<GradedLine>* otherwise;
};

Target target_of(const Rulebase& rules, const Link& link) {
  if (const auto* finding = std::get_if<FindingId>(&link.to)) {
    const Finding& to = rules.findings[finding->at()];
    return {&to.header, &to.otherwise};
  }
  const Inside& to = rules.insides[std::get<InsideId>(link.to).at()];
  return {&to.header, &to.otherwise};
}

void check_link(const Rulebase& rules, const Header& from, const Link& link,
                Diagnostics& diagnostics) {
  const Target to = target_of(rules, link);
  if (!to.otherwise->all || link.count.together || to.otherwise->all->together) return;
  const auto& rates = to.otherwise->all->at_least;
  for (std::size_t g = 0; g < link.count.at_least.size() && g < rates.size(); ++g) {
    const auto& share = link.count.at_least[g];
    if (!share || !rates[g] || !is_fewer(*share, *rates[g])) continue;
    auto& diagnostic = diagnostics.add(
        fewer_than_otherwise, link.count.place,
        fmt::format(
            "`{0}` shows `{1}` in {2} jobs, less than the {3} without any cause; it is taken as "
            "no link: `{0}` does not make `{1}` rarer",
            from.name, to.header->name, share->text(), rates[g]->text()));
    diagnostic.notes.push_back({to.otherwise->all->place, "without a cause it is written here"});
    return;
  }
}

void check_fewer(const Rulebase& rules, const Header& from, const std::vector<Link>& links,
                 Diagnostics& diagnostics) {
  const Place* last = nullptr;
  for (const Link& link : links) {
    if (last == nullptr || *last != link.place) check_link(rules, from, link, diagnostics);
    last = &link.place;
  }
}

// Named members are compared with their own rate.
void check_cause_link(const Rulebase& rules, const Header& from, const CauseLink& link,
                      Diagnostics& diagnostics) {
  const Cause& to = rules.causes[link.to.at()];
  const auto* term = std::get_if<Term>(&link.reach);
  const auto* member = term != nullptr ? std::get_if<MemberId>(term) : nullptr;
  const CountLine* own = nullptr;
  if (member != nullptr) {
    own = to.found.at(*member);
  } else if (to.found.all) {
    own = &*to.found.all;
  }
  if (own == nullptr || own->together || link.count.together) return;
  if (!is_fewer(link.count.count, own->count)) return;
  auto& diagnostic = diagnostics.add(
      fewer_than_otherwise, link.place,
      fmt::format("`{0}` causes `{1}` in {2} jobs, less than the {3} in which it is found anyway; "
                  "it is taken as no link: `{0}` does not make `{1}` rarer",
                  from.name, to.header.name, link.count.count.text(), own->count.text()));
  diagnostic.notes.push_back({own->place, "how often it is found is written here"});
}

}  // namespace

void warn_of_counts(const Rulebase& rules, Diagnostics& diagnostics) {
  check_flags(rules, diagnostics);
  check_every_time(rules, diagnostics);
  for (const Cause& cause : rules.causes) {
    check_fewer(rules, cause.header, cause.shows, diagnostics);
    const Place* last = nullptr;
    for (const CauseLink& link : cause.causes) {
      if (last == nullptr || *last != link.place)
        check_cause_link(rules, cause.header, link, diagnostics);
      last = &link.place;
    }
  }
  for (const Inside& inside : rules.insides) {
    check_fewer(rules, inside.header, inside.shows, diagnostics);
  }
}

}  // namespace slipcase::rulebase

#include <algorithm>
#include <set>
#include <utility>

#include <fmt/core.h>

#include "rulebase/circle.h"
#include "rulebase/messages.h"
#include "rulebase/selected.h"
#include "rulebase/uses.h"
#include "rulebase/whole.h"

namespace slipcase::rulebase {

namespace {

// `verb` joins the steps: "`a` leads to `b`".
template <class NameOf>
void report(Context& context, const Circle& circle, std::string_view verb, std::string_view hint,
            const NameOf& name_of) {
  std::string path;
  for (const CircleStep& step : circle) path += fmt::format("`{}` {} ", name_of(step.from), verb);
  auto& diagnostic = context.error(
      goes_in_a_circle, circle.front().place,
      fmt::format("this goes in a circle: {}`{}`; {}", path, name_of(circle.front().from), hint));
  for (std::size_t i = 1; i < circle.size(); ++i) {
    const std::uint32_t to = circle[(i + 1) % circle.size()].from;
    diagnostic.notes.push_back(
        {circle[i].place,
         fmt::format("here `{}` {} `{}`", name_of(circle[i].from), verb, name_of(to))});
  }
}

// A line `of element` goes round for each element; once is enough to say it.
class Reported {
 public:
  [[nodiscard]] bool is_new(const Circle& circle) {
    std::set<Place> lines;
    for (const CircleStep& step : circle) lines.insert(step.place);
    return seen_.insert(std::move(lines)).second;
  }

 private:
  std::set<std::set<Place>> seen_;
};

// Declarations, each with all its members, numbered without gaps.
class Nodes {
 public:
  explicit Nodes(const UnitVocabulary& unit) : unit_(unit) {}

  void add(const Header& header) {
    first_.push_back(static_cast<std::uint32_t>(members_.size()));
    const auto count = static_cast<std::uint32_t>(unit_.member_count(header.scope));
    for (std::uint32_t m = 0; m < count; ++m) {
      members_.push_back(MemberId{m});
      headers_.push_back(&header);
    }
  }

  [[nodiscard]] std::size_t size() const { return members_.size(); }
  /// `index`: of the declaration, in the order in which they were added.
  [[nodiscard]] std::uint32_t at(std::uint32_t index, MemberId member) const {
    return first_[index] + member.index;
  }
  [[nodiscard]] const Header& header(std::uint32_t node) const { return *headers_[node]; }
  [[nodiscard]] std::string name_of(std::uint32_t node) const {
    return name_with_member(unit_, *headers_[node], members_[node]);
  }

 private:
  const UnitVocabulary& unit_;
  std::vector<std::uint32_t> first_;
  std::vector<MemberId> members_;
  std::vector<const Header*> headers_;
};

// Causes and insides of every member: a line from K1 to K2 is no circle.
class Hidden {
 public:
  explicit Hidden(const Rulebase& rules) : rules_(rules), nodes_(rules.unit) {
    for (const Cause& cause : rules.causes) nodes_.add(cause.header);
    for (const Inside& inside : rules.insides) nodes_.add(inside.header);
    steps_.resize(nodes_.size());
    for (std::uint32_t i = 0; i < rules.causes.size(); ++i) {
      const Cause& cause = rules.causes[i];
      for (const Link& link : cause.shows) add_link(i, cause.header, link);
      for (const CauseLink& link : cause.causes) add_steps(i, cause.header, link, link.to.index);
    }
    for (std::uint32_t i = 0; i < rules.insides.size(); ++i) {
      const Inside& inside = rules.insides[i];
      for (const Link& link : inside.shows) add_link(number(InsideId{i}), inside.header, link);
    }
  }

  [[nodiscard]] const Steps& steps() const { return steps_; }
  [[nodiscard]] std::string name_of(std::uint32_t node) const { return nodes_.name_of(node); }

 private:
  // Causes first, then insides.
  [[nodiscard]] std::uint32_t number(InsideId inside) const {
    return static_cast<std::uint32_t>(rules_.causes.size()) + inside.index;
  }

  void add_link(std::uint32_t from, const Header& header, const Link& link) {
    const auto* inside = std::get_if<InsideId>(&link.to);
    if (inside != nullptr) add_steps(from, header, link, number(*inside));
  }

  template <class Line>
  void add_steps(std::uint32_t from, const Header& header, const Line& link, std::uint32_t to) {
    const auto count = static_cast<std::uint32_t>(rules_.unit.member_count(header.scope));
    for (std::uint32_t m = 0; m < count; ++m) {
      if ((link.only_for && *link.only_for != MemberId{m}) || !header.in_use(MemberId{m})) continue;
      for (const MemberId end : reached(rules_.unit, link.reach, MemberId{m})) {
        const std::uint32_t node = nodes_.at(to, end);
        if (nodes_.header(node).in_use(end))
          steps_[nodes_.at(from, MemberId{m})].push_back({node, link.place});
      }
    }
  }

  const Rulebase& rules_;
  Nodes nodes_;
  Steps steps_;
};

void check_hidden(Context& context) {
  const Hidden hidden(context.rules);
  Reported reported;
  for (const Circle& circle : find_circles(hidden.steps())) {
    if (!reported.is_new(circle)) continue;
    report(context, circle, "leads to",
           "a cause comes before what it leads to, so leave one line out",
           [&](std::uint32_t node) { return hidden.name_of(node); });
  }
}

// Findings ask findings; what a distrust sets aside is unknown to whoever asks it, so everything
// that asks it waits for the distrust; and a distrust waits for what its own condition asks.
class Asking {
 public:
  explicit Asking(const Rulebase& rules)
      : rules_(rules), steps_(rules.findings.size() + rules.distrusts.size()) {
    index_set_aside();
    for (std::uint32_t i = 0; i < rules.findings.size(); ++i) {
      const Finding& finding = rules.findings[i];
      if (finding.when) add(i, **finding.when);
      for (const GradeLine& grade : finding.grades) {
        if (grade.when) add(i, **grade.when);
      }
    }
    for (std::uint32_t i = 0; i < rules.distrusts.size(); ++i) {
      if (rules.distrusts[i].when != nullptr) add(distrust(i), *rules.distrusts[i].when);
    }
  }

  [[nodiscard]] const Steps& steps() const { return steps_; }
  [[nodiscard]] const std::string& name_of(std::uint32_t node) const {
    if (node < rules_.findings.size()) return rules_.findings[node].header.name;
    return rules_.distrusts[node - rules_.findings.size()].header.name;
  }
  [[nodiscard]] bool is_distrust(std::uint32_t node) const {
    return node >= rules_.findings.size();
  }

 private:
  [[nodiscard]] std::uint32_t distrust(std::uint32_t index) const {
    return static_cast<std::uint32_t>(rules_.findings.size()) + index;
  }

  void index_set_aside() {
    readings_.resize(rules_.readings.size());
    findings_.resize(rules_.findings.size());
    details_.resize(rules_.details.size());
    for (std::uint32_t i = 0; i < rules_.distrusts.size(); ++i) {
      for (const auto& entry : rules_.distrusts[i].sets_aside) {
        if (const auto* reading = std::get_if<ReadingId>(&entry.what)) {
          readings_[reading->at()].push_back(i);
        } else if (const auto* finding = std::get_if<FindingId>(&entry.what)) {
          findings_[finding->at()].push_back(i);
        } else {
          details_[std::get<DetailId>(entry.what).at()].push_back(i);
        }
      }
    }
  }

  void add(std::uint32_t from, const Condition& condition) {
    const Uses uses = uses_of(condition);
    for (const FindingUse& use : uses.findings) {
      steps_[from].push_back({use.finding.index, use.place});
      add_distrusts(from, findings_[use.finding.at()], use.place);
    }
    for (const ReadingUse& use : uses.readings) {
      const bool trusts_all =
          use.function == ReadingFunction::as_read || is_of_profile(use.function);
      if (!trusts_all) add_distrusts(from, readings_[use.reading.at()], use.place);
    }
    for (const DetailUse& use : uses.details) {
      add_distrusts(from, details_[use.detail.at()], use.place);
    }
  }

  void add_distrusts(std::uint32_t from, const std::vector<std::uint32_t>& distrusts,
                     const Place& place) {
    for (const std::uint32_t index : distrusts) {
      if (!is_excepted(from, rules_.distrusts[index])) {
        steps_[from].push_back({distrust(index), place});
      }
    }
  }

  // A finding that a distrust excepts goes on being worked out from what is set aside.
  [[nodiscard]] bool is_excepted(std::uint32_t from, const Distrust& distrust) const {
    if (is_distrust(from)) return false;
    return std::any_of(distrust.except.begin(), distrust.except.end(), [&](const auto& entry) {
      const auto* finding = std::get_if<FindingId>(&entry.what);
      return finding != nullptr && finding->index == from && !entry.member;
    });
  }

  const Rulebase& rules_;
  Steps steps_;
  std::vector<std::vector<std::uint32_t>> readings_;  // the distrusts that set it aside
  std::vector<std::vector<std::uint32_t>> findings_;
  std::vector<std::vector<std::uint32_t>> details_;
};

void check_asking(Context& context) {
  const Asking asking(context.rules);
  for (const Circle& circle : find_circles(asking.steps())) {
    const bool distrust = std::any_of(circle.begin(), circle.end(), [&](const CircleStep& step) {
      return asking.is_distrust(step.from);
    });
    const std::string_view hint =
        distrust
            ? "a distrust cannot ask what it sets aside; write `as_read of` the reading there, or "
              "ask something else"
            : "a finding cannot be worked out from itself";
    report(context, circle, "asks", hint, [&](std::uint32_t node) { return asking.name_of(node); });
  }
}

void check_counts_as(Context& context) {
  const auto& events = context.rules.events;
  Steps steps(events.size());
  for (std::size_t i = 0; i < events.size(); ++i) {
    for (const EventId to : events[i].counts_as) {
      steps[i].push_back({to.index, events[i].header.place});
    }
  }
  for (const Circle& circle : find_circles(steps)) {
    report(context, circle, "counts as", "leave one of them out",
           [&](std::uint32_t node) { return events[node].header.name; });
  }
}

void check_access(Context& context) {
  const auto& accesses = context.rules.accesses;
  Steps steps(accesses.size());
  for (std::size_t i = 0; i < accesses.size(); ++i) {
    for (const AccessId to : accesses[i].needs) {
      steps[i].push_back({to.index, accesses[i].header.place});
    }
  }
  for (const Circle& circle : find_circles(steps)) {
    report(context, circle, "needs", "nothing can be reached this way; leave one of them out",
           [&](std::uint32_t node) { return accesses[node].header.name; });
  }
}

// Checks and repairs of every member. What must come before (`only after`) and what must follow are
// two orders: a job may well begin and end with the same check.
class WorkOrder {
 public:
  using Targets = std::vector<StepTarget>;

  WorkOrder(const Rulebase& rules, bool before) : rules_(rules), nodes_(rules.unit) {
    for (const Check& check : rules.checks) nodes_.add(check.header);
    for (const Repair& repair : rules.repairs) nodes_.add(repair.header);
    steps_.resize(nodes_.size());
    for (std::uint32_t i = 0; i < rules.checks.size(); ++i) {
      const Check& check = rules.checks[i];
      add_steps(i, check.header, before ? check.only_after : check.follow_with);
    }
    for (std::uint32_t i = 0; i < rules.repairs.size(); ++i) {
      const Repair& repair = rules.repairs[i];
      add_steps(number(RepairId{i}), repair.header,
                before ? repair.only_after : repair.follow_with);
    }
  }

  [[nodiscard]] const Steps& steps() const { return steps_; }
  [[nodiscard]] std::string name_of(std::uint32_t node) const { return nodes_.name_of(node); }

 private:
  // Checks first, then repairs.
  [[nodiscard]] std::uint32_t number(RepairId repair) const {
    return static_cast<std::uint32_t>(rules_.checks.size()) + repair.index;
  }

  void add_steps(std::uint32_t from, const Header& header, const Targets& targets) {
    const auto count = static_cast<std::uint32_t>(rules_.unit.member_count(header.scope));
    for (const StepTarget& target : targets) {
      const auto* check = std::get_if<CheckId>(&target.what);
      const auto* repair = std::get_if<RepairId>(&target.what);
      if (check == nullptr && repair == nullptr) continue;  // an event may come from elsewhere
      const std::uint32_t to = check != nullptr ? check->index : number(*repair);
      for (std::uint32_t m = 0; m < count; ++m) {
        for (const MemberId end : reached(rules_.unit, target.reach, MemberId{m})) {
          steps_[nodes_.at(from, MemberId{m})].push_back({nodes_.at(to, end), header.place});
        }
      }
    }
  }

  const Rulebase& rules_;
  Nodes nodes_;
  Steps steps_;
};

void check_work_order(Context& context) {
  for (const bool before : {true, false}) {
    const WorkOrder order(context.rules, before);
    Reported reported;
    for (const Circle& circle : find_circles(order.steps())) {
      if (!reported.is_new(circle)) continue;
      report(context, circle, before ? "comes only after" : "is followed by",
             before ? "none of this can ever be begun; leave one of them out"
                    : "this never ends; leave one of them out",
             [&](std::uint32_t node) { return order.name_of(node); });
    }
  }
}

}  // namespace

void check_circles(Context& context) {
  check_hidden(context);
  check_asking(context);
  check_counts_as(context);
  check_access(context);
  check_work_order(context);
}

void close_counts_as(Rulebase& rules) {
  const auto count = static_cast<std::uint32_t>(rules.events.size());
  std::vector<std::vector<EventId>> direct;
  for (const Event& event : rules.events) direct.push_back(event.counts_as);
  std::vector<std::uint32_t> reached_by(count, count);
  for (std::uint32_t i = 0; i < count; ++i) {
    std::vector<EventId>& all = rules.events[i].counts_as;
    for (const EventId to : all) reached_by[to.at()] = i;
    // The list grows while it is walked.
    for (std::size_t at = 0; at < all.size(); ++at) {
      for (const EventId next : direct[all[at].at()]) {
        if (std::exchange(reached_by[next.at()], i) != i) all.push_back(next);
      }
    }
  }
}

}  // namespace slipcase::rulebase

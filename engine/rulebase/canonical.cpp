#include "rulebase/canonical.h"

#include <algorithm>

#include <fmt/core.h>

namespace slipcase::rulebase {

namespace {

class Writer {
 public:
  explicit Writer(const Rulebase& rules) : rules_(rules) {}

  std::string write(bool trials) {
    for (const Detail& d : rules_.details) add(detail(d));
    for (const Reading& r : rules_.readings) {
      add(head("reading", r.header) + ": " + dimension(r.dimension));
    }
    for (const Event& e : rules_.events) add(event(e));
    for (const Finding& f : rules_.findings) add(finding(f));
    for (const AtMostOne& a : rules_.at_most_one) add(at_most_one(a));
    for (const Inside& i : rules_.insides) {
      add(head("inside", i.header) + rates("otherwise", i.header, i.otherwise) +
          links(i.header, i.shows));
    }
    for (const Cause& c : rules_.causes) add(cause(c));
    for (const Distrust& d : rules_.distrusts) add(distrust(d));
    for (const Check& c : rules_.checks) add(check(c));
    for (const Access& a : rules_.accesses) add(work("access", a));
    for (const Repair& r : rules_.repairs) add(repair(r));
    for (const Caution& c : rules_.cautions) add(head("caution", c.header));
    if (trials)
      for (const Trial& t : rules_.trials) add(trial(t));
    std::sort(blocks_.begin(), blocks_.end());
    std::string text = "unit " + rules_.unit.unit + "\n";
    for (const std::string& block : blocks_) text += block;
    return text;
  }

 private:
  void add(std::string block) { blocks_.push_back(std::move(block)); }

  static std::string quoted(std::string_view text) { return fmt::format("\"{}\"", text); }

  static std::string dimension(const units::Dimension& dimension) {
    std::string text;
    for (const auto power : dimension.exponents) text += fmt::format("{},", power);
    return text + (dimension.on_scale ? "scale\n" : "\n");
  }

  std::string head(std::string_view kind, const Header& header) const {
    return fmt::format("{} {}{} {} {}\n{}", kind, header.name,
                       header.scope ? " of " + rules_.unit.scope(*header.scope).name : "",
                       quoted(header.says), quoted(header.source), out_of_use(header));
  }

  std::string member(const Header& header, const OnlyFor& only_for) const {
    if (!only_for) return "";
    return " only " + rules_.unit.scope(*header.scope).members.at(only_for->at());
  }

  std::string out_of_use(const Header& header) const {
    std::string text;
    for (const MemberId member : header.out_of_use)
      text += "  out of use" + this->member(header, member) + "\n";
    return text;
  }

  std::string condition(std::string_view word, const ConditionPtr& when) const {
    return fmt::format("  {} {}\n", word, canonical_text(rules_, *when));
  }

  std::string detail(const Detail& d) const {
    std::string text = head("detail", d.header) + (d.asks_driver ? "driver " : "") + quoted(d.asks);
    text += fmt::format(" {} ", static_cast<int>(d.type));
    for (const std::string& word : d.words) text += word + ",";
    return text + dimension(d.dimension);
  }

  std::string event(const Event& e) const {
    std::vector<std::string> names;
    for (const EventId id : e.counts_as) names.push_back(rules_.events[id.at()].header.name);
    std::sort(names.begin(), names.end());
    std::string text = head("event", e.header) + quoted(e.asks);
    for (const std::string& name : names) text += " " + name;
    return text + "\n";
  }

  static std::string graded(const GradedLine& line) {
    std::string text;
    for (const auto& count : line.at_least) text += (count ? count->text() : "none") + ";";
    return text + (line.together ? " together\n" : "\n");
  }
  static std::string counted(const CountLine& line) {
    return line.count.text() + (line.together ? " together\n" : "\n");
  }

  std::string rates(std::string_view word, const Header& header,
                    const PerMember<GradedLine>& rates) const {
    std::string text;
    if (rates.all) text += fmt::format("  {} {}", word, graded(*rates.all));
    for (const auto& [id, line] : rates.of_member) {
      text += fmt::format("  {}{} {}", word, member(header, id), graded(line));
    }
    return text;
  }

  std::string finding(const Finding& f) const {
    std::string text =
        head("finding", f.header) + (f.asks_driver ? "  driver " : "  ") + quoted(f.asks) + "\n";
    for (const std::string& name : caution_names(f.cautions)) text += "  " + name + "\n";
    for (const GradeLine& grade : f.grades) {
      text += "  grade " + grade.name + "\n";
      if (grade.when) text += condition("when", *grade.when);
    }
    if (f.when) text += condition("when", *f.when);
    return text + rates("otherwise", f.header, f.otherwise) + rates("overall", f.header, f.overall);
  }

  std::string at_most_one(const AtMostOne& a) const {
    std::vector<std::string> names;
    for (const FindingId id : a.findings) names.push_back(rules_.findings[id.at()].header.name);
    std::sort(names.begin(), names.end());
    std::string text = "at most one";
    for (const std::string& name : names) text += " " + name;
    return text + "\n";
  }

  std::string links(const Header& header, const std::vector<Link>& lines) const {
    std::string text;
    for (const Link& link : lines) {
      const auto* finding = std::get_if<FindingId>(&link.to);
      const Header& to = finding != nullptr
                             ? rules_.findings[finding->at()].header
                             : rules_.insides[std::get<InsideId>(link.to).at()].header;
      text += fmt::format("  shows {}{}{} {} in {}", to.name,
                          canonical_text(rules_, link.reach, to.scope),
                          member(header, link.only_for), quoted(link.because), graded(link.count));
    }
    return text;
  }

  std::string cause(const Cause& c) const {
    std::string text = head("cause", c.header);
    if (c.group) text += "  group " + rules_.groups[c.group->at()].name + "\n";
    if (c.found.all) text += "  found " + counted(*c.found.all);
    for (const auto& [id, line] : c.found.of_member) {
      text += "  found" + member(c.header, id) + " " + counted(line);
    }
    for (const Becomes& line : c.becomes) {
      text += condition(
          fmt::format("becomes{} {} when", member(c.header, line.only_for), line.times), line.when);
    }
    for (const Restriction& line : c.restrictions) {
      text +=
          condition((line.never ? "never" : "only") + member(c.header, line.only_for), line.when);
    }
    text += links(c.header, c.shows);
    for (const CauseLink& link : c.causes) {
      const Header& to = rules_.causes[link.to.at()].header;
      text += fmt::format(
          "  causes {}{}{} {} in {}", to.name, canonical_text(rules_, link.reach, to.scope),
          member(c.header, link.only_for), quoted(link.because), counted(link.count));
    }
    return text;
  }

  const Header& header(DetailId id) const { return rules_.details[id.at()].header; }
  const Header& header(ReadingId id) const { return rules_.readings[id.at()].header; }
  const Header& header(EventId id) const { return rules_.events[id.at()].header; }
  const Header& header(FindingId id) const { return rules_.findings[id.at()].header; }
  const Header& header(CauseId id) const { return rules_.causes[id.at()].header; }
  const Header& header(CheckId id) const { return rules_.checks[id.at()].header; }
  const Header& header(RepairId id) const { return rules_.repairs[id.at()].header; }
  Header header(GroupId id) const {
    Header header;
    header.name = "group " + rules_.groups[id.at()].name;
    return header;
  }

  template <class Entry>
  std::string list(std::string_view word, const std::vector<Entry>& entries) const {
    std::vector<std::string> names;
    for (const Entry& entry : entries) {
      const Header of = std::visit([&](auto id) -> Header { return header(id); }, entry.what);
      if constexpr (requires { entry.reach; }) {
        names.push_back(of.name + canonical_text(rules_, entry.reach, of.scope));
      } else {
        names.push_back(of.name + member(of, entry.member));
      }
    }
    std::sort(names.begin(), names.end());
    std::string text;
    for (const std::string& name : names) text += fmt::format("  {} {}\n", word, name);
    return text;
  }

  std::string distrust(const Distrust& d) const {
    return head("distrust", d.header) + condition("when", d.when) + "  " + quoted(d.because) +
           "\n" + list("aside", d.sets_aside) + list("except", d.except) +
           list("only", d.judge_only) + list("not", d.not_judged) + list("until", d.until);
  }

  std::vector<std::string> caution_names(const std::vector<CautionId>& cautions) const {
    std::vector<std::string> names;
    for (const CautionId id : cautions)
      names.push_back("caution " + rules_.cautions[id.at()].header.name);
    std::sort(names.begin(), names.end());
    return names;
  }

  template <class Work>
  std::string work(std::string_view kind, const Work& w) const {
    std::vector<std::string> names;
    for (const AccessId id : w.needs)
      names.push_back("needs " + rules_.accesses[id.at()].header.name);
    for (std::string& name : caution_names(w.cautions)) names.push_back(std::move(name));
    std::sort(names.begin(), names.end());
    std::string text = head(kind, w.header) + fmt::format("  {} {}\n", w.minutes, w.money);
    for (const std::string& name : names) text += "  " + name + "\n";
    return text;
  }

  std::string check(const Check& c) const {
    std::string text = work("check", c) + "  " + quoted(c.how) + "\n" + list("answers", c.answers) +
                       list("after", c.only_after) + list("follow", c.follow_with);
    for (const Flag& flag : c.flags) {
      const Header& to = header(flag.cause);
      text += fmt::format("  flags {}{} {} / {}\n", to.name,
                          canonical_text(rules_, flag.reach, to.scope), flag.bad.text(),
                          flag.good.text());
    }
    return text;
  }

  std::string repair(const Repair& r) const {
    std::string text = work("repair", r) + "  " + quoted(r.how) + "\n" +
                       list("after", r.only_after) + list("follow", r.follow_with);
    for (const CureLine& cure : r.cures) {
      const Header& to = header(cure.cause);
      text +=
          fmt::format("  cures {}{} {}\n", to.name, canonical_text(rules_, cure.reach, to.scope),
                      cure.count ? cure.count->text() : "always");
    }
    return text;
  }

  std::string fact(const TrialFact& f) const {
    std::string text = f.no ? "  no" : "  with";
    if (f.code) text += (f.pending ? " pending " : " stored ") + f.code->text();
    std::visit(
        [&](const auto& id) {
          if constexpr (!std::is_same_v<std::decay_t<decltype(id)>, std::monostate>) {
            text += " " + header(id).name + canonical_text(rules_, f.member, header(id).scope);
          }
        },
        f.what);
    text += fmt::format(" {} {} ", f.grade, f.is.index());
    if (const auto* yes = std::get_if<bool>(&f.is)) text += *yes ? "yes" : "no";
    if (const auto* word = std::get_if<std::uint32_t>(&f.is)) text += std::to_string(*word);
    if (const auto* q = std::get_if<units::Quantity>(&f.is)) text += fmt::format("{}", q->value);
    if (const auto* date = std::get_if<units::Date>(&f.is)) text += date->text();
    if (f.on) text += " on " + f.on->text();
    if (f.at) text += fmt::format(" at {}", f.at->value);
    return text + fmt::format(" by{}\n", static_cast<int>(f.by));
  }

  std::string at(const CauseAt& at) const {
    return header(at.cause).name + canonical_text(rules_, at.member, header(at.cause).scope);
  }
  std::string expected(const TrialExpectation::First& e) const { return at(e.cause) + " first"; }
  std::string expected(const TrialExpectation::Among& e) const {
    return fmt::format("{} among {}", at(e.cause), e.first);
  }
  std::string expected(const TrialExpectation::Chance& e) const {
    return fmt::format("{} {} {}", at(e.cause), e.above ? "above" : "below", e.limit.text());
  }
  std::string expected(const TrialExpectation::Before& e) const {
    return at(e.cause) + " before " + at(e.other);
  }
  std::string expected(const TrialExpectation::NotJudged& e) const {
    return at(e.cause) + " not judged";
  }
  std::string expected(const TrialExpectation::Next& e) const {
    return "next " + header(e.check).name + canonical_text(rules_, e.member, header(e.check).scope);
  }
  std::string expected(const TrialExpectation::State& e) const {
    return fmt::format("{}{} state {} {}", header(e.finding).name,
                       canonical_text(rules_, e.member, header(e.finding).scope),
                       static_cast<int>(e.kind), e.grade);
  }

  std::string trial(const Trial& t) const {
    std::string text = fmt::format("trial {} {}", quoted(t.title), t.job.value_or(""));
    if (t.opened) text += " opened " + t.opened->text();
    if (t.odometer) text += fmt::format(" odometer {}", t.odometer->value);
    text += "\n";
    for (const TrialFact& f : t.facts) text += fact(f);
    for (const TrialExpectation& e : t.expectations) {
      text +=
          "  expect " + std::visit([&](const auto& what) { return expected(what); }, e.what) + "\n";
    }
    return text;
  }

  const Rulebase& rules_;
  std::vector<std::string> blocks_;
};

}  // namespace

std::string canonical_text(const Rulebase& rules) { return Writer(rules).write(true); }

std::string fingerprint(const Rulebase& rules) {
  constexpr std::uint64_t offset_basis = 14695981039346656037U;
  constexpr std::uint64_t prime = 1099511628211U;
  std::uint64_t hash = offset_basis;
  // Trials change no answer, and are not read where only answers are wanted.
  for (const char c : Writer(rules).write(false)) {
    hash ^= static_cast<unsigned char>(c);
    hash *= prime;
  }
  return fmt::format("{:016x}", hash);
}

}  // namespace slipcase::rulebase

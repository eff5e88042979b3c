// Binder: what people said of findings, in answers, in the complaint and after checks.
#include <algorithm>

#include <fmt/core.h>

#include "evaluation/binder.h"
#include "evaluation/messages.h"
#include "support/suggest.h"

namespace slipcase::evaluation {

using facts::Scalar;

namespace {

bool says_unknown(std::string_view text) { return text == "unknown"; }
bool says_not_sure(std::string_view text) { return text == "not sure"; }

/// Words are guessed at; yes and no are not: one letter would turn the answer round.
std::string instead_of(std::string_view text, std::vector<std::string> words) {
  if (facts::says_on_or_off(text)) return ": write `yes` or `no`";
  const std::string meant = did_you_mean(text, words);
  if (!meant.empty()) return meant;
  words.insert(words.end(), {"yes", "no", "not sure"});
  return ": write " + quoted_list(words);
}

}  // namespace

// A gear that was not driven: nor was any shift into it or out of it.
void Binder::members_not_driven() {
  const auto& unit = rules_.rules->unit;
  const auto& profile = *rules_.profile;
  for (const auto& scope : unit.scopes) facts_.not_driven.emplace_back(scope.members.size());
  for (const Scalar& name : card_.not_driven) {
    bool found = false;
    for (const auto scope : unit.scopes_with_member(name.text)) {
      if (scope == profile.element_scope) continue;
      found = true;
      const auto member = *unit.find_member(scope, name.text);
      facts_.not_driven[scope.at()][member.at()] = true;
      if (scope != profile.gear_scope) continue;
      for (std::size_t i = 0; i < profile.shifts.size(); ++i) {
        const auto& shift = profile.shifts[i];
        if (shift.from != name.text && shift.to != name.text) continue;
        facts_.not_driven[profile.shift_scope.at()][i] = true;
      }
    }
    if (found) continue;
    const auto& gears = unit.scope(profile.gear_scope).members;
    diagnostics_.add(unknown_member, name.place,
                     fmt::format("`{}` is nothing that can be driven in `{}`{}", name.text,
                                 profile.name, "; name gears, such as " + quoted_list(gears)));
  }
}

bool Binder::is_driven(GroundFinding finding) const {
  const auto scope = rules_.scope_of(finding);
  return !scope || facts_.driven(*scope, *rules_.findings.origins[finding.at()].member);
}

void Binder::answers() {
  for (const auto& entry : card_.answers) {
    const auto declared = names_.declared(CardKind::finding, entry.name);
    if (!declared) continue;
    answers(*declared, entry);
  }
}

void Binder::answers(const Declared& declared, const facts::Entry& entry) {
  names_.each(declared, entry, [&](auto ground, const Scalar& value, bool explicitly) {
    if (ground) {
      answer(GroundFinding{*ground}, value, explicitly);
    } else {
      (void)parse_answer(rules_.rules->findings[declared.index], value);
    }
  });
}

/// What a shop's own layer took out of use for one member.
bool Binder::refuse_out_of_use(GroundFinding finding, const Place& place) {
  const auto& header = rules_.declaration(finding).header;
  if (header.in_use(rules_.findings.origins[finding.at()].member)) return false;
  diagnostics_.add(unknown_name, place,
                   fmt::format("`{}` is out of use in your rules: take it off the card, or its "
                               "`remove` out of the rules",
                               rules_.name_of(finding)));
  return true;
}

void Binder::complaint() {
  for (const auto& reference : card_.complaint_findings) {
    const auto ground = names_.ground(CardKind::finding, reference);
    if (!ground || refuse_out_of_use(GroundFinding{*ground}, reference.place)) continue;
    facts_.complaint.push_back(GroundFinding{*ground});
    say(facts_.answers, GroundFinding{*ground}, {Answer::Said::yes, 0, reference.place});
  }
}

void Binder::answer(GroundFinding finding, const Scalar& value, bool explicitly) {
  const auto said = parse_answer(rules_.declaration(finding), value);
  if (!said || said->said == Answer::Said::nothing) return;
  const auto& header = rules_.declaration(finding).header;
  const bool in_use = header.in_use(rules_.findings.origins[finding.at()].member);
  if (!in_use && (!explicitly || refuse_out_of_use(finding, value.place))) return;
  const bool sure = said->said != Answer::Said::not_sure;
  if (!is_driven(finding) && sure) {
    // `others: no` is not meant for what nobody drove.
    if (!explicitly) return;
    diagnostics_.add(
        not_driven, value.place,
        fmt::format("`{}` has an answer, but `not_driven` says that nobody drove there; "
                    "take one of the two out",
                    rules_.name_of(finding)));
    return;
  }
  say(explicitly ? facts_.answers : others_, finding, *said);
}

std::optional<Answer> Binder::parse_answer(const rulebase::Finding& declaration,
                                           const Scalar& value) {
  if (value.faulty) return std::nullopt;
  if (says_unknown(value.text)) return Answer{};
  if (says_not_sure(value.text)) return Answer{Answer::Said::not_sure, 0, value.place};
  if (facts::says_no(value.text)) return Answer{Answer::Said::no, 0, value.place};
  if (facts::says_yes(value.text)) return Answer{Answer::Said::yes, 0, value.place};
  std::vector<std::string> written;
  for (std::uint32_t i = 0; i < declaration.grades.size(); ++i) {
    if (declaration.grades[i].name == value.text) {
      return Answer{Answer::Said::yes, i + 1, value.place};
    }
    written.push_back(declaration.grades[i].name);
  }
  if (declaration.result_of_check) {
    refuse_answer(declaration.header, value.place);
    return std::nullopt;
  }
  diagnostics_.add(answer_shape, value.place,
                   fmt::format("`{}` is no answer to `{}`{}", value.text, declaration.header.name,
                               instead_of(value.text, std::move(written))));
  return std::nullopt;
}

void Binder::refuse_answer(const rulebase::Header& check, const Place& place) {
  std::string example = check.name;
  if (check.scope) {
    const auto& members = rules_.rules->unit.scope(*check.scope).members;
    if (!members.empty()) example = members.front();
  }
  diagnostics_.add(yes_no, place,
                   fmt::format("`{}` is answered `yes` (it showed) or `no`: `found: {{ {}: no }}`",
                               check.name, example));
}

namespace {

/// Two answers that cannot both be true.
bool contradicts(const Answer& a, const Answer& b) {
  if (a.said != b.said) return true;
  return a.grade != 0 && b.grade != 0 && a.grade != b.grade;
}

}  // namespace

void Binder::say(std::vector<Answer>& answers, GroundFinding finding, const Answer& said) {
  Answer& known = answers[finding.at()];
  const bool was_open = known.said == Answer::Said::nothing || known.said == Answer::Said::not_sure;
  if (was_open) {
    known = said;
    return;
  }
  if (said.said == Answer::Said::not_sure) return;
  if (!contradicts(known, said)) {
    if (said.grade != 0) known = said;
    return;
  }
  diagnostics_
      .add(contradiction, said.place,
           fmt::format("`{}` is answered in two ways: keep the one that is true (what the "
                       "complaint names counts as `yes`)",
                       rules_.name_of(finding)))
      .notes.push_back({known.place, "the other answer is here"});
}

/// Those that the complaint, an answer or a check names, be it as not sure, are not among the
/// others.
void Binder::answer_others() {
  for (std::size_t i = 0; i < others_.size(); ++i) {
    if (facts_.answers[i].said == Answer::Said::nothing) facts_.answers[i] = others_[i];
  }
}

// --- after checks -----------------------------------------------------------------------------

void Binder::found(const facts::DoneCheck& done, std::uint32_t check) {
  const auto& declaration = rules_.rules->checks[check];
  if (declaration.finding) {
    flagged(done, declaration);
    return;
  }
  if (done.answer) {
    refuse_found(*done.answer, declaration);
    return;
  }
  for (const auto& entry : done.found) found_entry(entry, declaration);
}

/// A check that is itself the finding: `found: yes`, or `found: { K2: yes, K1: no }`, or its name.
void Binder::flagged(const facts::DoneCheck& done, const rulebase::Check& check) {
  const auto scope = check.header.scope;
  const auto said_of = [&](std::optional<rulebase::MemberId> member, const Scalar& value) {
    if (scope.has_value() == member.has_value()) {
      answer(GroundFinding{rules_.findings.at(check.finding->index, member)}, value, true);
    } else {
      (void)parse_answer(rules_.rules->findings[check.finding->at()], value);
    }
  };
  std::optional<rulebase::MemberId> own;
  if (scope && done.done.member) own = names_.member(*scope, *done.done.member);
  if (done.answer) return said_of(own, *done.answer);
  const bool of_one = !scope || done.done.member;
  for (const auto& entry : done.found) {
    const auto* value = std::get_if<Scalar>(&entry.value);
    if (entry.name.text == check.header.name) {
      if (value != nullptr && of_one) {
        said_of(own, *value);
      } else {
        answers({check.finding->index, &check.header, &rules_.findings}, entry);
      }
    } else if (value != nullptr && !of_one) {
      said_of(names_.member(*scope, entry.name), *value);
    } else {
      refuse_found(entry.name, check);
    }
  }
}

void Binder::found_entry(const facts::Entry& entry, const rulebase::Check& check) {
  const auto is_answered = [&](const auto& id) {
    return std::ranges::any_of(check.answers, [&](const rulebase::AnswerTarget& target) {
      const auto* same = std::get_if<std::decay_t<decltype(id)>>(&target.what);
      return same != nullptr && *same == id;
    });
  };
  const auto as_finding = names_.find(CardKind::finding, entry.name.text);
  if (as_finding && is_answered(rulebase::FindingId{as_finding->index})) {
    answers(*as_finding, entry);
    return;
  }
  const auto as_detail = names_.find(CardKind::detail, entry.name.text);
  if (as_detail && is_answered(rulebase::DetailId{as_detail->index})) {
    details(*as_detail, entry);
    return;
  }
  refuse_found(entry.name, check);
}

void Binder::refuse_found(const Scalar& name, const rulebase::Check& check) {
  if (name.faulty) return;
  std::vector<std::string> names;
  const auto& rules = *rules_.rules;
  for (const auto& target : check.answers) {
    if (const auto* id = std::get_if<rulebase::FindingId>(&target.what)) {
      names.push_back(rules.findings[id->at()].header.name);
    } else if (const auto* id_of_detail = std::get_if<rulebase::DetailId>(&target.what)) {
      names.push_back(rules.details[id_of_detail->at()].header.name);
    }
  }
  const std::string& check_name = check.header.name;
  if (names_.find(CardKind::reading, name.text)) {
    diagnostics_.add(
        not_answered_here, name.place,
        fmt::format("`{}` is a reading: write it under `readings`, with the day of `{}`", name.text,
                    check_name));
  } else if (check.finding) {
    refuse_answer(check.header, name.place);
  } else {
    const std::string meant = did_you_mean(name.text, names);
    const std::string hint = !meant.empty()  ? meant
                             : names.empty() ? "; it only happens and answers nothing"
                                             : "; it answers " + quoted_list(names);
    diagnostics_.add(
        not_answered_here, name.place,
        fmt::format("`{}` is nothing that `{}` answers{}", name.text, check_name, hint));
  }
}

}  // namespace slipcase::evaluation

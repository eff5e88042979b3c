#include "network/cure_split.h"

#include <utility>

namespace slipcase::network {
namespace {

Hidden inside(Probability own, std::vector<HiddenLink> parents) {
  return {.own = own, .parents = std::move(parents), .is_cause = false};
}

HiddenLink blocked_by(HiddenId left) { return {left, Probability::never(), true}; }

/// Each share of the first.
std::vector<Probability> given_the_weakest(const std::vector<Probability>& fire) {
  std::vector<Probability> result;
  const double first = fire.front().value();
  for (const Probability grade : fire)
    result.push_back(Probability::from_weights(grade.value(), first - grade.value())
                         .value_or(Probability::never()));
  result.front() = Probability::certain();
  return result;
}

}  // namespace

CureSplitter::CureSplitter(const Network& shape, std::span<const Cure> cures,
                           std::vector<bool> complaint)
    : complaint_(std::move(complaint)), succeeds_(shape.hidden.size()) {
  for (const Cure& cure : cures) {
    auto& chance = succeeds_[cure.cause.at()];
    if (!chance || chance->value() < cure.succeeds.value()) chance = cure.succeeds;
  }
  find_what_matters(shape);
  for (const Hidden& node : shape.hidden) own_fires_.push_back(node.own != Probability::never());
}

/// Insides from which a way leads to the complaint; no others need to be split.
void CureSplitter::find_what_matters(const Network& shape) {
  matters_.assign(shape.hidden.size(), false);
  for (std::size_t f = 0; f < shape.findings.size(); ++f)
    if (complaint_[f])
      for (const FindingLink& link : shape.findings[f].parents) matters_[link.parent.at()] = true;
  for (std::size_t h = shape.hidden.size(); h-- > 0;)
    if (matters_[h] && !shape.hidden[h].is_cause)
      for (const HiddenLink& link : shape.hidden[h].parents) matters_[link.parent.at()] = true;
}

Network CureSplitter::with_complaint_cured(const Network& numbers) {
  split_hidden(numbers);
  for (std::size_t f = 0; f < numbers.findings.size(); ++f) {
    at_ = static_cast<std::uint32_t>(f);
    if (complaint_[f]) {
      add(fired_by_cured(numbers.findings[f]));
    } else {
      add_plain_finding(numbers.findings[f]);
    }
  }
  for (std::size_t f = 0; f < numbers.findings.size(); ++f) {
    at_ = static_cast<std::uint32_t>(f);
    if (complaint_[f]) add(fired_by_left(numbers.findings[f]));
  }
  return std::exchange(out_, {});
}

Network CureSplitter::with_complaint_left(const Network& numbers) {
  split_hidden(numbers);
  Finding any_left{.leak = {Probability::never()}, .parents = {}};
  for (std::size_t f = 0; f < numbers.findings.size(); ++f) {
    at_ = static_cast<std::uint32_t>(f);
    if (!complaint_[f]) {
      add_plain_finding(numbers.findings[f]);
      continue;
    }
    const bool graded = numbers.findings[f].leak.size() > 1;
    for (const HiddenId node :
         graded ? add_split_grades(numbers.findings[f]) : add_split_finding(numbers.findings[f]))
      any_left.parents.push_back({node, {Probability::certain()}});
  }
  at_ = Likeness::no_node;
  add(std::move(any_left));
  return std::exchange(out_, {});
}

// --- hidden nodes

void CureSplitter::split_hidden(const Network& numbers) {
  out_ = {};
  likeness_ = {};
  parts_.assign(numbers.hidden.size(), {});
  for (std::size_t h = 0; h < numbers.hidden.size(); ++h) {
    at_ = static_cast<std::uint32_t>(h);
    if (numbers.hidden[h].is_cause) {
      add_cause(h, numbers.hidden[h]);
    } else {
      add_inside(h, numbers.hidden[h]);
    }
  }
}

HiddenId CureSplitter::add(Hidden node) {
  out_.hidden.push_back(std::move(node));
  // A node made for a finding is like none.
  likeness_.hidden.push_back(out_.findings.empty() ? at_ : Likeness::no_node);
  return HiddenId{static_cast<std::uint32_t>(out_.hidden.size() - 1)};
}

void CureSplitter::add(Finding finding) {
  out_.findings.push_back(std::move(finding));
  likeness_.findings.push_back(at_);
}

Hidden CureSplitter::fed_by_any(const Hidden& plain) const {
  Hidden node{.own = plain.own, .parents = {}, .is_cause = plain.is_cause};
  for (const HiddenLink& link : plain.parents)
    for (const HiddenId part : parts_[link.parent.at()].any)
      node.parents.push_back({part, link.fire, link.blocks});
  return node;
}

void CureSplitter::add_cause(std::size_t h, const Hidden& plain) {
  const HiddenId whole = add(fed_by_any(plain));
  Parts& parts = parts_[h];
  parts.any = {whole};
  const auto& succeeds = succeeds_[h];
  if (!succeeds || *succeeds == Probability::never()) {
    parts.left = whole;
  } else if (*succeeds == Probability::certain()) {
    parts.cured = whole;
  } else {
    // A cause too: its chance is asked for.
    parts.left = add({.own = Probability::never(), .parents = {{whole, succeeds->inverted()}}});
    parts.cured = !matters_[h] ? whole
                               : add(inside(Probability::never(), {{whole, Probability::certain()},
                                                                   blocked_by(*parts.left)}));
  }
}

void CureSplitter::add_inside(std::size_t h, const Hidden& plain) {
  std::vector<HiddenLink> left;
  std::vector<HiddenLink> cured;
  for (const HiddenLink& link : plain.parents) {
    const Parts& parent = parts_[link.parent.at()];
    if (parent.left) left.push_back({*parent.left, link.fire});
    if (parent.cured) cured.push_back({*parent.cured, link.fire});
  }
  Parts& parts = parts_[h];
  if (!matters_[h] || cured.empty() || (left.empty() && !own_fires_[h])) {
    const HiddenId whole = add(fed_by_any(plain));
    parts.any = {whole};
    (cured.empty() ? parts.left : parts.cured) = whole;
    return;
  }
  parts.left = add(inside(plain.own, std::move(left)));
  cured.push_back(blocked_by(*parts.left));
  parts.cured = add(inside(Probability::never(), std::move(cured)));
  parts.any = {*parts.left, *parts.cured};
}

// --- findings

void CureSplitter::add_plain_finding(const Finding& plain) {
  Finding finding{.leak = plain.leak, .parents = {}};
  for (const FindingLink& link : plain.parents)
    for (const HiddenId part : parts_[link.parent.at()].any)
      finding.parents.push_back({part, link.fire});
  add(std::move(finding));
}

Finding CureSplitter::fired_by_cured(const Finding& plain) const {
  Finding finding{.leak = {}, .parents = {}};
  finding.leak.assign(plain.leak.size(), Probability::never());
  for (const FindingLink& link : plain.parents)
    if (const auto cured = parts_[link.parent.at()].cured)
      finding.parents.push_back({*cured, link.fire});
  return finding;
}

Finding CureSplitter::fired_by_left(const Finding& plain) const {
  Finding finding{.leak = plain.leak, .parents = {}};
  for (const FindingLink& link : plain.parents)
    if (const auto left = parts_[link.parent.at()].left)
      finding.parents.push_back({*left, link.fire});
  return finding;
}

/// One node says whether anything left fired it.
std::vector<HiddenId> CureSplitter::add_split_finding(const Finding& plain) {
  Finding finding = fired_by_cured(plain);
  std::vector<HiddenLink> left;
  for (const FindingLink& link : fired_by_left(plain).parents)
    left.push_back({link.parent, link.fire.front()});
  const HiddenId by_left = add(inside(plain.leak.front(), std::move(left)));
  finding.parents.push_back({by_left, {Probability::certain()}});
  add(std::move(finding));
  return {by_left};
}

/// How strongly one link fired is drawn once for the finding; whether it fired at all is a node.
std::vector<HiddenId> CureSplitter::add_split_grades(const Finding& plain) {
  Finding finding = fired_by_cured(plain);
  const Finding left = fired_by_left(plain);
  std::vector<HiddenId> events{add(inside(plain.leak.front(), {}))};
  finding.parents.push_back({events.front(), given_the_weakest(plain.leak)});
  for (const FindingLink& link : left.parents) {
    events.push_back(add(inside(Probability::never(), {{link.parent, link.fire.front()}})));
    finding.parents.push_back({events.back(), given_the_weakest(link.fire)});
  }
  add(std::move(finding));
  return events;
}

}  // namespace slipcase::network

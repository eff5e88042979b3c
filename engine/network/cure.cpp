#include "network/cure.h"

#include <algorithm>
#include <optional>

namespace slipcase::network {
namespace {

/// The nodes that stand for one node of the plain network. What does not touch the complaint takes
/// `any`; exclusive nodes may stand there together, for their links count once.
struct Parts {
  std::vector<HiddenId> any;
  std::optional<HiddenId> left;
  std::optional<HiddenId> cured;
};

class Splitter {
 public:
  Splitter(const Network& network, std::span<const Cure> cures, std::vector<bool> complaint)
      : plain_(network), complaint_(std::move(complaint)), succeeds_(network.hidden.size()) {
    for (const Cure& cure : cures) {
      auto& chance = succeeds_[cure.cause.at()];
      if (!chance || chance->value() < cure.succeeds.value()) chance = cure.succeeds;
    }
  }

  Network split() && {
    find_what_matters();
    parts_.resize(plain_.hidden.size());
    for (std::size_t h = 0; h < plain_.hidden.size(); ++h) {
      if (plain_.hidden[h].is_cause) {
        add_cause(h);
      } else {
        add_inside(h);
      }
    }
    for (std::size_t f = 0; f < plain_.findings.size(); ++f) add_finding(f);
    for (std::size_t f = 0; f < plain_.findings.size(); ++f)
      if (complaint_[f]) out_.findings.push_back(fired_by_left(plain_.findings[f]));
    return std::move(out_);
  }

 private:
  /// Insides from which a way leads to the complaint; no others need to be split.
  void find_what_matters() {
    matters_.assign(plain_.hidden.size(), false);
    for (std::size_t f = 0; f < plain_.findings.size(); ++f)
      if (complaint_[f])
        for (const FindingLink& link : plain_.findings[f].parents)
          matters_[link.parent.at()] = true;
    for (std::size_t h = plain_.hidden.size(); h-- > 0;)
      if (matters_[h] && !plain_.hidden[h].is_cause)
        for (const HiddenLink& link : plain_.hidden[h].parents) matters_[link.parent.at()] = true;
  }

  HiddenId add(Hidden node) {
    out_.hidden.push_back(std::move(node));
    return HiddenId{static_cast<std::uint32_t>(out_.hidden.size() - 1)};
  }

  [[nodiscard]] Hidden fed_by_any(std::size_t h) const {
    Hidden node{.own = plain_.hidden[h].own, .parents = {}, .is_cause = plain_.hidden[h].is_cause};
    for (const HiddenLink& link : plain_.hidden[h].parents)
      for (const HiddenId part : parts_[link.parent.at()].any)
        node.parents.push_back({part, link.fire, link.blocks});
    return node;
  }

  void add_cause(std::size_t h) {
    const HiddenId whole = add(fed_by_any(h));
    Parts& parts = parts_[h];
    parts.any = {whole};
    const auto& succeeds = succeeds_[h];
    if (!succeeds || *succeeds == Probability::never()) {
      parts.left = whole;
    } else if (*succeeds == Probability::certain() || !matters_[h]) {
      parts.cured = whole;
    } else {
      parts.left = add(inside(Probability::never(), {{whole, succeeds->inverted()}}));
      parts.cured = add(
          inside(Probability::never(), {{whole, Probability::certain()}, blocked_by(*parts.left)}));
    }
  }

  void add_inside(std::size_t h) {
    const Hidden& node = plain_.hidden[h];
    std::vector<HiddenLink> left;
    std::vector<HiddenLink> cured;
    for (const HiddenLink& link : node.parents) {
      const Parts& parent = parts_[link.parent.at()];
      if (parent.left) left.push_back({*parent.left, link.fire});
      if (parent.cured) cured.push_back({*parent.cured, link.fire});
    }
    const bool own_fires = node.own != Probability::never();
    Parts& parts = parts_[h];
    if (!matters_[h] || cured.empty() || (left.empty() && !own_fires)) {
      const HiddenId whole = add(fed_by_any(h));
      parts.any = {whole};
      (cured.empty() ? parts.left : parts.cured) = whole;
      return;
    }
    parts.left = add(inside(node.own, std::move(left)));
    cured.push_back(blocked_by(*parts.left));
    parts.cured = add(inside(Probability::never(), std::move(cured)));
    parts.any = {*parts.left, *parts.cured};
  }

  static Hidden inside(Probability own, std::vector<HiddenLink> parents) {
    return {.own = own, .parents = std::move(parents), .is_cause = false};
  }
  static HiddenLink blocked_by(HiddenId left) { return {left, Probability::never(), true}; }
  void add_finding(std::size_t f) {
    const Finding& plain = plain_.findings[f];
    Finding finding{.leak = plain.leak, .parents = {}};
    if (complaint_[f]) finding.leak.assign(plain.leak.size(), Probability::never());
    for (const FindingLink& link : plain.parents) {
      const Parts& parent = parts_[link.parent.at()];
      if (!complaint_[f]) {
        for (const HiddenId part : parent.any) finding.parents.push_back({part, link.fire});
      } else if (parent.cured) {
        finding.parents.push_back({*parent.cured, link.fire});
      }
    }
    out_.findings.push_back(std::move(finding));
  }

  [[nodiscard]] Finding fired_by_left(const Finding& plain) const {
    Finding finding{.leak = plain.leak, .parents = {}};
    for (const FindingLink& link : plain.parents)
      if (const auto left = parts_[link.parent.at()].left)
        finding.parents.push_back({*left, link.fire});
    return finding;
  }

  const Network& plain_;
  std::vector<bool> complaint_;
  std::vector<std::optional<Probability>> succeeds_;
  std::vector<bool> matters_;
  std::vector<Parts> parts_;
  Network out_;
};

}  // namespace

CureQuestion ended_by(const Network& network, std::span<const Observation> observations,
                      std::span<const Cure> cures, std::span<const FindingId> complaint) {
  std::vector<bool> complains(network.findings.size(), false);
  for (const Observation& seen : observations)
    if (seen.at_least > 0 && std::ranges::find(complaint, seen.finding) != complaint.end())
      complains[seen.finding.at()] = true;

  CureQuestion question;
  question.network = Splitter(network, cures, complains).split();
  question.evidence.findings.assign(observations.begin(), observations.end());
  // Their copies that only what is left fires stand last, in the same order.
  for (std::size_t f = network.findings.size(); f < question.network.findings.size(); ++f)
    question.evidence.findings.push_back({FindingId{static_cast<std::uint32_t>(f)}, 0, 0});
  return question;
}

}  // namespace slipcase::network

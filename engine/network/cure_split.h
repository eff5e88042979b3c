// Splits a network along what a repair cured and what it left.
//
// A cured cause fires no more; what it alone had set off (an inside) ends with it; a cause it had
// brought about stays until cured itself. So each inside that leads to the complaint and that cured
// and uncured causes both feed becomes two: "left: fired by what stays" and "cured: fired by what
// was cured alone", the second blocked by the first. Which nodes are split is settled once, by the
// network the splitter was made with; other numbers of its shape are split the same way.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "network/network.h"

namespace slipcase::network {

/// A repair's effect on one cause: `succeeds`, if the cause is there, ends it.
struct Cure {
  HiddenId cause;
  Probability succeeds;
};

class CureSplitter {
 public:
  /// `complaint`: per finding.
  CureSplitter(const Network& shape, std::span<const Cure> cures, std::vector<bool> complaint);

  /// The complaint's findings may be fired by the cured part only; copies of them, which only what
  /// is left fires, stand behind all findings, in the same order.
  [[nodiscard]] Network with_complaint_cured(const Network& numbers);

  /// The complaint's findings are fired by both parts; one finding behind all others is there
  /// exactly if what is left fired any of them.
  [[nodiscard]] Network with_complaint_left(const Network& numbers);

  /// What the nodes of the network made last were in the plain one.
  [[nodiscard]] const Likeness& likeness() const { return likeness_; }

  /// What is left of a node, in the network made last; none: nothing can be.
  [[nodiscard]] std::optional<HiddenId> left(std::size_t hidden) const {
    return parts_[hidden].left;
  }

 private:
  /// The nodes that stand for one node of the plain network. What does not touch the complaint
  /// takes `any`; exclusive nodes may stand there together, for their links count once.
  struct Parts {
    std::vector<HiddenId> any;
    std::optional<HiddenId> left;
    std::optional<HiddenId> cured;
  };

  void find_what_matters(const Network& shape);
  void split_hidden(const Network& numbers);
  HiddenId add(Hidden node);
  void add(Finding finding);
  [[nodiscard]] Hidden fed_by_any(const Hidden& plain) const;
  void add_cause(std::size_t h, const Hidden& plain);
  void add_inside(std::size_t h, const Hidden& plain);
  void add_plain_finding(const Finding& plain);
  [[nodiscard]] Finding fired_by_cured(const Finding& plain) const;
  [[nodiscard]] Finding fired_by_left(const Finding& plain) const;
  [[nodiscard]] std::vector<HiddenId> add_split_finding(const Finding& plain);
  [[nodiscard]] std::vector<HiddenId> add_split_grades(const Finding& plain);

  std::vector<bool> complaint_;
  std::vector<std::optional<Probability>> succeeds_;
  std::vector<bool> matters_;
  std::vector<bool> own_fires_;
  std::vector<Parts> parts_;
  std::uint32_t at_ = Likeness::no_node;  // the node or finding being split
  Likeness likeness_;
  Network out_;
};

}  // namespace slipcase::network

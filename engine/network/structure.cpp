#include "network/structure.h"

#include <algorithm>
#include <numeric>

namespace slipcase::network {
namespace {

struct RootLink {
  std::uint32_t root = 0;
  std::uint32_t target = 0;
  std::uint32_t link = 0;
  bool blocks = false;
};

/// A root and its links, for sorting by pattern.
struct Pattern {
  std::array<std::uint32_t, bundle_limit> targets{none, none, none};
  Member member;
  std::uint32_t size = 0;
};

class Builder {
 public:
  Builder(const Wiring& wiring, const Situation& situation)
      : wiring_(wiring), situation_(situation) {}

  Structure build() && {
    add_targets();
    for (std::uint32_t t = 0; t < out_.targets.size(); ++t) link_parents(t);
    place_roots();
    fold_singles();
    form_bundles();
    return std::move(out_);
  }

 private:
  void add_targets() {
    target_of_.assign(wiring_.hidden_count(), none);
    for (std::uint32_t i = 0; i < situation_.positives.size(); ++i) {
      if (free_parents(situation_.positives[i].finding) <= 1) {
        out_.plain.push_back(i);
      } else {
        out_.targets.push_back({.is_finding = true, .keep_fired = true, .id = i});
      }
    }
    for (std::uint32_t h = 0; h < wiring_.hidden_count(); ++h) {
      if (wiring_.is_root(h)) continue;
      const Role role = situation_.role[h];
      if (role == Role::branch_absent) out_.branch_absent.push_back(h);
      if (role != Role::observed && role != Role::branch_present) continue;
      target_of_[h] = size32(out_.targets.size());
      out_.targets.push_back({.keep_fired = role == Role::branch_present, .id = h});
    }
  }

  [[nodiscard]] std::size_t free_parents(std::uint32_t finding) const {
    return static_cast<std::size_t>(
        std::ranges::count_if(wiring_.parents_of_finding(finding), [&](std::uint32_t p) {
          const Role role = situation_.role[p];
          return role != Role::branch_absent && role != Role::branch_present;
        }));
  }

  void link_parents(std::uint32_t t) {
    Target& target = out_.targets[t];
    const auto parents = target.is_finding
                             ? wiring_.parents_of_finding(situation_.positives[target.id].finding)
                             : wiring_.parents_of_hidden(target.id);
    target.present_parents.begin = size32(out_.branch_links.size());
    for (std::uint32_t i = 0; i < parents.size(); ++i) {
      const std::uint32_t p = parents[i];
      const Role role = situation_.role[p];
      if (role == Role::branch_absent) continue;
      const std::uint32_t link = size32(out_.links.size());
      const bool blocks = !target.is_finding && wiring_.blocks[wiring_.parent_begin[target.id] + i];
      out_.links.push_back({t, i});
      if (role == Role::branch_present) {
        out_.branch_links.push_back(link);
      } else if (wiring_.is_root(p)) {
        root_links_.push_back({p, t, link, blocks});
      } else {
        out_.arcs.push_back({target_of_[p], t, link, blocks});
      }
    }
    target.present_parents.end = size32(out_.branch_links.size());
  }

  void place_roots() {
    std::ranges::stable_sort(root_links_, {}, &RootLink::root);
    auto next = root_links_.begin();
    for (std::uint32_t h = 0; h < wiring_.hidden_count(); ++h) {
      if (!wiring_.is_root(h)) continue;
      const auto first = next;
      while (next != root_links_.end() && next->root == h) ++next;
      place_root(h, std::span(first, next));
    }
  }

  void place_root(std::uint32_t h, std::span<const RootLink> links) {
    if (links.empty()) {
      if (situation_.role[h] == Role::unobserved) out_.idle_roots.push_back(h);
    } else if (links.size() > bundle_limit || std::ranges::any_of(links, &RootLink::blocks)) {
      add_root(h, links);
    } else {
      Pattern pattern;
      pattern.member.hidden = h;
      pattern.size = size32(links.size());
      for (std::size_t i = 0; i < links.size(); ++i) {
        pattern.targets[i] = links[i].target;
        pattern.member.link[i] = links[i].link;
      }
      patterns_.push_back(pattern);
    }
  }

  void add_root(std::uint32_t h, std::span<const RootLink> links) {
    const std::uint32_t vertex = size32(out_.vertex_count());
    out_.roots.push_back(h);
    for (const RootLink& l : links) out_.arcs.push_back({vertex, l.target, l.link, l.blocks});
  }

  void fold_singles() {
    // Large patterns first, equal ones together, hidden nodes rising.
    std::ranges::stable_sort(patterns_, [](const Pattern& a, const Pattern& b) {
      return a.size != b.size ? a.size > b.size : a.targets < b.targets;
    });
    const auto first = std::ranges::find(patterns_, 1U, &Pattern::size);
    for (auto p = first; p != patterns_.end();) {
      Target& target = out_.targets[p->targets[0]];
      target.singles.begin = size32(out_.members.size());
      const std::uint32_t t = p->targets[0];
      for (; p != patterns_.end() && p->targets[0] == t; ++p) out_.members.push_back(p->member);
      target.singles.end = size32(out_.members.size());
    }
    patterns_.erase(first, patterns_.end());
  }

  void form_bundles() {
    std::vector<std::vector<Member>> members;
    for (auto p = patterns_.begin(); p != patterns_.end();) {
      const auto last = std::find_if(p, patterns_.end(),
                                     [&](const Pattern& q) { return q.targets != p->targets; });
      if (p->size == 3 && last - p == 1) {
        // Alone with three targets: worth its own state, the planner may hold it open.
        add_single_root(*p);
      } else {
        const std::size_t home = bundle_for(*p, members);
        for (auto q = p; q != last; ++q) members[home].push_back(fit(*q, out_.bundles[home]));
      }
      p = last;
    }
    for (std::size_t b = 0; b < members.size(); ++b) {
      out_.bundles[b].members.begin = size32(out_.members.size());
      out_.members.insert(out_.members.end(), members[b].begin(), members[b].end());
      out_.bundles[b].members.end = size32(out_.members.size());
    }
  }

  void add_single_root(const Pattern& pattern) {
    std::array<RootLink, bundle_limit> links;
    for (std::size_t i = 0; i < pattern.size; ++i)
      links[i] = {pattern.member.hidden, pattern.targets[i], pattern.member.link[i]};
    add_root(pattern.member.hidden, std::span(links).first(pattern.size));
  }

  /// A bundle whose targets include the pattern's: joining it costs no further pass.
  std::size_t bundle_for(const Pattern& pattern, std::vector<std::vector<Member>>& members) {
    const auto wanted = std::span(pattern.targets).first(pattern.size);
    for (std::size_t b = 0; b < out_.bundles.size(); ++b) {
      const auto targets = std::span(out_.bundles[b].targets).first(out_.bundles[b].size);
      if (std::ranges::includes(targets, wanted)) return b;
    }
    out_.bundles.push_back({.targets = pattern.targets, .size = pattern.size});
    members.emplace_back();
    return out_.bundles.size() - 1;
  }

  static Member fit(const Pattern& pattern, const Bundle& bundle) {
    Member member{.hidden = pattern.member.hidden};
    for (std::size_t i = 0; i < pattern.size; ++i) {
      const auto place = std::ranges::find(bundle.targets, pattern.targets[i]);
      member.link[static_cast<std::size_t>(place - bundle.targets.begin())] =
          pattern.member.link[i];
    }
    return member;
  }

  const Wiring& wiring_;
  const Situation& situation_;
  Structure out_;
  std::vector<std::uint32_t> target_of_;
  std::vector<RootLink> root_links_;
  std::vector<Pattern> patterns_;
};

class UnionFind {
 public:
  explicit UnionFind(std::size_t n) : above_(n) { std::iota(above_.begin(), above_.end(), 0U); }
  std::uint32_t find(std::uint32_t x) {
    while (above_[x] != x) x = above_[x] = above_[above_[x]];
    return x;
  }
  void join(std::uint32_t a, std::uint32_t b) { above_[find(a)] = find(b); }

 private:
  std::vector<std::uint32_t> above_;
};

}  // namespace

Structure build_structure(const Wiring& wiring, const Situation& situation) {
  return Builder(wiring, situation).build();
}

std::vector<std::vector<std::uint32_t>> parts_of_hidden(const Wiring& wiring,
                                                        const Situation& situation,
                                                        const Structure& structure) {
  const std::size_t vertices = structure.vertex_count();
  UnionFind parts(vertices);
  for (const Arc& arc : structure.arcs) parts.join(arc.parent, arc.child);
  for (const Bundle& bundle : structure.bundles)
    for (std::uint32_t i = 1; i < bundle.size; ++i)
      parts.join(bundle.targets[0], bundle.targets[i]);

  std::vector<std::vector<std::uint32_t>> result(wiring.hidden_count());
  const auto belongs = [&](std::uint32_t hidden, std::uint32_t vertex) {
    result[hidden] = {parts.find(vertex)};
  };
  const auto members_belong = [&](Range range, std::uint32_t vertex) {
    for (std::uint32_t m = range.begin; m < range.end; ++m)
      belongs(structure.members[m].hidden, vertex);
  };
  for (std::uint32_t t = 0; t < structure.targets.size(); ++t) {
    const Target& target = structure.targets[t];
    if (!target.is_finding && !target.keep_fired) belongs(target.id, t);
    members_belong(target.singles, t);
  }
  for (std::uint32_t r = 0; r < structure.roots.size(); ++r)
    belongs(structure.roots[r], static_cast<std::uint32_t>(structure.targets.size()) + r);
  for (const Bundle& bundle : structure.bundles) members_belong(bundle.members, bundle.targets[0]);
  // A root without a target hangs on nothing but itself; a node with nothing known below on itself
  // and on its parents.
  const auto itself = [&](std::uint32_t h) { return static_cast<std::uint32_t>(vertices) + h; };
  for (const std::uint32_t h : structure.idle_roots) result[h] = {itself(h)};

  for (std::uint32_t h = 0; h < wiring.hidden_count(); ++h) {
    if (wiring.is_root(h) || situation.role[h] != Role::unobserved) continue;
    for (const std::uint32_t p : wiring.parents_of_hidden(h))
      result[h].insert(result[h].end(), result[p].begin(), result[p].end());
    result[h].push_back(itself(h));
    std::ranges::sort(result[h]);
    result[h].erase(std::unique(result[h].begin(), result[h].end()), result[h].end());
  }
  return result;
}

}  // namespace slipcase::network

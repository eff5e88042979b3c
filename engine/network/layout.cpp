#include "network/layout.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <random>

namespace slipcase::network {
namespace {

using Vertices = std::vector<std::uint32_t>;

/// Wider than this is never run; keeps 2^width a number.
constexpr unsigned hopeless_width = 60;

/// How much dearer an order may be than the current one at first.
constexpr double most_slack = 0.1;

class Search {
 public:
  Search(const Structure& structure, const Adjacency& adjacency, Vertices part, double effort)
      : structure_(structure),
        adjacency_(adjacency),
        part_(std::move(part)),
        effort_(effort),
        front_(structure, adjacency, tally_) {
    for (const std::uint32_t v : part_)
      links_ += adjacency.children[v].size() + adjacency.bundles[v].size() + 1.0;
  }

  Layout run() {
    Layout best = greedy(0);
    const auto restarts =
        std::min(30.0, budget(best.cost) * 0.2 / static_cast<double>(part_.size()));
    for (unsigned i = 1; i < restarts; ++i) take_better(best, greedy(i));
    improve(best);
    return best;
  }

 private:
  static void take_better(Layout& best, Layout other) {
    if (other.cost < best.cost) best = std::move(other);
  }

  /// How many walks over the order are worth it: a walk costs some 20 ns a link, a sweep some 2 ns
  /// a state.
  [[nodiscard]] double budget(double cost) const {
    constexpr double most_links = 1e7;
    return effort_ * std::min(most_links, cost * 2.0 / 20.0) / links_;
  }

  void restart() {
    front_.reset();
    tally_ = {};
  }

  /// Always finish next the vertex that leaves the fewest bits open.
  Layout greedy(unsigned attempt) {
    restart();
    random_.seed(attempt + 1);
    const double noise = attempt == 0 ? 0.0 : 1.5;
    Layout layout;
    std::optional<std::uint32_t> first;
    if (attempt > 0) first = part_[random_() % part_.size()];
    while (const auto next = first ? first : pick(noise)) {
      first.reset();
      for (const std::uint32_t v : missing_for(*next)) {
        if (front_.introduced(v)) continue;
        front_.introduce(v);
        layout.order.push_back(v);
      }
    }
    // Those that came in on their own stand last, from where they may be moved forward.
    for (const std::uint32_t v : part_)
      if (std::ranges::find(layout.order, v) == layout.order.end()) layout.order.push_back(v);
    layout.cost = tally_.cost;
    layout.width = tally_.width;
    return layout;
  }

  std::optional<std::uint32_t> pick(double noise) {
    std::optional<std::uint32_t> best;
    double best_score = std::numeric_limits<double>::infinity();
    const Tally before = tally_;
    front_.keep_trail(true);
    for (const std::uint32_t v : part_) {
      if (front_.dropped(v)) continue;
      const Vertices& missing = missing_for(v);
      if (missing.empty()) continue;  // waits for nodes further off
      const std::size_t mark = front_.mark();
      tally_.width = tally_.live;
      for (const std::uint32_t u : missing)
        if (!front_.introduced(u)) front_.introduce(u);
      // What stays open counts most, the bits needed on the way a little.
      const double score = tally_.live + 0.3 * tally_.width + noise * chance();
      const bool frees_bits = tally_.live < before.live;
      front_.undo(mark);
      tally_ = before;
      if (frees_bits || score < best_score) {
        best_score = score;
        best = v;
      }
      if (frees_bits) break;
    }
    front_.keep_trail(false);
    return best;
  }

  double chance() { return static_cast<double>(random_()) / static_cast<double>(random_.max()); }

  /// The vertices that must be introduced before v can be dropped (of those next to it).
  const Vertices& missing_for(std::uint32_t v) {
    missing_.clear();
    const auto want = [&](std::uint32_t u) {
      if (!front_.introduced(u) && std::ranges::find(missing_, u) == missing_.end())
        missing_.push_back(u);
    };
    want(v);
    const Range bundles = adjacency_.bundles[v];
    for (std::uint32_t i = bundles.begin; i < bundles.end; ++i) {
      const Bundle& bundle = structure_.bundles[adjacency_.bundle_steps[i]];
      for (std::uint32_t t = 0; t < bundle.size; ++t) want(bundle.targets[t]);
    }
    const Range parents = adjacency_.parents[v];
    for (std::uint32_t i = parents.begin; i < parents.end; ++i)
      want(adjacency_.parent_steps[i].other);
    const Range children = adjacency_.children[v];
    for (std::uint32_t i = children.begin; i < children.end; ++i)
      want(adjacency_.child_steps[i].other);
    return missing_;
  }

  /// Moves one vertex at a time to another place. At first a somewhat dearer order is taken too
  /// (threshold accepting: G. Dueck, T. Scheuer, J. Comput. Phys. 90, 1990), towards the end no
  /// more.
  void improve(Layout& best) {
    const std::size_t n = best.order.size();
    if (n < 3) return;
    random_.seed(1);
    Layout current = best;
    const double tries = budget(best.cost);
    for (double done = 0; done < std::min(tries, 4 * budget(best.cost)); ++done) {
      const std::size_t from = random_() % n;
      const std::size_t to = near(from, n);
      if (from == to) continue;
      const double slack = most_slack * std::max(0.0, 1 - 1.25 * done / tries);
      const double threshold = current.cost * (1 + slack);
      const Layout moved = walk_moved(current.order, from, to, threshold);
      if (moved.cost > threshold) continue;
      current.cost = moved.cost;
      current.width = moved.width;
      move(current.order, from, to);
      if (current.cost < best.cost) best = current;
    }
  }

  std::size_t near(std::size_t from, std::size_t n) {
    const std::size_t reach = random_() % 3 == 0 ? n : std::min<std::size_t>(n, 6);
    const std::size_t lowest = from >= reach ? from - reach : 0;
    const std::size_t highest = std::min(n - 1, from + reach);
    return lowest + random_() % (highest - lowest + 1);
  }

  static void move(Vertices& order, std::size_t from, std::size_t to) {
    const auto first = order.begin();
    const auto at = [&](std::size_t i) { return first + static_cast<std::ptrdiff_t>(i); };
    if (from < to) {
      std::rotate(at(from), at(from + 1), at(to + 1));
    } else {
      std::rotate(at(to), at(from), at(from + 1));
    }
  }

  Layout walk_moved(const Vertices& order, std::size_t from, std::size_t to, double most_cost) {
    trial_ = order;
    move(trial_, from, to);
    restart();
    for (const std::uint32_t v : trial_) {
      if (!front_.introduced(v)) front_.introduce(v);
      if (tally_.cost > most_cost || tally_.live > hopeless_width) break;
    }
    return {.order = {}, .cost = tally_.cost, .width = tally_.width};
  }

  const Structure& structure_;
  const Adjacency& adjacency_;
  Vertices part_;
  double effort_;
  double links_ = 0;
  Tally tally_;
  Front<Tally> front_;
  std::minstd_rand random_;  // cheap to seed, good enough for ties
  Vertices missing_;
  Vertices trial_;
};

/// The connected parts of a structure; each is finished before the next is begun.
std::vector<Vertices> connected_parts(const Structure& structure, const Adjacency& adjacency) {
  std::vector<Vertices> parts;
  std::vector<bool> seen(structure.vertex_count(), false);
  for (std::uint32_t start = 0; start < structure.vertex_count(); ++start) {
    if (seen[start]) continue;
    seen[start] = true;
    Vertices part{start};
    const auto visit = [&](std::uint32_t u) {
      if (!seen[u]) part.push_back(u);
      seen[u] = true;
    };
    for (std::size_t i = 0; i < part.size(); ++i) {
      const std::uint32_t v = part[i];
      const auto visit_steps = [&](const std::vector<Adjacency::Step>& steps, Range range) {
        for (std::uint32_t s = range.begin; s < range.end; ++s) visit(steps[s].other);
      };
      visit_steps(adjacency.parent_steps, adjacency.parents[v]);
      visit_steps(adjacency.child_steps, adjacency.children[v]);
      for (std::uint32_t b = adjacency.bundles[v].begin; b < adjacency.bundles[v].end; ++b) {
        const Bundle& bundle = structure.bundles[adjacency.bundle_steps[b]];
        for (std::uint32_t t = 0; t < bundle.size; ++t) visit(bundle.targets[t]);
      }
    }
    parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace

Layout find_layout(const Structure& structure, const Adjacency& adjacency, double effort) {
  Layout layout;
  for (Vertices& part : connected_parts(structure, adjacency)) {
    if (part.size() == 1) {
      layout.order.push_back(part.front());
      layout.width = std::max(layout.width, 1U);
      continue;
    }
    std::ranges::sort(part);
    const Layout found = Search(structure, adjacency, std::move(part), effort).run();
    layout.order.insert(layout.order.end(), found.order.begin(), found.order.end());
    layout.cost += found.cost;
    layout.width = std::max(layout.width, found.width);
  }
  return layout;
}

}  // namespace slipcase::network

#include "network/order_search.h"

#include <algorithm>
#include <limits>

namespace slipcase::network {
namespace {

/// A block moves at most so far at a time, and is at most so long.
constexpr std::size_t reach = 12;
constexpr std::size_t longest_block = 3;

/// Changes of the front that cost as much time as one state touched in a sweep (measured: about
/// 10 ns each, and 0.6 ns a state over all passes of a sweep).
constexpr double states_per_change = 17;

/// Each is tried at every place between its neighbours.
constexpr std::size_t most_strangers = 8;

/// What is too dear to run is not worth a long search either.
constexpr double most_work = 3e6;

}  // namespace

OrderSearch::OrderSearch(const Structure& structure, const Adjacency& adjacency, Vertices part,
                         const Ranks& familiar, double effort)
    : structure_(structure),
      adjacency_(adjacency),
      part_(std::move(part)),
      familiar_(familiar),
      effort_(effort),
      front_(structure, adjacency, tally_) {}

Order OrderSearch::run() {
  cheapest_ = std::numeric_limits<double>::infinity();
  Order best;
  for (unsigned attempt = 0; attempt == 0 || worth_more_work(); ++attempt) {
    Order found = attempt == 0 && is_familiar() ? from_familiar() : greedy(attempt);
    if (attempt == 0) cheapest_ = found.cost;
    if (worth_more_work()) found = descend(std::move(found));
    if (attempt > 0 && found.cost >= best.cost) continue;
    best = std::move(found);
    cheapest_ = best.cost;
  }
  return best;
}

bool OrderSearch::worth_more_work() const {
  return work_ < std::min(most_work, effort_ * cheapest_ / states_per_change);
}

void OrderSearch::restart() {
  front_.reset();
  tally_ = {};
  work_ += 0.1 * static_cast<double>(structure_.vertex_count());
}

void OrderSearch::enter(std::uint32_t vertex) {
  if (!front_.introduced(vertex)) front_.introduce(vertex);
}

void OrderSearch::take_back(std::size_t mark, const Tally& tally) {
  work_ += static_cast<double>(front_.mark() - mark);
  front_.undo(mark);
  tally_ = tally;
}

// --- the start from the order of a like structure

bool OrderSearch::is_familiar() const {
  if (familiar_.empty()) return false;
  const auto strangers = static_cast<std::size_t>(
      std::ranges::count_if(part_, [&](auto v) { return familiar_[v] == none; }));
  return strangers <= most_strangers && 4 * strangers <= part_.size();
}

Order OrderSearch::from_familiar() {
  Order order;
  for (const std::uint32_t v : part_)
    if (familiar_[v] != none) order.vertices.push_back(v);
  std::ranges::sort(order.vertices, {}, [&](std::uint32_t v) { return familiar_[v]; });
  for (const std::uint32_t v : part_)
    if (familiar_[v] == none) insert_stranger(order.vertices, v);
  order.cost = cost_of(order.vertices);
  order.width = tally_.width;
  return order;
}

/// Where the whole order is cheapest with it, from its first neighbour to its last.
void OrderSearch::insert_stranger(Vertices& order, std::uint32_t vertex) {
  std::size_t first = order.size();
  std::size_t end = order.size();
  for (std::size_t i = 0; i < order.size(); ++i) {
    bool is_neighbour = false;
    for_neighbours(vertex, [&](std::uint32_t u) { is_neighbour = is_neighbour || u == order[i]; });
    if (!is_neighbour) continue;
    first = std::min(first, i);
    end = i + 1;
  }
  const auto at = [&](std::size_t i) { return order.begin() + static_cast<std::ptrdiff_t>(i); };
  order.insert(at(first), vertex);
  std::size_t best = first;
  double least = cost_of(order);
  for (std::size_t place = first; place < end; ++place) {
    std::swap(order[place], order[place + 1]);
    const double cost = cost_of(order);
    if (cost >= least) continue;
    least = cost;
    best = place + 1;
  }
  std::rotate(at(best), at(end), at(end + 1));
}

double OrderSearch::cost_of(const Vertices& order) {
  restart();
  for (const std::uint32_t v : order) enter(v);
  work_ += static_cast<double>(order.size());
  return tally_.cost;
}

// --- the start without

Order OrderSearch::greedy(unsigned attempt) {
  restart();
  random_.seed(attempt + 1);
  const double noise = attempt == 0 ? 0.0 : 1.5;
  Order order;
  std::optional<std::uint32_t> next;
  if (attempt > 0) next = part_[random_() % part_.size()];
  if (!next) next = cheapest_to_finish(noise);
  for (; next; next = cheapest_to_finish(noise)) {
    for (const std::uint32_t v : missing_for(*next)) {
      if (front_.introduced(v)) continue;
      front_.introduce(v);
      order.vertices.push_back(v);
    }
  }
  // Those that came in on their own stand last, from where they may be moved forward.
  std::vector<bool> listed(structure_.vertex_count(), false);
  for (const std::uint32_t v : order.vertices) listed[v] = true;
  for (const std::uint32_t v : part_)
    if (!listed[v]) order.vertices.push_back(v);
  order.cost = tally_.cost;
  order.width = tally_.width;
  return order;
}

std::optional<std::uint32_t> OrderSearch::cheapest_to_finish(double noise) {
  std::optional<std::uint32_t> best;
  double best_score = std::numeric_limits<double>::infinity();
  const Tally before = tally_;
  front_.keep_trail(true);
  for (const std::uint32_t v : part_) {
    if (front_.dropped(v)) continue;
    const Vertices& missing = missing_for(v);
    if (missing.empty()) continue;  // waits for nodes further off
    tally_.width = tally_.live;
    for (const std::uint32_t u : missing) enter(u);
    // What stays open counts most, the bits needed on the way a little.
    const double score = tally_.live + 0.3 * tally_.width + noise * random_share();
    const bool frees_bits = tally_.live < before.live;
    take_back(0, before);
    if (frees_bits || score < best_score) {
      best_score = score;
      best = v;
    }
    if (frees_bits) break;
  }
  front_.keep_trail(false);
  return best;
}

double OrderSearch::random_share() {
  return static_cast<double>(random_()) / static_cast<double>(std::minstd_rand::max());
}

/// The vertices that must be introduced before this one can be dropped (of those next to it).
const Vertices& OrderSearch::missing_for(std::uint32_t vertex) {
  missing_.clear();
  const auto want = [&](std::uint32_t u) {
    if (!front_.introduced(u) && std::ranges::find(missing_, u) == missing_.end())
      missing_.push_back(u);
  };
  want(vertex);
  for_neighbours(vertex, want);
  return missing_;
}

template <class Visit>
void OrderSearch::for_neighbours(std::uint32_t vertex, Visit visit) const {
  const Range bundles = adjacency_.bundles[vertex];
  for (std::uint32_t i = bundles.begin; i < bundles.end; ++i) {
    const Bundle& bundle = structure_.bundles[adjacency_.bundle_steps[i]];
    for (std::uint32_t t = 0; t < bundle.size; ++t) visit(bundle.targets[t]);
  }
  const Range parents = adjacency_.parents[vertex];
  for (std::uint32_t i = parents.begin; i < parents.end; ++i)
    visit(adjacency_.parent_steps[i].other);
  const Range children = adjacency_.children[vertex];
  for (std::uint32_t i = children.begin; i < children.end; ++i)
    visit(adjacency_.child_steps[i].other);
}

// --- the descent

Order OrderSearch::descend(Order start) {
  if (start.vertices.size() < 3) return start;
  order_ = std::move(start.vertices);
  step_cost_.assign(order_.size(), 0);
  restart();
  measure_steps(0, order_.size());
  double cost = tally_.cost;
  for (;;) {
    const double before = cost;
    walk_and_improve();
    cost = tally_.cost;
    cheapest_ = std::min(cheapest_, cost);
    // The last per cents are not worth a walk each.
    if (cost > 0.99 * before || !worth_more_work()) break;
  }
  return {.vertices = order_, .cost = cost, .width = tally_.width};
}

/// Introduces the places first to last and notes what each costs.
void OrderSearch::measure_steps(std::size_t first, std::size_t last) {
  for (std::size_t i = first; i < last; ++i) {
    const double before = tally_.cost;
    enter(order_[i]);
    step_cost_[i] = tally_.cost - before;
  }
}

/// One walk along the order; what comes next is rearranged where that is cheaper. All that lies
/// behind the rearranged places costs the same as before: what is open there depends on what was
/// introduced, not on the order of it.
void OrderSearch::walk_and_improve() {
  restart();
  front_.keep_trail(true);
  for (std::size_t place = 0; place < order_.size(); ++place) {
    if (!front_.introduced(order_[place])) improve_at(place);
    enter(order_[place]);
    work_ += static_cast<double>(front_.mark());
    front_.forget_trail();
  }
  front_.keep_trail(false);
}

void OrderSearch::improve_at(std::size_t place) {
  const Swap swap = best_swap(place);
  if (swap.gain <= 0) return;
  const auto at = [&](std::size_t i) { return order_.begin() + static_cast<std::ptrdiff_t>(i); };
  std::rotate(at(place), at(swap.middle), at(swap.end));
  const Tally here = tally_;
  measure_steps(place, swap.end);
  take_back(0, here);
}

OrderSearch::Swap OrderSearch::best_swap(std::size_t place) {
  Swap best;
  double block_cost = 0;
  const std::size_t last = std::min(place + longest_block, order_.size() - 1);
  for (std::size_t middle = place + 1; middle <= last; ++middle) {
    block_cost += step_cost_[middle - 1];
    try_swaps(place, middle, block_cost, best);
  }
  return best;
}

/// The block [place, middle) moved behind ever more of what follows it.
void OrderSearch::try_swaps(std::size_t place, std::size_t middle, double block_cost, Swap& best) {
  const Tally here = tally_;
  double old_cost = block_cost;
  const auto spent = [&] { return tally_.cost - here.cost; };
  const std::size_t last = std::min(place + reach, order_.size() - 1);
  for (std::size_t end = middle; end <= last; ++end) {
    enter(order_[end]);
    old_cost += step_cost_[end];
    if (spent() > old_cost) break;
    const Tally between = tally_;
    const std::size_t mark = front_.mark();
    std::size_t next = place;
    for (; next < middle && spent() <= old_cost; ++next) enter(order_[next]);
    if (next == middle && old_cost - spent() > best.gain)
      best = {.middle = middle, .end = end + 1, .gain = old_cost - spent()};
    take_back(mark, between);
  }
  take_back(0, here);
}

}  // namespace slipcase::network

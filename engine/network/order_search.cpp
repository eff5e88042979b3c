#include "network/order_search.h"

#include <algorithm>
#include <limits>

namespace slipcase::network {
namespace {

/// A block moves at most so far at a time, and is at most so long.
constexpr std::size_t reach = 12;
constexpr std::size_t longest_block = 3;

/// States touched in a sweep that take as long as one change of the front (measured: 0.6 ns a state
/// over all passes of a sweep, 13 ns a change with the copies made for it).
constexpr double states_per_change = 22;

/// Measured over all runs for ranking the shipped jobs: more starts cost more than they save.
constexpr unsigned starts = 2;

/// In a large part the vertex that needs the fewest others is not always the best to finish.
constexpr std::size_t part_per_vertex_of_slack = 32;

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
      front_(structure, adjacency, tally_) {
  find_neighbourhoods();
}

Order OrderSearch::run() {
  cheapest_ = std::numeric_limits<double>::infinity();
  Order best;
  for (unsigned attempt = 0; attempt == 0 || worth_more_work(); ++attempt) {
    Order found = attempt == 0 && is_familiar() ? from_familiar() : best_start(attempt);
    if (attempt == 0) cheapest_ = found.cost;
    if (worth_more_work()) found = descend(std::move(found));
    if (attempt > 0 && found.cost >= best.cost) continue;
    best = std::move(found);
    cheapest_ = best.cost;
  }
  return best;
}

bool OrderSearch::worth_more_work() const { return work() < worth_of(cheapest_); }

double OrderSearch::worth_of(double cost) const {
  return std::min(most_work, effort_ * cost / states_per_change);
}

/// In changes of the front; copying a position of so many vertices takes as long as one.
double OrderSearch::work() const {
  constexpr double vertices_per_change = 20;
  const auto copied = static_cast<double>(copies_ * structure_.vertex_count());
  return static_cast<double>(front_.changes()) + copied / vertices_per_change;
}

void OrderSearch::restart() {
  front_.reset();
  tally_ = {};
  ++copies_;
}

void OrderSearch::enter(std::uint32_t vertex) {
  if (!front_.introduced(vertex)) front_.introduce(vertex);
}

void OrderSearch::keep(Moment& moment) {
  moment.position = front_.position();
  moment.tally = tally_;
  ++copies_;
}

void OrderSearch::go_back_to(const Moment& moment) {
  front_.go_back_to(moment.position);
  tally_ = moment.tally;
  ++copies_;
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
  std::ranges::stable_sort(order.vertices, {}, [&](std::uint32_t v) { return familiar_[v]; });
  for (const std::uint32_t v : part_)
    if (familiar_[v] == none) insert_stranger(order.vertices, v);
  order.cost = cost_of(order.vertices);
  order.width = tally_.width;
  return order;
}

/// Where the whole order is cheapest with it, from its first neighbour to its last.
void OrderSearch::insert_stranger(Vertices& order, std::uint32_t vertex) {
  const auto neighbours = closed_neighbourhood(vertex);
  std::size_t first = order.size();
  std::size_t end = order.size();
  for (std::size_t i = 0; i < order.size(); ++i) {
    if (std::ranges::find(neighbours, order[i]) == neighbours.end()) continue;
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
  return tally_.cost;
}

// --- the start without

/// The descent takes far longer than a start and is better for a better one.
Order OrderSearch::best_start(unsigned attempt) {
  Order best = greedy(starts * attempt);
  for (unsigned i = 1; i < starts && work() < 0.25 * worth_of(best.cost); ++i) {
    Order found = greedy(starts * attempt + i);
    if (found.cost < best.cost) best = std::move(found);
  }
  return best;
}

Order OrderSearch::greedy(unsigned number) {
  restart();
  random_.seed(number + 1);
  const double noise = number == 0 ? 0.0 : 1.5;
  Order order;
  std::optional<std::uint32_t> next;
  if (number > 0) next = part_[random_() % part_.size()];
  if (!next) next = cheapest_to_finish(noise);
  for (; next; next = cheapest_to_finish(noise)) {
    for (const std::uint32_t v : closed_neighbourhood(*next)) {
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
  keep(here_);
  for (const std::uint32_t v : few_missing()) {
    tally_.width = tally_.live;
    for (const std::uint32_t u : closed_neighbourhood(v)) enter(u);
    // What stays open counts most, the bits needed on the way a little.
    double score = tally_.live + 0.3 * tally_.width;
    if (noise > 0) score += noise * random_share();
    const bool frees_bits = tally_.live < here_.tally.live;
    go_back_to(here_);
    if (frees_bits || score < best_score) {
      best_score = score;
      best = v;
    }
    if (frees_bits) break;
  }
  return best;
}

/// Those that need hardly more vertices than any other; only they are tried.
const Vertices& OrderSearch::few_missing() {
  missing_.clear();
  candidates_.clear();
  std::uint32_t least = none;
  for (const std::uint32_t v : part_) {
    std::uint32_t missing = 0;
    if (!front_.dropped(v))
      for (const std::uint32_t u : closed_neighbourhood(v)) missing += front_.introduced(u) ? 0 : 1;
    missing_.push_back(missing);  // none: waits for nodes further off
    if (missing > 0) least = std::min(least, missing);
  }
  const std::size_t most = least + part_.size() / part_per_vertex_of_slack;
  for (std::size_t i = 0; i < part_.size(); ++i)
    if (missing_[i] > 0 && missing_[i] <= most) candidates_.push_back(part_[i]);
  return candidates_;
}

double OrderSearch::random_share() {
  return static_cast<double>(random_()) / static_cast<double>(std::minstd_rand::max());
}

/// The vertex and those next to it: all must be introduced before it can be dropped.
std::span<const std::uint32_t> OrderSearch::closed_neighbourhood(std::uint32_t vertex) const {
  const Range range = neighbours_[vertex];
  return std::span(neighbourhoods_).subspan(range.begin, range.size());
}

void OrderSearch::find_neighbourhoods() {
  neighbours_.resize(structure_.vertex_count());
  for (const std::uint32_t v : part_) {
    Range& range = neighbours_[v];
    range.begin = static_cast<std::uint32_t>(neighbourhoods_.size());
    neighbourhoods_.push_back(v);
    const auto add = [&](std::uint32_t u) {
      const auto first = neighbourhoods_.begin() + range.begin;
      if (std::find(first, neighbourhoods_.end(), u) == neighbourhoods_.end())
        neighbourhoods_.push_back(u);
    };
    const Range bundles = adjacency_.bundles[v];
    for (std::uint32_t i = bundles.begin; i < bundles.end; ++i) {
      const Bundle& bundle = structure_.bundles[adjacency_.bundle_steps[i]];
      for (std::uint32_t t = 0; t < bundle.size; ++t) add(bundle.targets[t]);
    }
    const auto add_others = [&](const std::vector<Adjacency::Step>& steps, Range of) {
      for (std::uint32_t i = of.begin; i < of.end; ++i) add(steps[i].other);
    };
    add_others(adjacency_.parent_steps, adjacency_.parents[v]);
    add_others(adjacency_.child_steps, adjacency_.children[v]);
    range.end = static_cast<std::uint32_t>(neighbourhoods_.size());
  }
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
  for (std::size_t place = 0; place < order_.size(); ++place) {
    if (!front_.introduced(order_[place]) && worth_more_work()) improve_at(place);
    enter(order_[place]);
  }
}

void OrderSearch::improve_at(std::size_t place) {
  keep(here_);
  const Swap swap = best_swap(place);
  if (swap.gain <= 0) return;
  const auto at = [&](std::size_t i) { return order_.begin() + static_cast<std::ptrdiff_t>(i); };
  std::rotate(at(place), at(swap.middle), at(swap.end));
  measure_steps(place, swap.end);
  go_back_to(here_);
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
  double old_cost = block_cost;
  const auto spent = [&] { return tally_.cost - here_.tally.cost; };
  const std::size_t last = std::min(place + reach, order_.size() - 1);
  for (std::size_t end = middle; end <= last; ++end) {
    enter(order_[end]);
    old_cost += step_cost_[end];
    if (spent() > old_cost) break;
    keep(between_);
    std::size_t next = place;
    for (; next < middle && spent() <= old_cost; ++next) enter(order_[next]);
    if (next == middle && old_cost - spent() > best.gain)
      best = {.middle = middle, .end = end + 1, .gain = old_cost - spent()};
    go_back_to(between_);
  }
  go_back_to(here_);
}

}  // namespace slipcase::network

#include "rulebase/circle.h"

#include <algorithm>
#include <limits>

namespace slipcase::rulebase {

namespace {

constexpr std::uint32_t unset = std::numeric_limits<std::uint32_t>::max();

// Strongly connected components: R. Tarjan, "Depth-first search and linear graph algorithms", SIAM
// J. Comput. 1 (1972); with an own stack, as a rule file may chain thousands of declarations.
class Components {
 public:
  explicit Components(const Steps& steps)
      : steps_(steps),
        order_(steps.size(), unset),
        low_(steps.size()),
        component_(steps.size(), unset) {
    for (std::uint32_t node = 0; node < steps.size(); ++node) {
      if (order_[node] == unset) visit(node);
    }
  }

  [[nodiscard]] const std::vector<std::uint32_t>& of_node() const { return component_; }

 private:
  struct Frame {
    std::uint32_t node;
    std::size_t next;
  };

  void visit(std::uint32_t root) {
    std::vector<Frame> frames;
    enter(root, frames);
    while (!frames.empty()) {
      Frame& frame = frames.back();
      const std::uint32_t node = frame.node;
      if (frame.next < steps_[node].size()) {
        const std::uint32_t to = steps_[node][frame.next++].to;
        if (order_[to] == unset) {
          enter(to, frames);
        } else if (component_[to] == unset) {
          low_[node] = std::min(low_[node], order_[to]);
        }
        continue;
      }
      frames.pop_back();
      if (!frames.empty())
        low_[frames.back().node] = std::min(low_[frames.back().node], low_[node]);
      if (low_[node] == order_[node]) close(node);
    }
  }

  void enter(std::uint32_t node, std::vector<Frame>& frames) {
    order_[node] = low_[node] = counter_++;
    open_.push_back(node);
    frames.push_back({node, 0});
  }

  void close(std::uint32_t root) {
    while (true) {
      const std::uint32_t node = open_.back();
      open_.pop_back();
      component_[node] = root;
      if (node == root) return;
    }
  }

  const Steps& steps_;
  std::vector<std::uint32_t> order_;
  std::vector<std::uint32_t> low_;
  std::vector<std::uint32_t> component_;
  std::vector<std::uint32_t> open_;
  std::uint32_t counter_ = 0;
};

// The shortest way from `start` over another node back to it inside its component: breadth first.
Circle shortest(const Steps& steps, const std::vector<std::uint32_t>& component,
                std::uint32_t start) {
  std::vector<std::uint32_t> before(steps.size(), unset);
  std::vector<Place> by(steps.size());
  std::vector<std::uint32_t> queue{start};
  for (std::size_t head = 0; head < queue.size(); ++head) {
    const std::uint32_t node = queue[head];
    for (const Step& step : steps[node]) {
      if (component[step.to] != component[start] || before[step.to] != unset) continue;
      if (step.to == node) continue;
      before[step.to] = node;
      by[step.to] = step.place;
      if (step.to == start) {
        Circle circle;
        std::uint32_t at = start;
        do {
          circle.push_back({before[at], by[at]});
          at = before[at];
        } while (at != start);
        std::reverse(circle.begin(), circle.end());
        return circle;
      }
      queue.push_back(step.to);
    }
  }
  return {};
}

}  // namespace

std::vector<Circle> find_circles(const Steps& steps) {
  constexpr std::size_t most_circles = 200;
  const std::vector<std::uint32_t> component = Components(steps).of_node();
  std::vector<bool> done(steps.size(), false);
  std::vector<Circle> circles;
  for (std::uint32_t node = 0; node < steps.size() && circles.size() < most_circles; ++node) {
    const auto& ways = steps[node];
    const auto self =
        std::find_if(ways.begin(), ways.end(), [&](const Step& step) { return step.to == node; });
    if (self != ways.end()) circles.push_back({{node, self->place}});
    const bool leads_on = std::any_of(ways.begin(), ways.end(), [&](const Step& step) {
      return step.to != node && component[step.to] == component[node];
    });
    if (!leads_on || done[node]) continue;
    circles.push_back(shortest(steps, component, node));
    for (const CircleStep& step : circles.back()) done[step.from] = true;
  }
  return circles;
}

}  // namespace slipcase::rulebase

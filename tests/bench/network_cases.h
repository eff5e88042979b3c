// Invented networks and jobs of the sizes that matter, for the benchmarks of the inference.
#pragma once

#include <algorithm>
#include <array>
#include <numeric>
#include <random>
#include <vector>

#include "network/network.h"

namespace slipcase::bench {

using namespace network;
using Random = std::mt19937_64;

inline double between(Random& random, double low, double high) {
  return std::uniform_real_distribution<double>(low, high)(random);
}
inline bool happens(Random& random, double chance) {
  return std::bernoulli_distribution(chance)(random);
}
inline Probability some(Random& random, double low, double high) {
  return Probability::from(between(random, low, high)).value();
}

/// 45 causes, 80 findings with 3 to 9 causes each.
inline Network two_layer(Random& random) {
  Network net;
  for (int i = 0; i < 45; ++i)
    net.hidden.push_back({.own = some(random, 0.005, 0.06), .parents = {}});
  std::vector<std::uint32_t> causes(45);
  std::iota(causes.begin(), causes.end(), 0U);
  for (int f = 0; f < 80; ++f) {
    Finding finding{.leak = {some(random, 0.002, 0.03)}, .parents = {}};
    std::ranges::shuffle(causes, random);
    const auto count = 3 + random() % 7;
    for (std::size_t i = 0; i < count; ++i)
      finding.parents.push_back({HiddenId{causes[i]}, {some(random, 0.2, 0.95)}});
    net.findings.push_back(std::move(finding));
  }
  return net;
}

/// What a job looks like when these causes are there: a setting of all nodes, grades of all
/// findings.
struct Drawn {
  std::vector<bool> present;
  std::vector<std::uint32_t> grade;
};

inline Drawn draw(Random& random, const Network& net, std::vector<bool> forced) {
  Drawn job{.present = std::move(forced), .grade = {}};
  job.present.resize(net.hidden.size(), false);
  for (std::size_t h = 0; h < net.hidden.size(); ++h) {
    double absent = net.hidden[h].own.complement();
    for (const HiddenLink& link : net.hidden[h].parents)
      if (job.present[link.parent.at()]) absent *= link.fire.complement();
    if (!net.hidden[h].parents.empty() && happens(random, 1 - absent)) job.present[h] = true;
  }
  for (const Finding& finding : net.findings) {
    const double x = between(random, 0, 1);
    std::uint32_t grade = 0;
    for (std::size_t g = 0; g < finding.leak.size(); ++g) {
      double below = finding.leak[g].complement();
      for (const FindingLink& link : finding.parents)
        if (job.present[link.parent.at()]) below *= link.fire[g].complement();
      if (x >= below) grade = static_cast<std::uint32_t>(g) + 1;
    }
    job.grade.push_back(grade);
  }
  return job;
}

/// Some causes forced, drawn again until enough findings are there: then `positives` of these and
/// `negatives` others.
inline Evidence job_with(Random& random, const Network& net, std::size_t causes,
                         std::size_t positives, std::size_t negatives) {
  for (;;) {
    std::vector<bool> forced(net.hidden.size(), false);
    for (std::size_t i = 0; i < causes; ++i) forced[random() % forced.size()] = true;
    const Drawn job = draw(random, net, forced);
    std::vector<std::uint32_t> order(net.findings.size());
    std::iota(order.begin(), order.end(), 0U);
    std::ranges::shuffle(order, random);
    Evidence evidence;
    std::size_t yes = 0;
    std::size_t no = 0;
    for (const std::uint32_t f : order) {
      if (job.grade[f] > 0 && yes < positives) {
        evidence.findings.push_back({FindingId{f}, 1, 1});
        ++yes;
      } else if (job.grade[f] == 0 && no < negatives) {
        evidence.findings.push_back({FindingId{f}, 0, 0});
        ++no;
      }
    }
    if (yes == positives) return evidence;
  }
}

/// A network with the build of a real rule base: 5 elements with 4 insides each, unit-wide causes
/// and insides, 7 gears, 20 shifts; findings graded; worn linings and burnt fluid as later causes.
class UnitNetwork {
 public:
  explicit UnitNetwork(std::uint64_t seed) : random_(seed) { build(); }
  [[nodiscard]] const Network& network() const { return net_; }
  [[nodiscard]] const std::vector<std::uint32_t>& causes() const { return causes_; }

 private:
  static constexpr std::size_t elements = 5;

  std::uint32_t node(bool cause, double low, double high, std::vector<std::uint32_t> parents) {
    Hidden hidden{.own = some(random_, low, high), .parents = {}, .is_cause = cause};
    for (const std::uint32_t p : parents)
      hidden.parents.push_back({HiddenId{p}, some(random_, 0.3, 0.95)});
    net_.hidden.push_back(std::move(hidden));
    const auto id = static_cast<std::uint32_t>(net_.hidden.size() - 1);
    if (cause) causes_.push_back(id);
    return id;
  }
  std::uint32_t cause(std::vector<std::uint32_t> parents = {}) {
    return node(true, 0.005, 0.04, std::move(parents));
  }
  std::uint32_t inside(std::vector<std::uint32_t> parents) {
    return node(false, 0.001, 0.01, std::move(parents));
  }

  void finding(std::size_t grades, std::vector<std::uint32_t> parents) {
    Finding f;
    const auto falling = [&](double low, double high) {
      std::vector<Probability> numbers;
      double p = between(random_, low, high);
      for (std::size_t g = 0; g < grades; ++g, p *= between(random_, 0.3, 0.8))
        numbers.push_back(Probability::from(p).value());
      return numbers;
    };
    f.leak = falling(0.01, 0.06);
    for (const std::uint32_t p : parents) f.parents.push_back({HiddenId{p}, falling(0.3, 0.9)});
    net_.findings.push_back(std::move(f));
  }

  void build() {
    const std::uint32_t pump = cause(), regulator = cause(), low_fluid = cause(), filter = cause();
    const std::uint32_t cooler = cause(), converter = cause(), wrong_fluid = cause();
    const std::uint32_t harness = cause(), control = cause(), speed_sensor = cause();
    const std::uint32_t temperature_sensor = cause(), software = cause(), bushing = cause();
    const std::uint32_t pressure_low = inside({pump, regulator, low_fluid, filter});
    const std::uint32_t hot = inside({cooler, low_fluid, converter, wrong_fluid});
    std::array<std::uint32_t, elements> slips{}, slow{}, weak{}, drags{}, worn{}, glazed{}, valve{},
        solenoid{}, seal{};
    for (std::size_t e = 0; e < elements; ++e) {
      seal[e] = cause();
      solenoid[e] = cause();
      valve[e] = cause();
      const std::uint32_t spring = cause(), clearance = cause(), passage = cause();
      const std::uint32_t plates = cause();
      weak[e] = inside({seal[e], solenoid[e], valve[e], passage, pressure_low, harness});
      worn[e] = cause({weak[e], hot});
      glazed[e] = cause({hot, clearance});
      slips[e] = inside({worn[e], glazed[e], weak[e], wrong_fluid});
      slow[e] = inside({weak[e], clearance, spring, valve[e], software});
      drags[e] = inside({clearance, plates, spring, valve[e], solenoid[e]});
      finding(3, {weak[e], seal[e]});
      finding(2, {weak[e], passage});
      finding(3, {slips[e]});
      finding(2, {slow[e], spring});
      finding(3, {slow[e], clearance});
      finding(2, {drags[e], plates});
      finding(1, {worn[e], glazed[e]});
      finding(1, {glazed[e]});
      finding(1, {solenoid[e], harness});
      finding(2, {solenoid[e], harness, control});
      finding(1, {valve[e]});
      finding(1, {seal[e], passage});
    }
    const std::array<std::array<std::size_t, 2>, 7> applied{
        {{0, 4}, {0, 3}, {0, 2}, {0, 1}, {1, 2}, {1, 3}, {2, 4}}};
    for (const auto& gear : applied)
      finding(2, {slips[gear[0]], slips[gear[1]], drags[gear[1]], bushing});
    for (std::size_t s = 0; s < 20; ++s) {
      const std::size_t on = s % elements;
      const std::size_t off = (s + 1 + s / elements) % elements;
      finding(2, {slips[on], slow[on], drags[off]});
      finding(2, {drags[off], slow[on], software, control});
    }
    const std::uint32_t burnt = cause({hot, slips[0], slips[1], slips[2], slips[3], slips[4]});
    finding(2, {burnt});
    finding(2, {burnt, wrong_fluid});
    finding(2, {worn[0], worn[1], worn[2], worn[3], worn[4], bushing});
    finding(1, {pump, bushing});
    finding(3, {pressure_low});
    finding(3, {pressure_low, pump});
    finding(2, {pressure_low, regulator});
    finding(1, {low_fluid});
    finding(2, {low_fluid, filter});
    finding(3, {hot});
    finding(2, {hot, cooler});
    finding(2, {converter, hot});
    finding(1, {converter, speed_sensor});
    finding(1, {speed_sensor, harness});
    finding(1, {temperature_sensor, harness});
    finding(1, {control, harness, software});
    finding(1, {software, control});
    while (net_.findings.size() < 141) {
      const auto any = [&] { return static_cast<std::uint32_t>(random_() % net_.hidden.size()); };
      finding(1 + random_() % 2, {any(), any() == 0 ? 1U : pressure_low, hot});
    }
  }

  Random random_;
  Network net_;
  std::vector<std::uint32_t> causes_;
};

/// One to three true causes, every finding answered with what it shows.
inline Evidence fully_answered(Random& random, const UnitNetwork& unit) {
  const Network& net = unit.network();
  std::vector<bool> forced(net.hidden.size(), false);
  const std::size_t count = 1 + random() % 3;
  for (std::size_t i = 0; i < count; ++i)
    forced[unit.causes()[random() % unit.causes().size()]] = true;
  const Drawn job = draw(random, net, forced);
  Evidence evidence;
  for (std::uint32_t f = 0; f < net.findings.size(); ++f)
    evidence.findings.push_back({FindingId{f}, job.grade[f], job.grade[f]});
  return evidence;
}

}  // namespace slipcase::bench

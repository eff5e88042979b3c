// Invented random networks of every shape, against every setting in exact rational numbers.
#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <fmt/core.h>

#include "network/clash.h"
#include "network/combinations.h"
#include "network/solver.h"
#include "support/network_maker.h"
#include "support/network_referee.h"
#include "support/rounds.h"

namespace slipcase::test {
namespace {

using namespace network;

constexpr unsigned rounds = rounds_of(120);

struct Shape {
  const char* name;
  NetworkShape network;
  EvidenceShape evidence;
};

const std::vector<Shape>& shapes() {
  static const std::vector<Shape> all{
      {"two layers", {.hidden = 7, .findings = 8}, {}},
      {"two layers, all positive", {.hidden = 7, .findings = 9}, {.observed = 1, .positive = 1}},
      {"nothing known", {.hidden = 6, .findings = 4}, {.observed = 0}},
      {"graded", {.hidden = 6, .findings = 7, .grades = 4}, {.observed = 0.9, .positive = 0.6}},
      {"chains",
       {.hidden = 8, .findings = 6, .grades = 2, .chance_of_parents = 0.7, .parents = 1},
       {}},
      {"insides", {.hidden = 8, .findings = 6, .chance_of_parents = 0.6}, {}},
      {"insides, all answered",
       {.hidden = 8, .findings = 9, .grades = 3, .chance_of_parents = 0.7, .parents = 4},
       {.observed = 1, .positive = 0.5}},
      {"nothing below", {.hidden = 8, .findings = 3, .chance_of_parents = 0.7}, {.observed = 0.3}},
      {"held", {.hidden = 7, .findings = 6, .chance_of_parents = 0.6}, {.held = 0.35}},
      {"extremes",
       {.hidden = 6,
        .findings = 5,
        .grades = 2,
        .chance_of_parents = 0.5,
        .chance_of_extremes = 0.3},
       {.positive = 0.3}},
      {"blocked",
       {.hidden = 8, .findings = 6, .chance_of_parents = 0.8, .parents = 4, .chance_of_block = 0.5},
       {.observed = 0.9}},
      {"blocked, graded, held",
       {.hidden = 7, .findings = 5, .grades = 3, .chance_of_parents = 0.9, .chance_of_block = 0.8},
       {.observed = 1, .positive = 0.3, .held = 0.15}},
      {"extremes, held",
       {.hidden = 6, .findings = 4, .chance_of_parents = 0.5, .chance_of_extremes = 0.2},
       {.held = 0.3}},
  };
  return all;
}

void check_close(const mpq_class& expected, double actual, const std::string& what) {
  const double wanted = expected.get_d();
  CAPTURE(what);
  CHECK(std::abs(actual - wanted) <= 1e-12 * std::max(wanted, 1e-3));
}

void check_posterior(const Enumeration& all, const Posterior& posterior) {
  const double log_evidence = std::log(all.evidence.get_d());
  CHECK(std::abs(posterior.log_evidence - log_evidence) <= 1e-12 * std::max(1.0, -log_evidence));
  std::vector<bool> skipped(posterior.hidden.size(), false);
  for (const HiddenId h : posterior.skipped) skipped[h.at()] = true;
  for (std::size_t h = 0; h < posterior.hidden.size(); ++h) {
    if (skipped[h]) continue;
    const mpq_class present = all.present(h) / all.evidence;
    CAPTURE(h);
    check_close(present, posterior.hidden[h].value(), "present");
    check_close(1 - present, posterior.hidden[h].complement(), "absent");
  }
}

void check_outcome(const Enumeration& all, const Outcome& outcome) {
  REQUIRE_FALSE(std::holds_alternative<TooWide>(outcome));
  CHECK(std::holds_alternative<Impossible>(outcome) == (all.evidence == 0));
  if (const auto* posterior = std::get_if<Posterior>(&outcome)) check_posterior(all, *posterior);
}

template <class Body>
void for_random_jobs(Body body) {
  for (const Shape& shape : shapes()) {
    for (unsigned seed = 0; seed < rounds; ++seed) {
      std::mt19937_64 random(seed);
      const Network network = make_network(random, shape.network);
      const Evidence evidence = make_evidence(random, network, shape.evidence);
      INFO(fmt::format("shape: {}, seed: {}", shape.name, seed));
      body(network, evidence, random);
    }
  }
}

TEST_CASE("posteriors are those of full enumeration") {
  for_random_jobs([](const Network& network, const Evidence& evidence, std::mt19937_64&) {
    const Enumeration all = enumerate(network, evidence);
    Solver solver(network);
    check_outcome(all, solver.solve(evidence));
    Solver thorough(network, {.search_effort = 50, .all_insides = true});
    const Outcome outcome = thorough.solve(evidence);
    check_outcome(all, outcome);
    if (const auto* posterior = std::get_if<Posterior>(&outcome)) CHECK(posterior->skipped.empty());
  });
}

TEST_CASE("splitting on hidden nodes changes no posterior") {
  for_random_jobs([](const Network& network, const Evidence& evidence, std::mt19937_64&) {
    Solver solver(network, {.all_insides = true, .forced_branches = 2});
    check_outcome(enumerate(network, evidence), solver.solve(evidence));
  });
}

const Posterior& posterior_of(const Outcome& outcome) { return std::get<Posterior>(outcome); }

void check_same(const Outcome& a, const Outcome& b) {
  REQUIRE(a.index() == b.index());
  if (std::holds_alternative<Impossible>(a)) return;
  CHECK(posterior_of(a).log_evidence == posterior_of(b).log_evidence);
  CHECK(posterior_of(a).hidden == posterior_of(b).hidden);
}

TEST_CASE("eight at a time gives bit for bit what one by one gives") {
  for_random_jobs([](const Network& network, const Evidence& evidence, std::mt19937_64& random) {
    std::vector<Evidence> many(11, evidence);
    for (std::size_t i = 1; i < many.size(); ++i)
      many[i].held.push_back(
          {HiddenId{static_cast<std::uint32_t>(random() % network.hidden.size())},
           random() % 2 == 0});
    Solver solver(network);
    const std::vector<Outcome> together = solver.solve_batch(many);
    const std::vector<LogEvidence> logs = solver.log_evidence_batch(many);
    REQUIRE(together.size() == many.size());
    for (std::size_t i = 0; i < many.size(); ++i) {
      check_same(together[i], solver.solve(many[i]));
      CHECK(logs[i].index() == solver.log_evidence(many[i]).index());
      if (const double* log = std::get_if<double>(&logs[i]))
        CHECK(*log == posterior_of(together[i]).log_evidence);
    }
  });
}

TEST_CASE("other numbers over the same plan give what a solver of their own gives") {
  for_random_jobs([](const Network& network, const Evidence& evidence, std::mt19937_64& random) {
    std::vector<Network> drawn(9, network);
    for (Network& n : drawn)
      for (Hidden& node : n.hidden)
        node.own = Probability::from(std::uniform_real_distribution<>(0, 1)(random)).value();
    Solver solver(network);
    const std::vector<Outcome> outcomes = solver.solve_networks(evidence, drawn);
    for (std::size_t i = 0; i < drawn.size(); ++i)
      check_same(outcomes[i], Solver(drawn[i]).solve(evidence));
  });
}

/// The same network with hidden nodes (parents still first), findings and links in another order.
struct Shuffled {
  Network network;
  Evidence evidence;
  std::vector<std::uint32_t> place;  // of each old hidden node
};

Shuffled shuffled(const Network& old, const Evidence& evidence, std::mt19937_64& random) {
  Shuffled result;
  std::vector<std::uint32_t> order;
  result.place.assign(old.hidden.size(), 0);
  std::vector<bool> done(old.hidden.size(), false);
  while (order.size() < old.hidden.size()) {
    const auto h = static_cast<std::uint32_t>(random() % old.hidden.size());
    const auto ready = [&](const HiddenLink& link) { return done[link.parent.at()]; };
    if (done[h] || !std::ranges::all_of(old.hidden[h].parents, ready)) continue;
    done[h] = true;
    result.place[h] = static_cast<std::uint32_t>(order.size());
    order.push_back(h);
  }
  const auto moved = [&](HiddenId h) { return HiddenId{result.place[h.at()]}; };
  for (const std::uint32_t h : order) {
    result.network.hidden.push_back(old.hidden[h]);
    auto& parents = result.network.hidden.back().parents;
    for (HiddenLink& link : parents) link.parent = moved(link.parent);
    std::ranges::shuffle(parents, random);
  }
  std::vector<std::uint32_t> findings(old.findings.size());
  std::iota(findings.begin(), findings.end(), 0U);
  std::ranges::shuffle(findings, random);
  result.evidence = evidence;
  for (std::uint32_t f = 0; f < findings.size(); ++f) {
    result.network.findings.push_back(old.findings[findings[f]]);
    auto& parents = result.network.findings.back().parents;
    for (FindingLink& link : parents) link.parent = moved(link.parent);
    std::ranges::shuffle(parents, random);
    for (std::size_t i = 0; i < evidence.findings.size(); ++i)
      if (evidence.findings[i].finding.index == findings[f])
        result.evidence.findings[i].finding = FindingId{f};
  }
  for (Held& held : result.evidence.held) held.hidden = moved(held.hidden);
  std::ranges::shuffle(result.evidence.findings, random);
  return result;
}

TEST_CASE("the order of nodes, findings and links changes nothing") {
  for_random_jobs([](const Network& network, const Evidence& evidence, std::mt19937_64& random) {
    const Shuffled other = shuffled(network, evidence, random);
    const Outcome a = Solver(network, {.all_insides = true}).solve(evidence);
    const Outcome b = Solver(other.network, {.all_insides = true}).solve(other.evidence);
    REQUIRE(a.index() == b.index());
    if (std::holds_alternative<Impossible>(a)) return;
    for (std::size_t h = 0; h < network.hidden.size(); ++h)
      CHECK(posterior_of(a).hidden[h].value() ==
            doctest::Approx(posterior_of(b).hidden[other.place[h]].value()).epsilon(1e-12));
  });
}

TEST_CASE("an observation that says nothing changes nothing") {
  for_random_jobs([](const Network& network, const Evidence& evidence, std::mt19937_64&) {
    std::vector<bool> seen(network.findings.size(), false);
    for (const Observation& o : evidence.findings) seen[o.finding.at()] = true;
    Evidence more = evidence;
    for (std::uint32_t f = 0; f < seen.size(); ++f)
      if (!seen[f])
        more.findings.push_back(
            {FindingId{f}, 0, static_cast<std::uint32_t>(network.findings[f].leak.size())});
    Solver solver(network);
    check_same(solver.solve(evidence), solver.solve(more));
  });
}

TEST_CASE("an order that starts from that of other evidence changes no posterior") {
  for_random_jobs([](const Network& network, const Evidence& evidence, std::mt19937_64& random) {
    Evidence other = evidence;
    std::erase_if(other.findings, [&](const Observation&) { return random() % 3 == 0; });
    Solver solver(network);
    solver.start_orders_from(other);
    const Outcome outcome = solver.solve(evidence);
    check_outcome(enumerate(network, evidence), outcome);
    Solver again(network);
    again.start_orders_from(other);
    check_same(again.solve(evidence), outcome);
  });
}

TEST_CASE("the chance that none of a group is present is that of enumeration") {
  for_random_jobs([](const Network& network, const Evidence& evidence, std::mt19937_64& random) {
    const std::size_t mask = random() % (std::size_t{1} << network.hidden.size());
    std::vector<HiddenId> group;
    for (std::uint32_t h = 0; h < network.hidden.size(); ++h)
      if ((mask >> h & 1U) != 0) group.push_back(HiddenId{h});
    const Enumeration all = enumerate(network, evidence);
    Solver solver(network);
    const LogEvidence whole = solver.log_evidence(evidence);
    const double* log = std::get_if<double>(&whole);
    REQUIRE((log != nullptr) == (all.evidence != 0));
    if (log == nullptr) return;
    const auto chance = chance_none(solver, evidence, *log, group);
    REQUIRE(chance.has_value());
    const mpq_class none = all.none_of(mask) / all.evidence;
    check_close(none, chance->value(), "none");
    check_close(1 - none, chance->complement(), "some");
  });
}

TEST_CASE("the most probable combinations are those of enumeration") {
  for_random_jobs([](const Network& network, const Evidence& evidence, std::mt19937_64&) {
    std::size_t mask = 0;
    for (std::size_t h = 0; h < network.hidden.size(); ++h)
      if (network.hidden[h].is_cause) mask |= std::size_t{1} << h;
    const Enumeration all = enumerate(network, evidence);
    const std::vector<mpq_class> by_set = all.exactly(mask);
    std::vector<mpq_class> expected;
    for (const mpq_class& weight : by_set)
      if (weight != 0) expected.push_back(weight / all.evidence);
    std::ranges::sort(expected, std::greater{});
    if (expected.size() > 6) expected.resize(6);

    Solver solver(network);
    const auto found = most_probable_combinations(solver, evidence, 6);
    REQUIRE(found.size() == expected.size());
    for (std::size_t i = 0; i < found.size(); ++i) {
      check_close(expected[i], found[i].chance, "in order of chance");
      std::size_t set = 0;
      for (const HiddenId h : found[i].causes) set |= std::size_t{1} << h.at();
      check_close(by_set[set] / all.evidence, found[i].chance, "this set's own chance");
    }
  });
}

bool impossible(const Network& network, const Evidence& evidence, std::size_t chosen) {
  Evidence some{.findings = {}, .held = evidence.held};
  for (std::size_t i = 0; i < evidence.findings.size(); ++i)
    if ((chosen >> i & 1U) != 0) some.findings.push_back(evidence.findings[i]);
  return enumerate(network, some).evidence == 0;
}

TEST_CASE("findings that clash are a smallest set that is impossible together") {
  const NetworkShape shape{.hidden = 4, .findings = 5, .grades = 2, .chance_of_extremes = 0.5};
  unsigned clashes = 0;
  for (unsigned seed = 0; seed < rounds; ++seed) {
    std::mt19937_64 random(seed);
    const Network network = make_network(random, shape);
    const Evidence evidence = make_evidence(random, network, {.observed = 0.9});
    INFO(fmt::format("seed: {}", seed));
    const std::size_t sets = std::size_t{1} << evidence.findings.size();
    std::size_t smallest = evidence.findings.size() + 1;
    for (std::size_t s = 0; s < sets; ++s)
      if (impossible(network, evidence, s))
        smallest = std::min(smallest, static_cast<std::size_t>(__builtin_popcountll(s)));
    Solver solver(network);
    const std::vector<FindingId> found = clashing_findings(solver, evidence);
    if (smallest > evidence.findings.size()) {
      CHECK(found.empty());
      continue;
    }
    ++clashes;
    std::size_t chosen = 0;
    for (std::size_t i = 0; i < evidence.findings.size(); ++i)
      if (std::ranges::count(found, evidence.findings[i].finding) > 0)
        chosen |= std::size_t{1} << i;
    CHECK(impossible(network, evidence, chosen));
    CHECK(found.size() == smallest);
  }
  CHECK(clashes > rounds / 10);  // or nothing was tested
}

}  // namespace
}  // namespace slipcase::test

// Batches give the same figures on any number of threads, and a search that leads nowhere ends.
#include <algorithm>
#include <random>
#include <vector>

#include <doctest/doctest.h>

#include "network/combinations.h"
#include "network/share_out.h"
#include "network/solver.h"
#include "support/network_maker.h"

namespace slipcase::network {
namespace {

void check_same(const Outcome& a, const Outcome& b) {
  REQUIRE(a.index() == b.index());
  const auto* one = std::get_if<Posterior>(&a);
  if (one == nullptr) return;
  const auto& other = std::get<Posterior>(b);
  CHECK(one->log_evidence == other.log_evidence);
  REQUIRE(one->hidden.size() == other.hidden.size());
  for (std::size_t h = 0; h < one->hidden.size(); ++h) {
    CHECK(one->hidden[h].value() == other.hidden[h].value());
    CHECK(one->hidden[h].complement() == other.hidden[h].complement());
  }
}

TEST_CASE("every task is done once, whatever the hands") {
  for (const unsigned hands : {1U, 2U, 5U}) {
    std::vector<unsigned> done_by(100, hands);
    std::vector<int> done(100, 0);
    share_out(done.size(), hands, [&](std::size_t i, unsigned hand) {
      done_by[i] = hand;
      ++done[i];
    });
    CHECK(done == std::vector<int>(100, 1));
    CHECK(*std::max_element(done_by.begin(), done_by.end()) < hands);
  }
  share_out(0, 4, [](std::size_t, unsigned) { FAIL("there is nothing to do"); });
}

// Invented random networks; wide enough that orders and sweeps are shared out.
TEST_CASE("a batch gives bit for bit the same on one thread and on four") {
  std::mt19937_64 random(20311128);
  const Network net = test::make_network(random, {.hidden = 45,
                                                  .findings = 80,
                                                  .grades = 2,
                                                  .chance_of_parents = 0.3,
                                                  .chance_of_extremes = 0.0});
  std::vector<Evidence> questions;
  for (int shape = 0; shape < 12; ++shape) {
    const Evidence evidence = test::make_evidence(random, net, {.observed = 0.5, .positive = 0.3});
    for (int times = 0; times < 5; ++times) questions.push_back(evidence);
  }
  Solver alone(net, {.threads = 1});
  Solver together(net, {.threads = 4});
  for (int round = 0; round < 2; ++round) {  // the second finds all orders known
    const auto expected = alone.solve_batch(questions);
    const auto got = together.solve_batch(questions);
    REQUIRE(got.size() == questions.size());
    for (std::size_t i = 0; i < got.size(); ++i) check_same(expected[i], got[i]);
  }
  const auto logs = alone.log_evidence_batch(questions);
  const auto same_logs = together.log_evidence_batch(questions);
  for (std::size_t i = 0; i < logs.size(); ++i) {
    REQUIRE(logs[i].index() == same_logs[i].index());
    if (const double* log = std::get_if<double>(&logs[i]))
      CHECK(*log == std::get<double>(same_logs[i]));
  }
}

// Sixty causes that explain the same ten findings about as well: no combination stands out.
TEST_CASE("the search for combinations ends where none stands out") {
  std::mt19937_64 random(60);
  const auto share = [](double x) { return Probability::from(x).value(); };
  std::uniform_int_distribution<int> tenths(2, 9);
  Network net;
  for (int h = 0; h < 60; ++h) net.hidden.push_back({.own = share(0.05), .parents = {}});
  Evidence evidence;
  for (std::uint32_t f = 0; f < 10; ++f) {
    Finding finding{.leak = {share(0.02)}, .parents = {}};
    for (std::uint32_t h = f % 2; h < 60; h += 2)
      finding.parents.push_back({HiddenId{h}, {share(tenths(random) / 10.0)}});
    net.findings.push_back(finding);
    evidence.findings.push_back({FindingId{f}, 1, 1});
  }
  Solver solver(net);
  const auto found = most_probable_combinations(solver, evidence, 100000);
  CHECK(found.size() < 100000);
  for (std::size_t i = 1; i < found.size(); ++i) CHECK(found[i].chance <= found[i - 1].chance);
}

}  // namespace
}  // namespace slipcase::network

// Hand-sized networks (invented), and the edges of the interface.
#include "network/solver.h"

#include <cmath>
#include <limits>
#include <stdexcept>

#include <doctest/doctest.h>

#include "network/clash.h"
#include "network/combinations.h"

namespace slipcase::network {
namespace {

Probability p(double x) { return Probability::from(x).value(); }

Network one_cause_one_finding(double prior, double fire, double leak) {
  Network net;
  net.hidden.push_back({.own = p(prior), .parents = {}});
  net.findings.push_back({.leak = {p(leak)}, .parents = {{HiddenId{0}, {p(fire)}}}});
  return net;
}

Posterior solved(const Network& net, const Evidence& evidence, SolverOptions options = {}) {
  Solver solver(net, options);
  return std::get<Posterior>(solver.solve(evidence));
}

const Evidence seen{.findings = {{FindingId{0}, 1, 1}}, .held = {}};
const Evidence not_seen{.findings = {{FindingId{0}, 0, 0}}, .held = {}};

TEST_CASE("one cause and one finding is Bayes' rule") {
  const Network net = one_cause_one_finding(0.2, 0.75, 0.1);
  // Seen with the cause in 0.775, without it in 0.1 of jobs.
  const double with = 0.2 * 0.775;
  const double without = 0.8 * 0.1;
  const Posterior posterior = solved(net, seen);
  CHECK(posterior.hidden[0].value() == doctest::Approx(with / (with + without)).epsilon(1e-15));
  CHECK(posterior.log_evidence == doctest::Approx(std::log(with + without)).epsilon(1e-15));
  const Posterior other = solved(net, not_seen);
  CHECK(other.hidden[0].value() == doctest::Approx(0.045 / (0.045 + 0.72)).epsilon(1e-15));
}

TEST_CASE("nothing known leaves the own rates") {
  const Posterior posterior = solved(one_cause_one_finding(0.2, 0.75, 0.1), {});
  CHECK(posterior.hidden[0].value() == doctest::Approx(0.2).epsilon(1e-15));
  CHECK(posterior.log_evidence == doctest::Approx(0.0));
}

TEST_CASE("a tiny chance keeps its digits, and so does the complement of a chance near one") {
  const Network net = one_cause_one_finding(1e-12, 0.5, 1e-9);
  const double with = 1e-12 * (0.5 + 0.5 * 1e-9);
  const double without = (1 - 1e-12) * 1e-9;
  CHECK(solved(net, seen).hidden[0].value() ==
        doctest::Approx(with / (with + without)).epsilon(1e-14));
  Network sure = one_cause_one_finding(0.5, 0.5, 1e-13);
  CHECK(solved(sure, seen).hidden[0].complement() ==
        doctest::Approx(1e-13 / (0.5 + 1e-13 + 0.5e-13)).epsilon(1e-12));
}

TEST_CASE("a middle grade of a rarely showing cause keeps its digits") {
  // P(grade 1 exactly) = (1 - 1e-13) * ... - (1 - 3e-13) * ...: a plain difference keeps two
  // digits.
  Network net;
  net.hidden.push_back({.own = p(0.5), .parents = {}});
  net.findings.push_back(
      {.leak = {p(3e-13), p(1e-13)}, .parents = {{HiddenId{0}, {p(5e-13), p(2e-13)}}}});
  const Posterior posterior = solved(net, {.findings = {{FindingId{0}, 1, 1}}, .held = {}});
  // To first order: 2e-13 without the cause, 2e-13 + 3e-13 with it.
  CHECK(posterior.hidden[0].value() == doctest::Approx(5.0 / 7.0).epsilon(1e-11));
}

TEST_CASE("thousands of findings do not underflow") {
  Network net;
  net.hidden.push_back({.own = p(0.5), .parents = {}});
  Evidence evidence;
  for (std::uint32_t f = 0; f < 4000; ++f) {
    net.findings.push_back({.leak = {p(0.001)}, .parents = {{HiddenId{0}, {p(0.0001)}}}});
    evidence.findings.push_back({FindingId{f}, f % 2, f % 2});
  }
  const Posterior posterior = solved(net, evidence);
  const double absent = 2000 * (std::log(0.001) + std::log(0.999));
  const double present =
      2000 * (std::log(0.001 + 0.999 * 0.0001) + std::log(0.999) + std::log(0.9999));
  CHECK(posterior.log_evidence == doctest::Approx(present + std::log(0.5)).epsilon(1e-12));
  CHECK(std::log(posterior.hidden[0].complement()) ==
        doctest::Approx(absent - present).epsilon(1e-10));
}

TEST_CASE("evidence with chance zero is impossible, and the finding is named") {
  const Network net = one_cause_one_finding(0.0, 1.0, 0.0);
  Solver solver(net);
  CHECK(std::holds_alternative<Impossible>(solver.solve(seen)));
  CHECK(std::holds_alternative<Impossible>(solver.log_evidence(seen)));
  CHECK(clashing_findings(solver, seen) == std::vector{FindingId{0}});
  CHECK(clashing_findings(solver, not_seen).empty());
  CHECK(most_probable_combinations(solver, seen, 3).empty());
  const double never = -std::numeric_limits<double>::infinity();
  CHECK_FALSE(chance_none(solver, seen, never, std::vector{HiddenId{0}}).has_value());
}

TEST_CASE("what is held both ways is impossible; held twice the same way is held once") {
  Solver solver(one_cause_one_finding(0.2, 0.75, 0.1));
  Evidence both{.findings = {}, .held = {{HiddenId{0}, true}, {HiddenId{0}, false}}};
  CHECK(std::holds_alternative<Impossible>(solver.solve(both)));
  Evidence twice{.findings = {}, .held = {{HiddenId{0}, true}, {HiddenId{0}, true}}};
  CHECK(std::get<Posterior>(solver.solve(twice)).log_evidence ==
        doctest::Approx(std::log(0.2)).epsilon(1e-15));
}

TEST_CASE("a network or evidence that names what is not there is a bug of the caller") {
  Solver solver(one_cause_one_finding(0.2, 0.75, 0.1));
  CHECK_THROWS_AS((void)solver.solve({.findings = {{FindingId{1}, 1, 1}}, .held = {}}),
                  std::invalid_argument);
  CHECK_THROWS_AS((void)solver.solve({.findings = {{FindingId{0}, 1, 2}}, .held = {}}),
                  std::invalid_argument);
  CHECK_THROWS_AS((void)solver.solve({.findings = {}, .held = {{HiddenId{1}, true}}}),
                  std::invalid_argument);
  Network cycle;
  cycle.hidden.push_back({.own = p(0.1), .parents = {{HiddenId{0}, p(0.1)}}});
  CHECK_THROWS_AS(Solver{cycle}, std::invalid_argument);
}

/// Every finding hangs on every cause: the width is the number of positives.
Network dense(std::uint32_t causes, std::uint32_t findings) {
  Network net;
  for (std::uint32_t h = 0; h < causes; ++h)
    net.hidden.push_back({.own = p(0.01 + 0.001 * h), .parents = {}});
  for (std::uint32_t f = 0; f < findings; ++f) {
    net.findings.push_back({.leak = {p(0.01)}, .parents = {}});
    for (std::uint32_t h = 0; h < causes; ++h)
      net.findings.back().parents.push_back({HiddenId{h}, {p(0.05 + 0.01 * ((h + f) % 40))}});
  }
  return net;
}

Evidence all_positive(std::uint32_t findings) {
  Evidence evidence;
  for (std::uint32_t f = 0; f < findings; ++f) evidence.findings.push_back({FindingId{f}, 1, 1});
  return evidence;
}

TEST_CASE("a job too wide for the memory is refused, and says how wide it is") {
  Solver solver(dense(60, 45), {.memory_bytes = 1 << 20});
  const Outcome outcome = solver.solve(all_positive(45));
  REQUIRE(std::holds_alternative<TooWide>(outcome));
  CHECK(std::get<TooWide>(outcome).width > 30);
  CHECK(std::get<TooWide>(outcome).bytes_needed > 1 << 20);
  CHECK(std::holds_alternative<TooWide>(solver.log_evidence(all_positive(45))));
}

TEST_CASE("with less memory a job is split, and gives the same") {
  const Network net = dense(20, 12);
  Solver roomy(net);
  const PlanInfo plan = roomy.plan_info(all_positive(12));
  CHECK_FALSE(plan.branches);
  Solver tight(net, {.memory_bytes = static_cast<std::size_t>(plan.bytes * 0.9)});
  CHECK(tight.plan_info(all_positive(12)).branches);
  const Posterior a = std::get<Posterior>(roomy.solve(all_positive(12)));
  const Posterior b = std::get<Posterior>(tight.solve(all_positive(12)));
  for (std::size_t h = 0; h < a.hidden.size(); ++h)
    CHECK(a.hidden[h].value() == doctest::Approx(b.hidden[h].value()).epsilon(1e-12));
}

TEST_CASE("parts of a network that do not touch do not add up in width") {
  Network net;
  Evidence evidence;
  for (std::uint32_t part = 0; part < 30; ++part) {
    const auto first = static_cast<std::uint32_t>(net.hidden.size());
    for (int i = 0; i < 3; ++i) net.hidden.push_back({.own = p(0.1), .parents = {}});
    for (std::uint32_t f = 0; f < 2; ++f) {
      evidence.findings.push_back(
          {FindingId{static_cast<std::uint32_t>(net.findings.size())}, 1, 1});
      net.findings.push_back({.leak = {p(0.1)},
                              .parents = {{HiddenId{first}, {p(0.5)}},
                                          {HiddenId{first + 1}, {p(0.3)}},
                                          {HiddenId{first + 2}, {p(0.2)}}}});
    }
  }
  CHECK(solved(net, evidence).width <= 3);
}

}  // namespace
}  // namespace slipcase::network

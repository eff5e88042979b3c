// The chance that a repair ends a complaint, on invented random networks, against full enumeration:
// every node absent, there through what was cured alone, or there through what stays.
#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include <doctest/doctest.h>
#include <gmpxx.h>

#include "network/aftermath.h"
#include "network/cure.h"
#include "network/solver.h"
#include "support/network_maker.h"

namespace slipcase::test {
namespace {

using namespace network;

enum class Part : std::uint8_t { absent, cured, left };

class CureReferee {
 public:
  CureReferee(const Network& network, const Evidence& evidence, const std::vector<Cure>& cures,
              const std::vector<FindingId>& complaint)
      : network_(network),
        evidence_(evidence),
        part_(network.hidden.size(), Part::absent),
        succeeds_(network.hidden.size(), 0),
        complains_(network.findings.size(), false) {
    for (const Cure& cure : cures) succeeds_[cure.cause.at()] = cure.succeeds.value();
    for (const FindingId f : complaint) complains_[f.at()] = true;
  }

  mpq_class chance_of_evidence() { return sum(0, 1, false); }
  mpq_class chance_of_evidence_and_end() { return sum(0, 1, true); }
  /// The evidence, the complaint not ended and, if given, this node left.
  mpq_class chance_of_evidence_and_no_end(std::optional<std::size_t> left = {}) {
    must_be_left_ = left;
    const mpq_class result = chance_of_evidence() - chance_of_evidence_and_end();
    must_be_left_.reset();
    return result;
  }

 private:
  template <class Links, class Which, class Pass>
  mpq_class passed(const Links& links, Which which, Pass pass) const {
    mpq_class product = 1;
    for (const auto& link : links)
      if (which(part_[link.parent.at()])) product *= pass(link);
    return product;
  }

  std::array<mpq_class, 3> parts_of(std::size_t h) const {
    const Hidden& node = network_.hidden[h];
    const auto pass = [](const HiddenLink& link) -> mpq_class { return link.fire.complement(); };
    const mpq_class own = node.own.complement();
    const mpq_class absent =
        own * passed(
                  node.parents, [](Part p) { return p != Part::absent; }, pass);
    if (node.is_cause) {
      const mpq_class present = 1 - absent;
      return {absent, present * succeeds_[h], present * (1 - succeeds_[h])};
    }
    const mpq_class left =
        1 - own * passed(
                      node.parents, [](Part p) { return p == Part::left; }, pass);
    return {absent, 1 - absent - left, left};
  }

  mpq_class below(const Finding& finding, std::size_t grade, bool with_leak, auto which) const {
    if (grade == 0) return 0;
    if (grade > finding.leak.size()) return 1;
    mpq_class result = 1;
    if (with_leak) result = finding.leak[grade - 1].complement();
    return result * passed(finding.parents, which, [&](const FindingLink& link) -> mpq_class {
             return link.fire[grade - 1].complement();
           });
  }

  mpq_class weight_of(const Observation& seen, bool ended) const {
    const Finding& finding = network_.findings[seen.finding.at()];
    const auto between = [&](bool with_leak, auto which) -> mpq_class {
      return below(finding, seen.at_most + 1, with_leak, which) -
             below(finding, seen.at_least, with_leak, which);
    };
    if (!ended || !complains_[seen.finding.at()] || seen.at_least == 0)
      return between(true, [](Part p) { return p != Part::absent; });
    return below(finding, 1, true, [](Part p) { return p == Part::left; }) *
           between(false, [](Part p) { return p == Part::cured; });
  }

  mpq_class sum(std::size_t h, const mpq_class& weight, bool ended) {
    if (weight == 0) return 0;
    if (h == network_.hidden.size()) {
      mpq_class result = weight;
      for (const Observation& seen : evidence_.findings) result *= weight_of(seen, ended);
      return result;
    }
    const auto parts = parts_of(h);
    mpq_class result = 0;
    for (std::size_t p = 0; p < parts.size(); ++p) {
      part_[h] = static_cast<Part>(p);
      if (must_be_left_ == h && part_[h] != Part::left) continue;
      result += sum(h + 1, weight * parts[p], ended);
    }
    part_[h] = Part::absent;
    return result;
  }

  const Network& network_;
  const Evidence& evidence_;
  std::vector<Part> part_;
  std::vector<mpq_class> succeeds_;
  std::vector<bool> complains_;
  std::optional<std::size_t> must_be_left_;
};

std::vector<Cure> some_cures(std::mt19937_64& random, const Network& network) {
  std::vector<Cure> cures;
  for (std::uint32_t h = 0; h < network.hidden.size(); ++h) {
    if (!network.hidden[h].is_cause || random() % 2 == 0) continue;
    const auto eighths = random() % 3 == 0 ? random() % 9 : 8;
    cures.push_back({HiddenId{h}, Probability::from_count(eighths, 8).value()});
  }
  return cures;
}

std::vector<FindingId> some_complaint(std::mt19937_64& random, const Evidence& evidence) {
  std::vector<FindingId> complaint;
  for (const Observation& seen : evidence.findings)
    if (random() % 2 == 0) complaint.push_back(seen.finding);
  return complaint;
}

constexpr std::array<NetworkShape, 3> cure_shapes{
    NetworkShape{.hidden = 6, .findings = 5},
    NetworkShape{.hidden = 7, .findings = 5, .chance_of_parents = 0.8, .chance_of_inside = 0.6},
    NetworkShape{
        .hidden = 6, .findings = 4, .grades = 3, .chance_of_parents = 0.7, .chance_of_inside = 0.5},
};

/// Causes have no insides above them in the rules.
void keep_causes_above_insides(Network& network) {
  for (Hidden& node : network.hidden)
    if (node.is_cause)
      std::erase_if(node.parents, [&](const HiddenLink& link) {
        return !network.hidden[link.parent.at()].is_cause;
      });
}

TEST_CASE("the chance that a repair ends the complaint is that of enumeration") {
  std::size_t possible = 0;
  for (const NetworkShape& shape : cure_shapes) {
    for (unsigned seed = 0; seed < 60; ++seed) {
      CAPTURE(seed);
      std::mt19937_64 random(seed);
      Network network = make_network(random, shape);
      keep_causes_above_insides(network);
      const Evidence evidence = make_evidence(random, network, {.observed = 0.9, .positive = 0.6});
      const std::vector<Cure> cures = some_cures(random, network);
      const std::vector<FindingId> complaint = some_complaint(random, evidence);

      CureReferee referee(network, evidence, cures, complaint);
      const mpq_class ended = referee.chance_of_evidence_and_end();
      const CureQuestion question = ended_by(network, evidence.findings, cures, complaint);
      Solver solver(question.network);
      const LogEvidence found = solver.log_evidence(question.evidence);
      CHECK(std::holds_alternative<Impossible>(found) == (ended == 0));
      if (const double* log = std::get_if<double>(&found)) {
        ++possible;
        CHECK(std::exp(*log) == doctest::Approx(ended.get_d()).epsilon(1e-12));
        CHECK(ended <= referee.chance_of_evidence());
      }
    }
  }
  CHECK(possible > 60);
}

TEST_CASE("curing more never lowers the chance that the complaint ends") {
  for (unsigned seed = 0; seed < 200; ++seed) {
    CAPTURE(seed);
    std::mt19937_64 random(seed);
    Network network = make_network(random, cure_shapes[1 + seed % 2]);
    keep_causes_above_insides(network);
    const Evidence evidence = make_evidence(random, network, {.observed = 0.9, .positive = 0.6});
    std::vector<Cure> cures = some_cures(random, network);
    const std::vector<FindingId> complaint = some_complaint(random, evidence);
    const auto chance = [&] {
      const CureQuestion question = ended_by(network, evidence.findings, cures, complaint);
      const LogEvidence found = Solver(question.network).log_evidence(question.evidence);
      const double* log = std::get_if<double>(&found);
      return log == nullptr ? 0.0 : std::exp(*log);
    };
    const double more = chance();
    while (!cures.empty()) {
      cures.pop_back();
      CHECK(chance() <= more * (1 + 1e-12));
    }
  }
}

/// An invented network, what is known, and repairs that did not end the complaint; without any in
/// some cases.
struct AfterRepairs {
  Network network;
  Evidence evidence;
  FailedRepairs failed;
};
AfterRepairs after_repairs(unsigned seed, const NetworkShape& shape) {
  std::mt19937_64 random(seed);
  AfterRepairs made{make_network(random, shape), {}, {}};
  keep_causes_above_insides(made.network);
  if (seed % 3 == 0)  // then a sure cure of all that can have made it is refuted
    for (Finding& finding : made.network.findings)
      finding.leak.assign(finding.leak.size(), Probability::never());
  made.evidence = make_evidence(random, made.network, {.observed = 0.9, .positive = 0.6});
  made.failed.cures = some_cures(random, made.network);
  const std::vector<FindingId> complaint = some_complaint(random, made.evidence);
  for (const Observation& seen : made.evidence.findings)
    if (seen.at_least > 0 && std::ranges::find(complaint, seen.finding) != complaint.end())
      made.failed.complaint.push_back(seen.finding);
  return made;
}

TEST_CASE("what is there after repairs that did not help is that of enumeration") {
  std::size_t possible = 0;
  std::size_t impossible = 0;
  for (const NetworkShape& shape : cure_shapes) {
    for (unsigned seed = 0; seed < 60; ++seed) {
      CAPTURE(seed);
      auto [network, evidence, failed] = after_repairs(seed, shape);
      if (failed.empty()) continue;

      CureReferee referee(network, evidence, failed.cures, failed.complaint);
      const mpq_class chance = referee.chance_of_evidence_and_no_end();
      Solver solver(network, failed);
      evidence.complaint_stayed = true;
      const Outcome outcome = solver.solve(evidence);
      CHECK(std::holds_alternative<Impossible>(outcome) == (chance == 0));
      const auto* found = std::get_if<Posterior>(&outcome);
      if (found == nullptr) {
        ++impossible;
        continue;
      }
      ++possible;
      CHECK(std::exp(found->log_evidence) == doctest::Approx(chance.get_d()).epsilon(1e-12));
      for (std::uint32_t h = 0; h < network.hidden.size(); ++h) {
        if (!network.hidden[h].is_cause) continue;
        const mpq_class left = referee.chance_of_evidence_and_no_end(h) / chance;
        CHECK(found->hidden[h].value() == doctest::Approx(left.get_d()).epsilon(1e-11));
      }
    }
  }
  CHECK(possible > 60);
  CHECK(impossible > 5);
}

TEST_CASE("after repairs a solver takes networks, flat numbers and held causes as ever") {
  for (unsigned seed = 0; seed < 60; ++seed) {
    CAPTURE(seed);
    auto [network, evidence, failed] = after_repairs(seed, cure_shapes[1 + seed % 2]);
    if (failed.empty()) continue;
    evidence.complaint_stayed = true;
    Solver solver(network, failed);
    const Outcome whole = solver.solve(evidence);
    const auto* posterior = std::get_if<Posterior>(&whole);
    if (posterior == nullptr) continue;
    for (Hidden& node : network.hidden) node.own = node.own.with_odds_times(0.5);
    const Outcome fresh = Solver(network, failed).solve(evidence);
    const std::array<Outcome, 2> again{
        solver.solve_networks(evidence, {&network, 1}).front(),
        solver.solve_numbers(evidence, std::array{read_numbers(solver.wiring(), network)}).front()};
    for (const Outcome& other : again) {
      REQUIRE(other.index() == fresh.index());
      if (const auto* now = std::get_if<Posterior>(&other))
        CHECK(now->log_evidence ==
              doctest::Approx(std::get<Posterior>(fresh).log_evidence).epsilon(1e-12));
    }
    for (std::uint32_t h = 0; h < network.hidden.size(); ++h) {
      if (!network.hidden[h].is_cause) continue;
      Evidence with = evidence;
      with.held.push_back({HiddenId{h}, true});
      const LogEvidence log = solver.log_evidence(with);
      const double* value = std::get_if<double>(&log);
      const double share = value == nullptr ? 0.0 : std::exp(*value - posterior->log_evidence);
      CHECK(share == doctest::Approx(posterior->hidden[h].value()).epsilon(1e-11));
    }
  }
}

}  // namespace
}  // namespace slipcase::test

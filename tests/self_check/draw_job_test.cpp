// The sampler against chances that can be worked out on paper.

#include "self_check/draw_job.h"

#include <cmath>

#include <doctest/doctest.h>

namespace {

using namespace slipcase::network;

slipcase::Probability one_in(unsigned n) { return slipcase::Probability::from_count(1, n).value(); }

/// A cause, a second that the first makes or that comes by itself, a third that the first blocks;
/// a finding of two grades.
Network small_network() {
  Network network;
  network.hidden = {{one_in(2), {}, true},
                    {one_in(4), {{HiddenId{0}, one_in(2), false}}, true},
                    {one_in(2), {{HiddenId{0}, slipcase::Probability::never(), true}}, true}};
  network.findings = {{{one_in(8), one_in(16)}, {{HiddenId{1}, {one_in(2), one_in(4)}}}}};
  return network;
}

constexpr int draws = 40000;

void check_share(int hits, double expected) {
  const double off_by = std::fabs(hits / double{draws} - expected);
  CHECK(off_by < 4.0 * std::sqrt(expected * (1.0 - expected) / draws));
}

}  // namespace

TEST_CASE("a drawn job has each node and grade as often as the forms say") {
  const Network network = small_network();
  self_check::Random random(1);
  int second = 0, third = 0, blocked = 0, weak = 0, strong = 0;
  for (int i = 0; i < draws; ++i) {
    const auto job = self_check::draw_job(network, random);
    second += job.present[1];
    third += job.present[2];
    weak += job.grades[0] >= 1;
    strong += job.grades[0] >= 2;
    blocked += job.present[0] && job.present[2];
  }
  CHECK(blocked == 0);
  const double p = 1.0 - 0.75 * 0.75;  // own 1/4; made by the first, there in 1/2, in 1/2
  check_share(second, p);
  check_share(third, 0.25);
  check_share(weak, 1.0 - 7.0 / 8.0 * (1.0 - p / 2.0));
  check_share(strong, 1.0 - 15.0 / 16.0 * (1.0 - p / 4.0));
}

TEST_CASE("a job drawn with one cause has no other") {
  self_check::Random random(1);
  for (int i = 0; i < 100; ++i) {
    const auto job = self_check::draw_job_with_only(small_network(), HiddenId{1}, random);
    CHECK(job.present == std::vector<bool>{false, true, false});
  }
}

#include "network/coefficients.h"

#include <algorithm>

namespace slipcase::network {
namespace {

/// fire and pass of one link under an observation, both halves kept.
struct LinkNumbers {
  double pass = 1.0;
  double fire = 0.0;
};

/// Reads numbers of findings under an observation; grade g of network.h (0 = weakest) is 1 here.
class FindingReader {
 public:
  FindingReader(const Wiring& wiring, const Numbers& numbers, const Sighting& seen)
      : numbers_(numbers),
        seen_(seen),
        leaks_(wiring.leak_begin[seen.finding]),
        links_(wiring.link_begin[seen.finding + 1] - wiring.link_begin[seen.finding]),
        first_link_(wiring.number_begin[seen.finding]),
        capped_(seen.at_most < wiring.grades[seen.finding]) {}

  /// The rate of the positive part: reaching at_least, given that at_most is not passed.
  [[nodiscard]] LinkNumbers leak() const {
    return ratio(numbers_.leak_yes, numbers_.leak_no, leaks_ + seen_.at_least - 1,
                 leaks_ + seen_.at_most);
  }
  [[nodiscard]] LinkNumbers link(std::size_t position) const {
    return ratio(numbers_.link_fire, numbers_.link_pass, at(seen_.at_least - 1) + position,
                 at(seen_.at_most) + position);
  }
  /// The absent part: no grade above at_most.
  [[nodiscard]] double absent_leak() const { return numbers_.leak_no[leaks_ + seen_.at_most]; }
  [[nodiscard]] const double* absent_links() const {
    return numbers_.link_pass.data() + at(seen_.at_most);
  }

 private:
  [[nodiscard]] std::size_t at(std::size_t grade) const { return first_link_ + grade * links_; }

  [[nodiscard]] LinkNumbers ratio(const std::vector<double>& fire, const std::vector<double>& pass,
                                  std::size_t lower, std::size_t upper) const {
    if (!capped_) return {pass[lower], fire[lower]};
    if (!(pass[upper] > 0.0)) return {};  // such a parent is ruled out by the absent part
    // The difference of the two given numbers that are small keeps the most digits.
    const double gap =
        fire[lower] <= pass[upper] ? fire[lower] - fire[upper] : pass[upper] - pass[lower];
    return {std::min(1.0, pass[lower] / pass[upper]), std::max(0.0, gap) / pass[upper]};
  }

  const Numbers& numbers_;
  const Sighting& seen_;
  std::size_t leaks_;
  std::size_t links_;
  std::size_t first_link_;
  bool capped_;
};

/// Weights scaled to add up to one; the sum goes into the constant.
Pair<double> scaled_to_one(Pair<double> weights, Scaled& constant) {
  const double sum = weights.no + weights.yes;
  constant.times(sum);
  if (!(sum > 0.0)) return {0.0, 0.0};
  return {weights.no / sum, weights.yes / sum};
}

/// A parent known to be present.
void fire_by(const LinkNumbers& link, Pair<double>& rate) {
  rate.yes += rate.no * link.fire;
  rate.no *= link.pass;
}

class Filler {
 public:
  Filler(const Program& program, const Wiring& wiring, const Numbers& numbers,
         const Situation& situation, std::vector<double>& weight, Scaled& constant)
      : structure_(program.structure),
        wiring_(wiring),
        numbers_(numbers),
        situation_(situation),
        weight_(weight),
        constant_(constant) {}

  void weigh_absences() {
    weight_.assign(wiring_.hidden_count(), 1.0);
    for (const Sighting& seen : situation_.absences) {
      const FindingReader reader(wiring_, numbers_, seen);
      constant_.times(reader.absent_leak());
      const double* pass = reader.absent_links();
      for (const std::uint32_t p : wiring_.parents_of_finding(seen.finding)) weight_[p] *= *pass++;
    }
    for (const std::uint32_t h : structure_.branch_absent) {
      const double* pass = numbers_.hidden_pass.data() + wiring_.parent_begin[h];
      for (const std::uint32_t p : wiring_.parents_of_hidden(h)) weight_[p] *= *pass++;
    }
  }

  void settle_branches() {
    for (std::size_t h = 0; h < wiring_.hidden_count(); ++h) {
      if (situation_.role[h] == Role::branch_absent) constant_.times(numbers_.own_no[h]);
      if (situation_.role[h] != Role::branch_present) continue;
      constant_.times(weight_[h]);
      if (wiring_.is_root(h)) constant_.times(numbers_.own_yes[h]);
    }
  }

  /// Weighs the one parent (if any) of each plain positive: seen without it, seen with it.
  void weigh_plain(std::vector<Pair<double>>& states) {
    for (const std::uint32_t i : structure_.plain) {
      const Sighting& seen = situation_.positives[i];
      const FindingReader reader(wiring_, numbers_, seen);
      Pair<double> rate{reader.leak().pass, reader.leak().fire};
      std::uint32_t parent = none;
      LinkNumbers of_parent;
      std::size_t position = 0;
      for (const std::uint32_t p : wiring_.parents_of_finding(seen.finding)) {
        const Role role = situation_.role[p];
        const LinkNumbers link = reader.link(position++);
        if (role == Role::branch_absent) continue;
        if (role == Role::branch_present) {
          fire_by(link, rate);
        } else {
          parent = p;
          of_parent = link;
        }
      }
      if (parent == none) {
        constant_.times(rate.yes);
      } else {
        Pair<double>& state = states[parent];
        state.no *= rate.yes;
        state.yes *= rate.yes + rate.no * of_parent.fire;
        state = scaled_to_one(state, constant_);
      }
    }
  }

  [[nodiscard]] LinkNumbers link(LinkRef ref) const {
    const Target& target = structure_.targets[ref.target];
    if (target.is_finding)
      return FindingReader(wiring_, numbers_, situation_.positives[target.id]).link(ref.position);
    const std::size_t at = wiring_.parent_begin[target.id] + ref.position;
    return {numbers_.hidden_pass[at], numbers_.hidden_fire[at]};
  }

  [[nodiscard]] Pair<double> own_rate(const Target& target) const {
    if (!target.is_finding) return {numbers_.own_no[target.id], numbers_.own_yes[target.id]};
    const LinkNumbers leak =
        FindingReader(wiring_, numbers_, situation_.positives[target.id]).leak();
    return {leak.pass, leak.fire};
  }

 private:
  const Structure& structure_;
  const Wiring& wiring_;
  const Numbers& numbers_;
  const Situation& situation_;
  std::vector<double>& weight_;
  Scaled& constant_;
};

/// A present member fires its targets: v is a distribution over fired sets.
template <class Lane>
void fire_member(const Coefficients<Lane>& c, const Member& member, std::size_t size, Lane* v) {
  for (std::size_t i = 0; i < size; ++i) {
    if (member.link[i] == none) continue;
    const Lane& pass = c.pass[member.link[i]];
    const Lane& fire = c.fire[member.link[i]];
    for (std::size_t set = 0; set < (std::size_t{1} << size); ++set) {
      const std::size_t bit = std::size_t{1} << i;
      if ((set & bit) != 0) continue;
      v[set | bit] += v[set] * fire;
      v[set] *= pass;
    }
  }
}

template <class Lane>
void combine_bundle(Coefficients<Lane>& c, const Structure& structure, const Bundle& bundle,
                    BundleNumbers<Lane>& out) {
  const std::size_t sets = std::size_t{1} << bundle.size;
  out.before.assign((bundle.members.size() + 1) * sets, filled<Lane>(0.0));
  out.before[0] = filled<Lane>(1.0);
  for (std::uint32_t m = 0; m < bundle.members.size(); ++m) {
    const Member& member = structure.members[bundle.members.begin + m];
    const Lane* before = out.before.data() + m * sets;
    Lane* after = out.before.data() + (m + 1) * sets;
    std::copy_n(before, sets, after);
    fire_member(c, member, bundle.size, after);
    const Pair<Lane>& root = c.root[member.hidden];
    for (std::size_t set = 0; set < sets; ++set)
      after[set] = root.no * before[set] + root.yes * after[set];
  }
  const Lane* whole = out.before.data() + bundle.members.size() * sets;
  out.kernel.assign(sets * sets, filled<Lane>(0.0));
  for (std::size_t from = 0; from < sets; ++from)
    for (std::size_t fired = 0; fired < sets; ++fired)
      out.kernel[(from | fired) * sets + from] += whole[fired];
}

}  // namespace

template <class Lane>
void Coefficients<Lane>::shape(const Program& program, std::size_t hidden_count) {
  const Structure& s = program.structure;
  pass.resize(s.links.size());
  fire.resize(s.links.size());
  root.resize(hidden_count);
  state.resize(s.targets.size());
  own.resize(s.targets.size());
  singles.resize(s.targets.size());
  bundles.resize(s.bundles.size());
  constant = {};
}

template <class Lane>
void Coefficients<Lane>::fill(const Program& program, const Wiring& wiring, const Numbers& numbers,
                              const Situation& situation, std::size_t lane) {
  const Structure& s = program.structure;
  Filler filler(program, wiring, numbers, situation, weight_, constant[lane]);
  filler.weigh_absences();
  filler.settle_branches();

  for (std::size_t i = 0; i < s.links.size(); ++i) {
    const LinkNumbers link = filler.link(s.links[i]);
    set_lane(pass[i], lane, link.pass);
    set_lane(fire[i], lane, link.fire);
  }
  states_.resize(wiring.hidden_count());
  for (std::size_t h = 0; h < wiring.hidden_count(); ++h) states_[h] = {1.0, weight_[h]};
  filler.weigh_plain(states_);
  for (const Held& held : situation.held)
    (held.present ? states_[held.hidden.at()].no : states_[held.hidden.at()].yes) = 0.0;

  for (std::size_t h = 0; h < wiring.hidden_count(); ++h) {
    if (!wiring.is_root(h) || situation.role[h] != Role::unobserved) continue;
    const Pair<double>& state_weight = states_[h];
    Pair<double> weights{numbers.own_no[h] * state_weight.no,
                         numbers.own_yes[h] * state_weight.yes};
    if (state_weight.no != 1.0 || state_weight.yes != 1.0)
      weights = scaled_to_one(weights, constant[lane]);
    set_lane(root[h].no, lane, weights.no);
    set_lane(root[h].yes, lane, weights.yes);
  }
  for (std::size_t t = 0; t < s.targets.size(); ++t) {
    const Target& target = s.targets[t];
    Pair<double> rate = filler.own_rate(target);
    for (std::uint32_t i = target.present_parents.begin; i < target.present_parents.end; ++i) {
      fire_by(filler.link(s.links[s.branch_links[i]]), rate);
    }
    set_lane(own[t].no, lane, rate.no);
    set_lane(own[t].yes, lane, rate.yes);
    const Pair<double> half = target.keep_fired ? Pair<double>{1.0, 1.0} : states_[target.id];
    set_lane(state[t].no, lane, half.no);
    set_lane(state[t].yes, lane, half.yes);
  }
}

template <class Lane>
void Coefficients<Lane>::combine(const Program& program) {
  const Structure& s = program.structure;
  for (std::size_t t = 0; t < s.targets.size(); ++t) {
    const Range range = s.targets[t].singles;
    singles[t].assign(1, own[t]);
    for (std::uint32_t m = range.begin; m < range.end; ++m) {
      const Member& member = s.members[m];
      Pair<Lane> next = singles[t].back();
      add_single(next, root[member.hidden], pass[member.link[0]], fire[member.link[0]]);
      singles[t].push_back(next);
    }
  }
  for (std::size_t b = 0; b < s.bundles.size(); ++b)
    combine_bundle(*this, s, s.bundles[b], bundles[b]);
}

template struct Coefficients<double>;
template struct Coefficients<Pack>;

}  // namespace slipcase::network

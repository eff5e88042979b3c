#include "network/aftermath.h"

#include <algorithm>

namespace slipcase::network {
namespace {

std::vector<bool> per_finding(const Network& network, std::span<const FindingId> list) {
  std::vector<bool> result(network.findings.size(), false);
  for (const FindingId finding : list) result.at(finding.at()) = true;
  return result;
}

Probability number(const std::vector<double>& yes, const std::vector<double>& no, std::size_t at) {
  return Probability::from_weights(yes[at], no[at]).value_or(Probability::never());
}

/// The other way round than read_numbers().
void write_numbers(const Wiring& wiring, const Numbers& numbers, Network& network) {
  std::size_t link = 0;
  for (std::size_t h = 0; h < network.hidden.size(); ++h) {
    network.hidden[h].own = number(numbers.own_yes, numbers.own_no, h);
    for (HiddenLink& to : network.hidden[h].parents)
      to.fire = number(numbers.hidden_fire, numbers.hidden_pass, link++);
  }
  for (std::size_t f = 0; f < network.findings.size(); ++f) {
    Finding& finding = network.findings[f];
    std::size_t at = wiring.number_begin[f];
    for (std::size_t g = 0; g < finding.leak.size(); ++g) {
      finding.leak[g] = number(numbers.leak_yes, numbers.leak_no, wiring.leak_begin[f] + g);
      for (FindingLink& to : finding.parents)
        to.fire[g] = number(numbers.link_fire, numbers.link_pass, at++);
    }
  }
}

}  // namespace

Aftermath::Aftermath(const Network& plain, const FailedRepairs& failed)
    : plain_(plain),
      plain_wiring_(lay_out(plain)),
      splitter_(plain, failed.cures, per_finding(plain, failed.complaint)),
      split_(splitter_.with_complaint_left(plain)),
      split_wiring_(lay_out(split_)),
      stayed_{size32(plain.findings.size())} {
  for (std::size_t h = 0; h < plain.hidden.size(); ++h) now_.push_back(splitter_.left(h));
}

Network Aftermath::split(const Network& plain) { return splitter_.with_complaint_left(plain); }

Numbers Aftermath::split(const Numbers& plain) {
  write_numbers(plain_wiring_, plain, plain_);
  return read_numbers(split_wiring_, split(plain_));
}

Evidence Aftermath::split(const Evidence& plain) const {
  Evidence result{plain.findings, {}};
  for (const Held& held : plain.held) {
    if (const auto node = now_.at(held.hidden.at())) {
      result.held.push_back({*node, held.present});
    } else if (held.present) {
      // It cannot be there now: held both ways, which is impossible.
      result.held.push_back({HiddenId{0}, true});
      result.held.push_back({HiddenId{0}, false});
    }
  }
  if (plain.complaint_stayed) result.findings.push_back({stayed_, 1, 1});
  return result;
}

Posterior Aftermath::joined(const Posterior& split) const {
  Posterior result;
  result.log_evidence = split.log_evidence;
  result.width = split.width;
  for (std::uint32_t h = 0; h < now_.size(); ++h) {
    result.hidden.push_back(now_[h] ? split.hidden.at(now_[h]->at()) : Probability::never());
    if (now_[h] && std::ranges::find(split.skipped, *now_[h]) != split.skipped.end())
      result.skipped.push_back(HiddenId{h});
  }
  return result;
}

}  // namespace slipcase::network

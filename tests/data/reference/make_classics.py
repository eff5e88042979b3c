#!/usr/bin/env python3
"""Works out the answers of classics.json again: every combination of causes, in exact fractions.

  make_classics.py        compares with the stored answers (exit status 1 if any differs)

Counts mean what they mean in a rule file: `shows` is the share of jobs with this one cause and no
other, whatever made the finding show; `otherwise` the share of jobs with none of them. A check that
flags is a finding; its share among good cars is its `otherwise`.
"""
import itertools
import json
import math
import pathlib
import sys
from fractions import Fraction

HERE = pathlib.Path(__file__).resolve().parent


def findings_of(case):
    """{finding: (otherwise, {cause: share})}"""
    found = {name: (Fraction(f["otherwise"]), {c: Fraction(s) for c, s in f["shows"].items()})
             for name, f in case["findings"].items()}
    for name, flags in case.get("checks", {}).items():
        ((cause, (bad, good)),) = flags.items()
        found[name] = (Fraction(good), {cause: Fraction(bad)})
    return found


def chance_seen(otherwise, shares, present):
    unseen = 1 - otherwise
    for cause, share in shares.items():
        if cause in present:
            unseen *= (1 - share) / (1 - otherwise)
    return 1 - unseen


def weigh(case, evidence):
    """(P(evidence), {cause: P(cause and evidence)})"""
    priors = {cause: Fraction(share) for cause, share in case["causes"].items()}
    findings = findings_of(case)
    total, with_cause = Fraction(0), {cause: Fraction(0) for cause in priors}
    for states in itertools.product((False, True), repeat=len(priors)):
        present = {cause for cause, on in zip(priors, states) if on}
        weight = Fraction(1)
        for cause, prior in priors.items():
            weight *= prior if cause in present else 1 - prior
        for name, state in evidence.items():
            seen = chance_seen(*findings[name], present)
            weight *= seen if state == "yes" else 1 - seen
        total += weight
        for cause in present:
            with_cause[cause] += weight
    return total, with_cause


def differences(case):
    total, with_cause = weigh(case, case["evidence"])
    for cause, stored in case["chance"].items():
        yield abs(float(with_cause[cause] / total) - stored)
        if "fraction" in case:
            yield abs(with_cause[cause] / total - Fraction(case["fraction"]))
    if "asked" in case:
        both, _ = weigh(case, {**case["evidence"], case["asked"]: "yes"})
        yield abs(float(both / total) - case["asked_chance"])
    if "ln_evidence" in case:
        yield abs(math.log(total) - case["ln_evidence"])


def main():
    cases = json.loads((HERE / "classics.json").read_text())["cases"]
    worst = max(float(difference) for case in cases for difference in differences(case))
    print(f"{len(cases)} cases, largest difference {worst:.1e}")
    return 1 if worst > 1e-12 else 0


if __name__ == "__main__":
    sys.exit(main())

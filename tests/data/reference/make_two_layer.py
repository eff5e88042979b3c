#!/usr/bin/env python3
"""Works out the stored answers of the two-layer networks again, with 120 decimal digits.

  make_two_layer.py --check            compares with the stored answers (exit status 1 if any differs)
  make_two_layer.py --write            writes them into bn2o_open.json and qmr_*_cases.json

Method: inclusion and exclusion over the present findings, in decimal arithmetic. It shares nothing
with the engine: the terms alternate in sign, which the engine avoids, and 120 digits make that
harmless. A finding is absent with chance (1 - leak) * product over present causes of (1 - link).
"""
import argparse
import csv
import json
import pathlib
import sys
from decimal import Decimal, getcontext

getcontext().prec = 120
HERE = pathlib.Path(__file__).resolve().parent
ONE = Decimal(1)


def solve(priors, leaks, links, present, absent):
    """priors {cause: p}, leaks {finding: p}, links {finding: {cause: p}} -> (ln P(evidence), posteriors)."""
    # What the absent findings leave of a present cause, and the findings that are present and linked.
    kept = {}
    for cause in priors:
        kept[cause] = ONE
    constant = ONE
    for finding in absent:
        constant *= ONE - leaks[finding]
        for cause, link in links[finding].items():
            kept[cause] *= ONE - link
    spared = {cause: [ONE - links[f].get(cause, Decimal(0)) for f in present] for cause in priors}
    linked = [c for c in priors if any(s != ONE for s in spared[c])]

    total = Decimal(0)
    with_cause = {cause: Decimal(0) for cause in linked}
    for subset in range(1 << len(present)):
        chosen = [i for i in range(len(present)) if subset >> i & 1]
        term = ONE if len(chosen) % 2 == 0 else -ONE
        for i in chosen:
            term *= ONE - leaks[present[i]]
        shares = {}
        for cause in linked:
            on = priors[cause] * kept[cause]
            for i in chosen:
                on *= spared[cause][i]
            both = on + ONE - priors[cause]
            shares[cause] = (on, both)
            term *= both
        total += term
        if term == 0:
            continue
        for cause, (on, both) in shares.items():
            with_cause[cause] += term * on / both
    posterior = {}
    for cause in priors:
        if cause in with_cause:
            posterior[cause] = with_cause[cause] / total
        else:
            on = priors[cause] * kept[cause]
            posterior[cause] = on / (on + ONE - priors[cause])
            constant *= on + ONE - priors[cause]
    return (total * constant).ln(), posterior


def table(name):
    with open(HERE / name, newline="") as file:
        return list(csv.DictReader(file))


def bn2o():
    """(document, [(case, answer)]) of the small networks."""
    document = json.loads((HERE / "bn2o_open.json").read_text(), parse_float=Decimal)
    answers = []
    for network in document["networks"]:
        priors = {c["id"]: Decimal(c["prior"]) for c in network["causes"]}
        leaks = {f["id"]: Decimal(f["leak"]) for f in network["findings"]}
        links = {f["id"]: {c: Decimal(l) for c, l in f["links"].items()} for f in network["findings"]}
        for case in network["cases"]:
            present = [f for f, state in case["evidence"].items() if state == "present"]
            absent = [f for f, state in case["evidence"].items() if state == "absent"]
            answers.append((case, solve(priors, leaks, links, present, absent)))
    return document, answers


def qmr(size):
    priors = {row["cause"]: Decimal(row["prior"]) for row in table(f"qmr_{size}_causes.csv")}
    leaks = {row["finding"]: Decimal(row["leak"]) for row in table(f"qmr_{size}_findings.csv")}
    links = {finding: {} for finding in leaks}
    for row in table(f"qmr_{size}_links.csv"):
        links[row["finding"]][row["cause"]] = Decimal(row["link"])
    document = json.loads((HERE / f"qmr_{size}_cases.json").read_text(), parse_float=Decimal)
    answers = [(case, solve(priors, leaks, links, case["present"], case["absent"]))
               for case in document["cases"]]
    return document, answers


def compact(value):
    return json.dumps(value, separators=(",", ":"), default=float)


def write(name, key, document):
    rows = ",\n".join(compact(row) for row in document[key])
    (HERE / name).write_text('{"%s":[\n%s\n]}\n' % (key, rows))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--check", action="store_true")
    what.add_argument("--write", action="store_true")
    arguments = parser.parse_args()

    worst, cases = Decimal(0), 0
    for name, key, (document, answers) in (
            ("bn2o_open.json", "networks", bn2o()),
            ("qmr_mid_cases.json", "cases", qmr("mid")),
            ("qmr_big_cases.json", "cases", qmr("big"))):
        for case, (ln_evidence, posterior) in answers:
            cases += 1
            differences = [abs(Decimal(case["ln_p_evidence"]) - ln_evidence)]
            differences += [abs(Decimal(case["posterior"][c]) - p) for c, p in posterior.items()]
            worst = max(worst, *differences)
            case["ln_p_evidence"] = float(ln_evidence)
            case["posterior"] = {c: float("%.15g" % p) for c, p in posterior.items()}
        if arguments.write:
            write(name, key, document)
    print(f"{cases} cases, largest difference {float(worst):.1e}")
    return 1 if arguments.check and worst > Decimal("1e-12") else 0


if __name__ == "__main__":
    sys.exit(main())

#!/usr/bin/python3
"""Posterior of the place of an earth fault by importance sampling: an independent second opinion for the finder.

Draws 30 cases with its own simulation, samples every unknown of the stated model, writes cases.json.
Run:  /usr/bin/python3 generate.py   (Debian: python3-numpy, python3-scipy; a quarter of an hour)
"""

import json
import platform
import sys
from pathlib import Path

import numpy as np
import scipy
from scipy.special import logsumexp

import model
from integrate import Reference

SEED = 20261125
SAMPLES = 2**16
SCRAMBLINGS = 8
# Where a fault is possible and eight scramblings still differ by more than this, eight times as many samples are drawn.
PRECISE = 0.005
MOST_SAMPLES = 2**19
WEIGHTS = {"connector": 2, "inModule": 2, "homeRun": 3, "combiner": 1}


def five(shunt=100e3):
    pole = lambda end, **more: {"kind": "voltage", "from": end, "to": "earth", **more}
    return [
        {"kind": "voltage", "from": "+", "to": "-"},
        pole("+"),
        pole("-"),
        pole("+", shunt=shunt),
        pole("-", shunt=shunt),
    ]


def whole(s, modules):
    return {"string": s, "a": 0, "b": modules, "cut": False}


def connection(on, parts, readings=None, **more):
    return {"on": on, "parts": parts, "readings": readings if readings is not None else five(), **more}


def stretches(s, pairs, count=5):
    """Stretches between opened connectors, with the first `count` readings of the five on each."""
    return [
        connection(f"S{s + 1}", [{"string": s, "a": a, "b": b, "cut": True}], five()[:count], segment=[a, b])
        for a, b in pairs
    ]


def case_of(name, modules, configurations, strings=1, **more):
    ids = [f"S{i + 1}" for i in range(strings)]
    return {
        "name": name,
        "strings": [{"id": i, "modules": modules, "substrings": 3} for i in ids],
        "circuits": [{"id": "C1", "strings": ids}] if strings > 1 else [],
        "meter": {"input": 10e6, "tolerance": 0.01, "reading": 0.003, "floor": 0.1},
        "tester": {"reading": 0.03, "floor": 2e3},
        "mismatch": 0.005,
        "drift": 0.004,
        "wet": False,
        "priors": WEIGHTS,
        "configurations": configurations,
        **more,
    }


def fault(at, ohms, string=0, side="stays"):
    return {"string": string, "at": at, "ohms": ohms, "side": side}


def intact(rng):
    """One string as it stands: hard to soft faults, ends, insides of modules, few readings, coarse light, a tester, wet."""
    one = lambda n, readings=None: [connection("S1", [whole(0, n)], readings)]
    tester = [{"kind": "insulation", "from": end, "testVoltage": 1000} for end in ("-", "+")]
    yield case_of("500 Ω on a junction", 18, one(18)), [fault(7, 500)]
    yield case_of("10 kΩ inside a module, under unsteady light", 12, one(12), drift=0.02), [fault(8 + 2 / 3, 10e3)]
    yield case_of("40 kΩ at the negative end", 22, one(22)), [fault(0, 40e3)]
    yield case_of("100 kΩ inside a module", 16, one(16)), [fault(11 + 1 / 3, 100e3)]
    yield case_of("300 kΩ near mid-string", 20, one(20)), [fault(9, 300e3)]
    yield case_of("600 kΩ low in the string", 24, one(24)), [fault(4 + 2 / 3, 600e3)]
    yield case_of("1.5 MΩ at the positive end", 14, one(14)), [fault(14, 1.5e6)]
    yield case_of("80 kΩ from the plain readings alone", 20, one(20, five()[:3])), [fault(15, 80e3)]
    yield case_of("50 kΩ under unsteady light", 20, one(20), drift=0.02), [fault(6, 50e3)]
    yield case_of("200 kΩ with modules of scattered voltage", 20, one(20), mismatch=0.03), [fault(13, 200e3)]
    yield case_of("120 kΩ with a tester on both poles", 15, one(15, five()[:3] + tester)), [fault(3, 120e3)]
    shorted = five() + [{"kind": "insulation", "from": "shorted", "testVoltage": 500}]
    yield case_of("400 kΩ with the poles shorted for a tester", 20, one(20, shorted)), [fault(12, 400e3)]
    yield case_of("60 kΩ in a wet string", 18, one(18), wet=True), [fault(5, 60e3)]
    for leak in (20e6, 150e6, 1.2e9):
        yield case_of(f"sound string of {leak / 1e6:.0f} MΩ a module", 20, one(20), leak=leak), []


def opened(rng):
    """One string opened at a connector, both halves read."""
    def both(n, node, taken=5, count=5):
        pairs = [(0, node), (node, n)] if 0 < node < n else [(0, n)]
        return [connection("S1", [whole(0, n)], five()[:taken]), *stretches(0, pairs, count)]

    yield case_of("opened away from 80 kΩ, very unsteady light", 20, both(20, 10), drift=0.05), [fault(4, 80e3)]
    below = [fault(7, 250e3, side="below")]
    yield case_of("opened at 250 kΩ, damage stays below", 18, both(18, 7, 3, 2), drift=0.03), below
    above = [fault(7, 700e3, side="above")]
    yield case_of("opened at 700 kΩ, damage stays above", 18, both(18, 7, 3, 2), drift=0.03), above
    yield case_of("opened beside 1.2 MΩ", 16, both(16, 8, 2, 3), drift=0.02), [fault(7 + 2 / 3, 1.2e6)]
    yield case_of("opened far from 900 kΩ", 24, both(24, 12, 3, 2), drift=0.02), [fault(19 + 1 / 3, 900e3)]
    yield case_of("opened, nothing wrong", 20, both(20, 10), leak=200e6), []
    home = [fault(15, 300e3, side="home-run")]
    yield case_of("end connector opened, 300 kΩ in the home run", 15, both(15, 15, 3, 2), drift=0.02), home
    yield case_of("end connector opened, 100 kΩ in the string", 15, both(15, 0, 3, 3), drift=0.02), [fault(1 / 3, 100e3)]
    twice = [connection("S1", [whole(0, 20)], five()[:3]), *stretches(0, [(10, 20), (10, 15), (15, 20)], 2)]
    yield case_of("opened twice about 1.5 MΩ", 20, twice, drift=0.03), [fault(12 + 1 / 3, 1.5e6)]


def paralleled(rng):
    """Strings in parallel, some isolated."""
    for name, strings, modules, alone, at, ohms, faulty in (
        ("two strings, the faulty one isolated, 200 kΩ", 2, 14, 1, 5, 200e3, 1),
        ("three strings, a sound one isolated, 150 kΩ", 3, 12, 0, 9 + 1 / 3, 150e3, 2),
        ("four strings, the faulty one isolated, 400 kΩ", 4, 10, 3, 2, 400e3, 3),
    ):
        parts = [whole(s, modules) for s in range(strings)]
        configurations = [connection("C1", parts), connection(f"S{alone + 1}", [whole(alone, modules)])]
        yield case_of(name, modules, configurations, strings, drift=0.02), [fault(at, ohms, faulty)]
    parts = [whole(s, 12) for s in range(3)]
    bus = {"string": -1, "id": "C1", "at": 12, "share": 1, "ohms": 50e3, "side": "stays"}
    isolated = [connection("C1", parts), connection("C1", parts[:2], isolated=["S3"])]
    yield case_of("three strings, 50 kΩ on the combiner, one isolated", 12, isolated, 3, drift=0.02), [bus]
    yield case_of("two strings as they stand, 30 kΩ", 16, [connection("C1", [whole(0, 16), whole(1, 16)])], 2), [fault(6, 30e3, 1)]


def visit_of(case):
    """The case as the engine reads it, but for what all cases share (see shared_of)."""
    readings = []
    for c in case["configurations"]:
        where = {key: c[key] for key in ("segment", "isolated") if key in c}
        readings += [{"on": c["on"], "to": "earth", **where, **r} for r in c["readings"]]
    return {
        "strings": case["strings"],
        "circuits": case["circuits"],
        "conditions": {key: case[key] for key in ("mismatch", "drift", "wet")},
        "readings": readings,
    }


def shared_of(case):
    """Instruments and weights of places, the same in every case."""
    meter = case["meter"]
    return {
        "instruments": [
            {
                "name": "voltage",
                "kind": "voltmeter",
                "inputResistance": meter["input"],
                "inputTolerance": meter["tolerance"],
                "accuracy": {"reading": meter["reading"], "floor": meter["floor"]},
            },
            {"name": "insulation", "kind": "insulation-tester", "accuracy": case["tester"]},
        ],
        "priors": case["priors"],
    }


def posterior(case, samples, seed):
    """Places given one fault, and the share of each hypothesis but two faults, from one scrambling."""
    reference = Reference(case, samples, seed)
    places = model.places_of(case)
    weight = np.array([p["weight"] for p in places])
    ln = np.array([reference.one_fault(p) for p in places]) + np.log(weight / weight.sum())
    wet = case["wet"]
    limits = model.LEAK_OHMS[wet]
    even = reference.no_fault(limits, model.LOPSIDED[wet])
    uneven = reference.no_fault(limits, model.UNEVEN)
    prior = model.HYPOTHESES
    one = 1 - prior["none"] - prior["wetness"][wet] - prior["two"]
    hypotheses = np.array(
        [
            np.log(one) + logsumexp(ln),
            np.log(prior["none"]) + logsumexp([even, uneven]) - np.log(2),
            np.log(prior["wetness"][wet])
            + reference.no_fault((model.WETNESS_LEAST_OHMS, limits[1]), model.WETNESS_LOPSIDED),
        ]
    )
    return np.exp(ln - logsumexp(ln)), np.exp(hypotheses - logsumexp(hypotheses))


def averaged(draws):
    """Mean of the scramblings and the total variation by which that mean is likely to be off."""
    mean = np.mean(draws, axis=0)
    apart = np.mean([np.abs(draw - mean).sum() / 2 for draw in draws])
    return mean, float(apart / np.sqrt(len(draws) - 1))


def solved(case, faults, number, rng):
    leak = case.pop("leak", None) or 10e6 * 200 ** rng.random()
    model.simulate(case, {"leak": leak, "faults": faults}, rng)
    samples = SAMPLES
    while True:
        draws = [posterior(case, samples, SEED + 1000 * number + k) for k in range(SCRAMBLINGS)]
        mean, error = averaged([p for p, _ in draws])
        shares, share_error = averaged([h for _, h in draws])
        if error < PRECISE or shares[0] < 1e-3 or samples >= MOST_SAMPLES:
            break
        samples *= 8
    named = [
        [p["id"], round(p["at"], 6), float(f"{q:.6f}")] for p, q in zip(model.places_of(case), mean) if q > 5e-6
    ]
    print(f"{number + 1:2d} {case['name']}: error {error:.4f}, {share_error:.4f}; top {max(mean):.3f}", file=sys.stderr)
    return {
        "name": case["name"],
        "visit": visit_of(case),
        "places": named,
        "placesError": float(f"{error:.5f}"),
        "hypotheses": dict(zip(("one", "none", "wetness"), (float(f"{x:.6f}") for x in shares))),
        "hypothesesError": float(f"{share_error:.5f}"),
    }


def main():
    rng = np.random.default_rng(SEED)
    drawn = [*intact(rng), *opened(rng), *paralleled(rng)]
    cases = [solved(case, faults, number, rng) for number, (case, faults) in enumerate(drawn)]
    written = {
        "generatedWith": {
            "python": platform.python_version(),
            "numpy": np.__version__,
            "scipy": scipy.__version__,
            "seed": SEED,
            "samples": SAMPLES,
            "mostSamples": MOST_SAMPLES,
            "scramblings": SCRAMBLINGS,
        },
        "shared": shared_of(drawn[0][0]),
        "cases": cases,
    }
    Path(__file__).with_name("cases.json").write_text(json.dumps(written, ensure_ascii=False) + "\n")


if __name__ == "__main__":
    main()

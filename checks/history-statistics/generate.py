#!/usr/bin/python3
"""Reference values of the history's statistics by numpy and scipy, and by direct definition where scipy has none.

Run: /usr/bin/python3 generate.py   (writes cases.json)   Debian: python3-numpy, python3-scipy
Mann-Kendall, Hamed-Rao and the optimal partition are written here from their definitions, O(n^2), and share no code
with the engine.
"""

import json
import platform
from pathlib import Path

import numpy as np
import scipy
from scipy import stats

rng = np.random.default_rng(20261125)


def series(name, y, x=None):
    y = np.asarray(y, dtype=float)
    x = np.arange(len(y), dtype=float) if x is None else np.asarray(x, dtype=float)
    return name, x, y


def all_series():
    n = 60
    yield series("noise", rng.normal(size=n))
    yield series("trend with outliers", np.where(rng.random(n) < 0.1, -8, -0.03 * np.arange(n) + rng.normal(size=n)))
    yield series("quantised, many ties", np.round(rng.normal(size=80), 0))
    yield series("constant", np.full(12, 5.7))
    yield series("uneven days", rng.normal(size=50), np.sort(rng.choice(400, 50, replace=False)))
    yield series("days with several values", rng.normal(size=60), np.repeat(np.arange(20), 3))
    yield series("two values", [6.1, 5.9])
    ar = np.zeros(300)
    for i in range(1, 300):
        ar[i] = 0.7 * ar[i - 1] + rng.normal()
    yield series("autoregressive 0.7", ar)
    yield series("even count of pairs beyond the listing limit", rng.normal(size=401) - 0.002 * np.arange(401))
    yield series("clipped at a ceiling", np.minimum(rng.normal(size=420), 0.3))
    yield series("large offset", 1e6 + rng.normal(size=250))


def mann_kendall(y, factor=1.0):
    n = len(y)
    s = sum(int(np.sign(y[j] - y[i])) for i in range(n) for j in range(i + 1, n))
    _, counts = np.unique(y, return_counts=True)
    var = (n * (n - 1) * (2 * n + 5) - sum(t * (t - 1) * (2 * t + 5) for t in counts)) / 18
    z = 0.0 if var == 0 else (s - np.sign(s)) / np.sqrt(var * factor)
    return {"score": s, "variance": float(var), "z": float(z), "p": float(min(1, 2 * stats.norm.sf(abs(z))))}


def hamed_rao(y, lags):
    n = len(y)
    slope = stats.theilslopes(y)[0]
    r = stats.rankdata(y - slope * np.arange(n))
    d = r - r.mean()
    whole = (d * d).sum()
    total = 0.0
    for k in range(1, lags + 1):
        rho = 0.0 if whole == 0 else float((d[k:] * d[:-k]).sum() / whole)
        if abs(rho) > 1.96 / np.sqrt(n):
            total += (n - k) * (n - k - 1) * (n - k - 2) * rho
    return max(1.0, 1 + 2 * total / (n * (n - 1) * (n - 2)))


def optimal_partition(y, penalty, least):
    n = len(y)
    best = np.full(n + 1, np.inf)
    best[0] = -penalty
    prev = np.zeros(n + 1, dtype=int)
    for end in range(1, n + 1):
        for start in range(0, end - least + 1):
            part = y[start:end]
            cost = best[start] + ((part - part.mean()) ** 2).sum() + penalty
            if cost < best[end]:
                best[end], prev[end] = cost, start
    changes, end = [], n
    while end > 0 and prev[end] > 0:
        changes.insert(0, int(prev[end]))
        end = prev[end]
    return changes


def steps(levels, length, sigma):
    return np.concatenate([rng.normal(level, sigma, length) for level in levels])


def main():
    trends, quantiles = [], []
    for name, x, y in all_series():
        ts = stats.theilslopes(y, x, alpha=0.95)
        case = {"name": name, "x": x.tolist(), "y": y.tolist()}
        case["theilSen"] = {"slope": ts[0], "intercept": ts[1], "low": ts[2], "high": ts[3]}
        case["theilSen90"] = dict(zip(("low", "high"), map(float, stats.theilslopes(y, x, alpha=0.90)[2:])))
        case["mannKendall"] = mann_kendall(y)
        if len(y) >= 10:
            lags = min(20, len(y) - 3)
            case["hamedRao"] = {"maxLag": lags, "factor": hamed_rao(y, lags)}
        trends.append(case)
        shares = [0, 0.05, 0.25, 0.5, 0.61803, 0.95, 1]
        quantiles.append({"name": name, "y": y.tolist(), "shares": shares, "values": np.quantile(y, shares).tolist()})
    partitions = []
    for name, y, penalty, least in (
        ("one step", steps([0, -2], 40, 0.5), 4.0, 1),
        ("three steps up and down", steps([0, -1.5, 0.5, -1], 30, 0.4), 3.0, 1),
        ("noise only", steps([0], 120, 1.0), 12.0, 1),
        ("short stretches forbidden", steps([0, -3, 0], 10, 0.3), 1.0, 7),
        ("cheap changes", steps([0, 0.5], 30, 0.5), 0.4, 2),
    ):
        partitions.append(
            {"name": name, "y": y.tolist(), "penalty": penalty, "least": least, "changes": optimal_partition(y, penalty, least)}
        )
    zs = [-8, -3.2, -1.959963984540054, -0.5, 0, 1e-3, 0.7, 1.5, 2.12, 2.13, 3, 6, 14.73869998208331, 30]
    ps = [1e-300, 1e-12, 1e-4, 0.01, 0.05, 0.3, 0.5, 0.75, 0.95, 0.975, 0.9999]
    out = {
        "versions": {"python": platform.python_version(), "numpy": np.__version__, "scipy": scipy.__version__},
        "trends": trends,
        "quantiles": quantiles,
        "partitions": partitions,
        "tails": [{"z": z, "tail": float(stats.norm.sf(z))} for z in zs],
        "normalQuantiles": [{"p": p, "z": float(stats.norm.ppf(p))} for p in ps],
    }
    Path(__file__).with_name("cases.json").write_text(json.dumps(out) + "\n")


main()

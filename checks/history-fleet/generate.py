#!/usr/bin/python3
"""Wilson intervals and Fisher's exact test by scipy, Benjamini-Hochberg from its definition.  Run: /usr/bin/python3 generate.py"""

import json
import platform
from pathlib import Path

import numpy as np
import scipy
from scipy import stats

intervals = []
for hits, of in ((0, 3), (1, 3), (3, 3), (2, 7), (0, 40), (5, 40), (81, 263), (999, 1000)):
    ci = stats.binomtest(hits, of).proportion_ci(0.9, method="wilson")
    intervals.append({"hits": hits, "of": of, "low": ci.low, "high": ci.high})
tails = []
for hits, of, all_hits, everything in ((3, 3, 5, 40), (0, 4, 5, 40), (6, 20, 10, 200), (12, 15, 40, 60), (30, 100, 120, 1000)):
    table = [[hits, of - hits], [all_hits - hits, everything - of - (all_hits - hits)]]
    p = stats.fisher_exact(table, alternative="greater")[1]
    tails.append({"hits": hits, "of": of, "allHits": all_hits, "all": everything, "p": p})
adjusted = []
for ps in ([0.01, 0.04, 0.03, 0.2], [0.5], [0.001, 0.9, 0.001, 0.05, 0.049], [1, 1, 1]):
    n = len(ps)
    ranked = np.sort(ps)
    q = [min(1.0, min(ranked[j] * n / (j + 1) for j in range(n) if ranked[j] >= p)) for p in ps]
    adjusted.append({"ps": ps, "adjusted": [float(one) for one in q]})
out = {
    "versions": {"python": platform.python_version(), "numpy": np.__version__, "scipy": scipy.__version__},
    "intervals": intervals,
    "tails": tails,
    "adjusted": adjusted,
}
Path(__file__).with_name("cases.json").write_text(json.dumps(out, indent=1) + "\n")

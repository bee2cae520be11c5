"""Writes scipy-values.json beside this file: values of a general statistics library that the tests hold ours against.

Run with Debian's python3-scipy: python3 scipy-values.py
"""

import json
from pathlib import Path

import numpy as np
import scipy
from scipy import stats

rng = np.random.default_rng(27)
normal = [1e-12, 1e-6, 0.001, 0.025, 0.075, 0.3, 0.5, 0.7, 0.9, 0.975, 0.9999]
counts = [(0, 1), (0, 100), (1, 400), (7, 50), (50, 50), (123, 10000), (9999, 10000)]
samples = [
    rng.normal(size=11).round(6).tolist(),
    rng.exponential(size=40).round(2).tolist(),
    [3.0],
    [2.0, 2.0, 1.0, 5.0, 5.0, 5.0],
]
probabilities = [0, 0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99, 1]
x = rng.integers(0, 20, size=60)
pairs = [
    (rng.normal(size=30).tolist(), rng.normal(size=30).tolist()),
    (x.tolist(), (x + rng.integers(-6, 7, size=60)).tolist()),
    ([1, 2, 3, 4], [4, 3, 2, 1]),
]

data = {
    "made by": f"SciPy {scipy.__version__}, NumPy {np.__version__}",
    "normal": [[p, float(stats.norm.ppf(p))] for p in normal],
    "cut normal": [[p, float(stats.truncnorm.ppf(p, -3, 3))] for p in normal],
    "wilson": [
        [k, n, *(float(v) for v in stats.binomtest(k, n).proportion_ci(0.95, method="wilson"))] for k, n in counts
    ],
    "quantiles": [
        {"values": values, "at": [[p, float(stats.mstats.mquantiles(values, [p], alphap=1, betap=1)[0])] for p in probabilities]}
        for values in samples
    ],
    "ranks": [{"values": values, "ranks": stats.rankdata(values).tolist()} for values in samples],
    "spearman": [{"a": a, "b": b, "rho": float(stats.spearmanr(a, b).statistic)} for a, b in pairs],
}
path = Path(__file__).with_suffix(".json")
path.write_text(json.dumps(data, indent=1) + "\n")

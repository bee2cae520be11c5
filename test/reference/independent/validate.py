"""Runs the cases of a file again and prints the worst relative difference from what it expects."""

import json
import sys
import time

from simulate import simulate

SKIP = {"t_peak", "t_I_peak", "t_didt_peak", "t_Tj_peak", "t_dT_peak", "slope", "convergence", "solver", "residual", "relative"}


def differences(want, got, path=""):
    if isinstance(want, dict):
        for k, v in want.items():
            if k not in SKIP:
                yield from differences(v, (got or {}).get(k, "absent"), f"{path}.{k}")
    elif isinstance(want, list):
        if not isinstance(got, list) or len(want) != len(got):
            yield float("inf"), path + " length"
        else:
            for n, (a, b) in enumerate(zip(want, got)):
                yield from differences(a, b, f"{path}[{n}]")
    elif isinstance(want, float) and isinstance(got, (int, float)):
        yield abs(want - got) / max(abs(want), 1e-3), f"{path} {want} {got}"
    elif want != got:
        yield float("inf"), f"{path} {want} {got}"


if __name__ == "__main__":
    rtol = float(sys.argv[2]) if len(sys.argv) > 2 else 1e-9
    for entry in json.load(open(sys.argv[1])):
        case, began = entry["case"], time.time()
        if len(sys.argv) > 3 and sys.argv[3] not in case["name"]:
            continue
        got = simulate(case, rtol, case["sample_times"])
        worst = sorted(differences(entry["expected"], got), reverse=True)[:3]
        print(f"{case['name']}: {time.time() - began:.1f} s, balance {got['energy']['relative']:.1e}", *worst, sep="\n   ", flush=True)

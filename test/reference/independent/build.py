"""Makes cases.json: runs each case twice, picks the sample times from the first run, refuses close calls.

python3 build.py OUT.json [parts of names]
"""

import json
import sys
import time
from math import log10

import numpy as np

from cases_feeds import FEED_CASES
from cases_more import MORE_CASES
from cases_protectors import PROTECTOR_CASES
from simulate import simulate
from validate import differences


def digits(x, n):
    return float(f"{x:.{n}g}")


def pick(events, t_end, many=44):
    """As the open cases do: 1 µs after an event, then log-spaced, to 5 % before the next one."""
    times = [0.0] + [e["t"] for e in events] + [t_end]
    full = len(events) if len(events) <= 14 else 9
    out = []
    for n in range(-1, len(events)):
        if full <= n < len(events) - 3:
            continue
        D = times[n + 2] - times[n + 1]
        last = 0.95 * D
        if n < 0:
            out += [{"event": n, "dt": digits(c * last, 6)} for c in (0.4, 1.0)]
        elif last > 1.5e-6:
            count = max(4, min(10, many // (len(events) + 1)))
            decades = log10(last / 1e-6) / (count - 1)
            out += [{"event": n, "dt": digits(1e-6 * 10 ** (decades * k), 6)} for k in range(count)]
    return out


def close_calls(case, got, share=0.004):
    """Levels missed or passed by less than `share`."""
    pairs = []
    for x, r in zip(case["loads"], got["loads"]):
        pairs += [(f"{x['name']} {V}", r["v_peak"], V) for V in [x["v_max"]] + [w["V"] for w in x.get("withstand", [])]]
        for w in x.get("withstand", []):
            pairs.append((f"{x['name']} time above {w['V']}", r[f"longest_above_{w['V']:g}_V"], w["t"]))
    for f in got["fuses"]:
        if f["state"] == "intact":
            pairs.append((f["name"], f["theta_peak"], 1.0))
    if "scr" in got and not got["scr"]["failed_short"]:
        pairs.append(("T_fail", got["scr"]["Tj_peak"], case["scr"]["T_fail"]))
    if "scr" in got and not got["scr"]["firings"]:
        pairs.append(("V_trip", got["v_guarded_peak"], case["scr"]["V_trip"]))
    if "clamp" in got and not got["clamp"]["failed_short"]:
        pairs.append(("clamp energy", got["clamp"]["energy"], case["clamp"]["E_rating"]))
    return [f"{n}: {a} of {b}" for n, a, b in pairs if abs(a - b) < share * b]


def rounded(x):
    if isinstance(x, dict):
        return {k: rounded(v) for k, v in x.items()}
    if isinstance(x, list):
        return [rounded(v) for v in x]
    if isinstance(x, float):
        return digits(x, 13)
    return bool(x) if isinstance(x, np.bool_) else x


def build(case):
    began = time.time()
    first = simulate(case, 1e-9)
    case["sample_times"] = pick(first["events"], case["t_end"])
    rough = simulate(case, 1e-8, case["sample_times"])
    got = simulate(case, 1e-10, case["sample_times"])
    worst, where = max(differences(got, rough))
    got["convergence"] = {"Radau 1e-08": {"worst_figure_relative": worst}}
    got["solver"] = "Radau, rtol 1e-10"
    print(f"{case['name']}: {time.time() - began:.1f} s, {len(got['samples'])} samples, balance {got['energy']['relative']:.0e}")
    print(f"   1e-8 against 1e-10: {worst:.1e} {where}")
    for e in got["events"][:12]:
        print(f"   {e['t']:.9g} {e['what']}")
    if len(got["events"]) > 12:
        print(f"   … {len(got['events'])} events")
    close = close_calls(case, got)
    if close:
        raise ValueError(f"{case['name']}: too close to call: {close}")
    return rounded({"case": case, "expected": got})


def main(path, words):
    """Makes the chosen cases anew and leaves the others of the file as they stand."""
    cases = FEED_CASES + PROTECTOR_CASES + MORE_CASES
    try:
        with open(path) as old:
            entries = {e["case"]["name"]: e for e in json.load(old)}
    except FileNotFoundError:
        entries = {}
    for c in cases:
        if not words or any(w in c["name"] for w in words):
            entries[c["name"]] = build(c)
            with open(path, "w") as out:
                kept = [json.dumps(entries[c["name"]]) for c in cases if c["name"] in entries]
                out.write("[\n" + ",\n".join(kept) + "\n]\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])

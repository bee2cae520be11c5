"""Writes swinging-values.json beside this file: a constant-power load that swings by itself, by a general solver and equations written anew.

Run with Debian's python3-scipy: python3 swinging-values.py
"""

import json
from pathlib import Path

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.optimize import fsolve

POWER, KNEE = 40.0, 6.0
OUTPUT, OUTPUT_ESR, SOURCE, RESPONSE, BLEEDER = 2.2e-3, 0.01, 0.01, 20e-6, 1e3
RESISTANCE, INDUCTANCE = 5e-3, 1e-6  # of each of the two leads
MIDDLE, MIDDLE_ESR = 1e-6, 0.2
INPUT, INPUT_ESR = 10e-6, 1e-3
FAULT, SLEW, END = 0.1e-3, 5.0, 3.5e-3


def set_point(t):
    return 13.8 + min(max(t - FAULT, 0.0) * SLEW, 0.4)


def rates(t, y):
    """Output capacitor, regulator's current, first lead, capacitor between the leads, second lead, input capacitor."""
    vo, regulated, first, middle, second, vc = y
    drawn = POWER / vc if vc > KNEE else vc * POWER / KNEE**2
    terminal = (vo + OUTPUT_ESR * (regulated - first)) / (1 + OUTPUT_ESR / BLEEDER)
    target = min(max((set_point(t) - vo) / SOURCE, 0.0), 60.0)
    between = middle + MIDDLE_ESR * (first - second)
    load = vc + INPUT_ESR * (second - drawn)
    return [
        (regulated - first - terminal / BLEEDER) / OUTPUT,
        (target - regulated) / RESPONSE,
        (terminal - between - RESISTANCE * first) / INDUCTANCE,
        (first - second) / MIDDLE,
        (between - load - RESISTANCE * second) / INDUCTANCE,
        (second - drawn) / INPUT,
    ]


current = POWER / 13.7
start = fsolve(lambda y: rates(0, y), [13.77, current, current, 13.74, current, 13.72], xtol=1e-10)
step = 1e-6
columns = [
    (np.array(rates(0, start + step * unit)) - np.array(rates(0, start - step * unit))) / (2 * step)
    for unit in np.eye(6)
]
growing = max(np.linalg.eigvals(np.array(columns).T), key=lambda value: (value.real, value.imag))
run = solve_ivp(rates, [0, END], start, method="RK45", rtol=1e-9, atol=1e-11, max_step=5e-7)

data = {
    "scipy": scipy.__version__,
    "eigenvalue": [growing.real, growing.imag],
    "peak": run.y[5].max(),
    "lowest": run.y[5].min(),
}
Path(__file__).with_name("swinging-values.json").write_text(json.dumps(data, indent=1) + "\n")

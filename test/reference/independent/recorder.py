"""What is watched along a run: peaks, integrals, times beyond a level, samples. All on the solver's own interpolant."""

from math import inf

import numpy as np
from scipy.optimize import brentq, minimize_scalar

NODES, WEIGHTS = np.polynomial.legendre.leggauss(4)
NODES, WEIGHTS = [float(c) for c in 0.5 * (NODES + 1.0)], [float(w) for w in 0.5 * WEIGHTS]


class Span:
    """Time and integral above a level: `g` > 0."""

    def __init__(self, g, on_rise=None, active=lambda: True):
        self.g, self.on_rise, self.active = g, on_rise, active
        self.inside, self.total, self.longest, self.current, self.area = False, 0.0, 0.0, 0.0, 0.0

    def add(self, at, a, b):
        if self.inside:
            self.total += b - a
            self.current += b - a
            self.longest = max(self.longest, self.current)
            for c, w in zip(NODES, WEIGHTS):
                at(a + c * (b - a))
                self.area += w * (b - a) * self.g()

    def turn(self, inside):
        self.inside, self.current = inside, 0.0


class Recorder:
    def __init__(self, line, sample_times):
        self.line = line
        self.peaks, self.best, self.integrands, self.total, self.spans = {}, {}, {}, {}, []
        self.windows, self.worst_window = [], 0.0
        self.wanted, self.pending, self.samples = sample_times, [], []

    def peak(self, key, f):
        self.peaks[key], self.best[key] = f, -inf

    def integral(self, key, f):
        self.integrands[key], self.total[key] = f, 0.0

    def span(self, *a, **k):
        self.spans.append(Span(*a, **k))
        return self.spans[-1]

    def at_event(self, n):
        for s in self.wanted:
            if s["event"] == n:
                self.pending.append([s["dt"], n, s["dt"]])

    def open_window(self, length):
        self.windows.append([length, self.total["scr i2"]])

    def segment_starts(self):
        """The line stands evaluated at the start of a segment: values may have jumped."""
        for key, f in self.peaks.items():
            self.best[key] = max(self.best[key], f())
        for s in self.spans:
            inside = s.active() and s.g() > 0.0
            if inside != s.inside:
                s.turn(inside)
                if inside and s.on_rise:
                    s.on_rise(self.line.t, self.total)

    def evaluator(self, t0, sol):
        def at(tau):
            self.line.evaluate(t0 + tau, tau, sol(tau))

        return at

    def integrate(self, at, a, b, keys):
        sums = dict.fromkeys(keys, 0.0)
        for c, w in zip(NODES, WEIGHTS):
            at(a + c * (b - a))
            for k in keys:
                sums[k] += w * (b - a) * self.integrands[k]()
        return sums

    def step(self, t0, sol, a, b):
        """Takes in the piece a…b (time since t0) of the interpolant."""
        at, h = self.evaluator(t0, sol), b - a
        taus = [a] + [a + c * h for c in NODES] + [b]
        values = {k: [] for k in self.peaks}
        gs = [[] for _ in self.spans]
        sums = dict.fromkeys(self.integrands, 0.0)
        for n, tau in enumerate(taus):
            at(tau)
            for k, f in self.peaks.items():
                values[k].append(f())
            for s, g in zip(self.spans, gs):
                g.append(s.g() if s.active() else -1.0)
            if 0 < n < 5:
                for k, f in self.integrands.items():
                    sums[k] += WEIGHTS[n - 1] * h * f()
        for k, v in values.items():
            self.raise_peak(k, v, taus, at)
        for s, g in zip(self.spans, gs):
            self.follow(s, g, taus, at)
        for w in self.windows:
            if w[0] <= h:
                i2t = self.total["scr i2"] + self.integrate(at, a, a + w[0], ["scr i2"])["scr i2"] - w[1]
                self.worst_window = max(self.worst_window, i2t)
            w[0] -= h
        self.windows = [w for w in self.windows if w[0] > 0.0]
        for p in self.pending:
            if p[0] <= h:
                self.take(p, t0, sol, a + p[0])
            p[0] -= h
        self.pending = [p for p in self.pending if p[0] >= 0.0 and len(p) == 3]
        for k, x in sums.items():
            self.total[k] += x
        at(b)

    def raise_peak(self, k, v, taus, at):
        top = max(v)
        if top <= self.best[k]:
            return
        j = v.index(top)
        if 0 < j < 5:
            f = self.peaks[k]

            def minus(tau):
                at(tau)
                return -f()

            lo, hi = taus[j - 1], taus[j + 1]
            r = minimize_scalar(minus, bounds=(lo, hi), method="bounded", options={"xatol": 1e-3 * (hi - lo)})
            top = max(top, -r.fun)
        self.best[k] = top

    def follow(self, s, g, taus, at):
        last = taus[0]
        for n in range(1, 6):
            if (g[n] > 0.0) != s.inside:

                def f(tau):
                    at(tau)
                    return s.g()

                root = brentq(f, taus[n - 1], taus[n], xtol=1e-18, rtol=1e-14) if g[n - 1] * g[n] < 0.0 else taus[n - 1]
                s.add(at, last, root)
                last = root
                s.turn(not s.inside)
                if s.inside and s.on_rise:
                    totals = {k: self.total[k] + x for k, x in self.integrate(at, taus[0], root, list(self.total)).items()}
                    at(root)
                    s.on_rise(self.line.t, totals)
        s.add(at, last, taus[5])

    def observe(self):
        line = self.line
        seen = {
            "v_line": line.vL,
            "v_guarded": line.vG,
            "v_load": [x.v for x in line.loads],
            "v_feed": [f.v for f in line.feeds],
            "i_feed": [line.y[f.at_i] for f in line.feeds],
        }
        if line.scr:
            seen["i_scr"] = line.y[line.at_scr] if line.conducting else 0.0
            seen["T_j"] = line.Tj
        return seen

    def take(self, p, t0, sol, tau):
        line, d = self.line, 1e-11
        dy = line.evaluate(t0 + tau, tau, sol(tau))
        y, now = line.y, self.observe()
        line.evaluate(t0 + tau + d, tau + d, [u + d * w for u, w in zip(y, dy)])
        then = self.observe()

        def slope(u, w):
            return [(q - r) / d for q, r in zip(w, u)] if isinstance(u, list) else (w - u) / d

        p.append("taken")
        self.samples.append({"event": p[1], "dt": p[2], "t": t0 + tau, **now, "slope": {k: slope(now[k], then[k]) for k in now}})

    def ends(self):
        for w in self.windows:
            self.worst_window = max(self.worst_window, self.total["scr i2"] - w[1])

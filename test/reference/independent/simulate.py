"""One run: segments between changes of mode, each integrated by Radau in its own local time."""

import numpy as np
from scipy.integrate import Radau
from scipy.optimize import brentq

from line import Line
from machine import Machine
from recorder import NODES, Recorder
from results import Results
from start import operating_point

DEAD = 1e-12


class Run:
    def __init__(self, case, rtol=1e-9, sample_times=()):
        self.case, self.rtol = case, rtol
        self.line = line = Line(case)
        self.t, self.t_end = 0.0, case["t_end"]
        line.y = operating_point(line)
        self.start_values = dict(zip(line.names, line.y))
        line.evaluate(0.0, 0.0, line.y)
        self.recorder = Recorder(line, list(sample_times))
        self.events = []
        self.results = Results(self)
        self.machine = Machine(line, self.log)
        self.recorder.at_event(-1)
        self.stored_0 = line.stored()
        self.lost_at_once = 0.0

    def log(self, what):
        self.events.append({"t": self.t, "what": what})
        self.recorder.at_event(len(self.events) - 1)
        self.results.on_event(what)

    def settle(self, flipped=None):
        """Brings every condition up to date with the state at the start of a segment."""
        line = self.line
        for _ in range(20):
            line.evaluate(self.t, 0.0, line.y)
            changed = False
            for c in self.machine.conds:
                if not c.active():
                    c.value = None
                    continue
                g = c.g()
                fresh = c.value is None
                now = g > 0.0
                if fresh or (c is not flipped and now != c.value and abs(g) > 1e-9 * c.scale):
                    c.value = now
                    if now and c.on_true:
                        c.on_true()
                        changed = True
                    if not now and not fresh and c.on_false:
                        c.on_false()
                        changed = True
            if not changed:
                return
        raise RuntimeError(f"conditions do not settle at {self.t}")

    def crossing(self, sol, a, b):
        """(time, condition) of the first root in a…b, or (b, None)."""
        line = self.line
        conds = [c for c in self.machine.conds if c.active()]
        points = [a] + [a + c * (b - a) for c in NODES] + [b]
        before = None
        for n, tau in enumerate(points):
            line.evaluate(self.t + tau, tau, sol(tau))
            gs = [c.g() for c in conds]
            if n:
                found = []
                for c, g0, g in zip(conds, before, gs):
                    if (g > DEAD * c.scale) if not c.value else (g < -DEAD * c.scale):

                        def f(tau, c=c):
                            line.evaluate(self.t + tau, tau, sol(tau))
                            return c.g()

                        root = points[n - 1]
                        if g0 * g < 0.0:
                            root = brentq(f, root, tau, xtol=1e-20, rtol=1e-15)
                        found.append((root, c))
                if found:
                    return min(found, key=lambda x: x[0])
            before = gs
        return b, None

    def segment(self, h):
        """Integrates for at most h from the present state; gives the time passed and the condition that ended it."""
        line, y0 = self.line, self.line.y

        def fun(tau, y):
            return np.array(line.evaluate(self.t + tau, tau, y))

        def jac(tau, y):
            # Fixed increments: the solver's own grow without bound for states that nothing depends on.
            base, columns = np.array(line.evaluate(self.t + tau, tau, y)), []
            for n, size in enumerate(line.scale):
                moved = y.copy()
                moved[n] += 1e-6 * max(abs(y[n]), size)
                columns.append((np.array(line.evaluate(self.t + tau, tau, moved)) - base) / (moved[n] - y[n]))
            return np.array(columns).T

        atol = self.rtol * np.array(line.scale)
        solver = Radau(fun, 0.0, np.array(y0), h, rtol=self.rtol, atol=atol, jac=jac)
        line.evaluate(self.t, 0.0, y0)
        self.recorder.segment_starts()
        while solver.status == "running":
            a = solver.t
            message = solver.step()
            if solver.status == "failed":
                raise RuntimeError(f"{message} at {self.t + solver.t}")
            sol = solver.dense_output()
            b, cond = self.crossing(sol, a, solver.t)
            if b > a:
                self.recorder.step(self.t, sol, a, b)
            if cond:
                line.y = sol(b).tolist()
                return b, cond
        line.y = solver.y.tolist()
        return solver.t, None

    def advance(self, h):
        self.t += h
        for f in self.line.feeds:
            f.advance(h)
        for timer in self.machine.timers.values():
            timer[0] -= h

    def go(self):
        line, machine = self.line, self.machine
        self.settle()
        left = self.t_end
        for _ in range(100000):
            h = min([left] + [t[0] for t in machine.timers.values()])
            near = max(1e-14, 1e-13 * h)
            cond = None
            if h > near:
                h, cond = self.segment(h)
                self.advance(h)
                left -= h
                line.evaluate(self.t, 0.0, line.y)
            if left <= near:
                break
            before = line.stored()
            if cond:
                cond.value = not cond.value
                do = cond.on_true if cond.value else cond.on_false
                if do:
                    do()
            else:
                for key, timer in list(machine.timers.items()):
                    if timer[0] <= near and machine.timers.get(key) is timer:
                        machine.timers.pop(key)
                        timer[1]()
            line.evaluate(self.t, 0.0, line.y)
            self.settle(cond)
            # An opened lead fuse and an extinguished SCR take the rest of their inductance's energy with them.
            line.evaluate(self.t, 0.0, line.y)
            self.lost_at_once += before - line.stored()
        else:
            raise RuntimeError("too many segments")
        self.recorder.ends()
        return self.results.build()


def simulate(case, rtol=1e-9, sample_times=()):
    return Run(case, rtol, sample_times).go()

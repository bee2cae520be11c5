"""A run by SciPy: Radau or LSODA with the exact Jacobian, a new start at each event in local time, tolerances per state.

Events by root search on the solver's interpolant; integrals by the three-point Gauss rule on it, apart from the error
control, as in the simulator.

    python3 scipy_peer.py FILE --method Radau|LSODA --repeat 3
"""

import argparse
import json
import resource
import time

import numpy
import scipy
from scipy.integrate import LSODA, Radau
from scipy.optimize import brentq

import equations
import line as model
from machine import Machine

GAUSS = ((0.5 - 0.15**0.5, 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.5 + 0.15**0.5, 5.0 / 18.0))


class Run:
    def __init__(self, scenario, start, method):
        self.line = model.Line(scenario, start)
        self.machine = Machine(self.line)
        self.method = {"Radau": Radau, "LSODA": LSODA}[method]
        self.y = list(self.line.y)
        self.totals = numpy.zeros(len(equations.flow_names(self.line)))
        self.work = {"steps": 0, "rejected": None, "evaluations": 0, "jacobians": 0, "factorizations": 0}
        self.scale = numpy.array(self.line.scale)

    def absorb(self, interpolant, a, b):
        for place, weight in GAUSS:
            t = a + place * (b - a)
            self.totals += (b - a) * weight * numpy.array(equations.flows(self.line, t, interpolant(t).tolist()))

    def at_rest(self, t, y):
        """Nothing is to come and nothing moves any more (physics.md, section 9)."""
        left = self.line.t_end - self.machine.base - t
        if self.machine.timers or not left > 0.0:
            return False
        moves = numpy.abs(equations.rates(self.line, t, y.tolist())) * left
        return bool(numpy.all(moves < 1e-6 * numpy.maximum(numpy.abs(y), self.scale)))

    def crossing(self, interpolant, a, b, y):
        """The earliest guard that rises above 0 up to b: (time just behind its root, guard), or (b, None)."""
        equations.look(self.line, b, y)
        earliest, met = b, None
        for guard in [g for g in self.machine.guards if g.active and g.value(y) > 0.0]:

            def value(t, guard=guard):
                state = interpolant(t).tolist()
                equations.look(self.line, t, state)
                return guard.value(state)

            root, nudge = a if value(a) >= 0.0 else brentq(value, a, b, xtol=1e-18, rtol=1e-14), 1e-15 * b
            while root < b and value(root) <= 0.0:
                # On the right side, or the guard of opposite sign would be met at once.
                root, nudge = min(b, root + nudge), 2.0 * nudge
            if met is None or root < earliest:
                earliest, met = root, guard
        return earliest, met

    def segment(self, limit):
        line, work = self.line, self.work
        solver = self.method(
            lambda t, y: equations.rates(line, t, y.tolist()),
            0.0,
            numpy.array(self.y),
            limit,
            rtol=line.rtol,
            atol=line.rtol * self.scale,
            jac=lambda t, y: numpy.array(equations.jacobian(line, t, y.tolist())),
        )
        since, end, met, rest = 0, limit, None, False
        while solver.status == "running":
            a = solver.t
            message = solver.step()
            if solver.status == "failed":
                raise SystemExit(f"{message} at {self.machine.base + solver.t} s")
            work["steps"] += 1
            since += 1
            interpolant = solver.dense_output()
            end, met = self.crossing(interpolant, a, solver.t, solver.y.tolist())
            self.absorb(interpolant, a, end)
            self.y = interpolant(end).tolist() if met else solver.y.tolist()
            rest = not met and since % 8 == 0 and self.at_rest(solver.t, solver.y)
            if met or rest:
                break
        work["evaluations"] += int(solver.nfev)
        work["jacobians"] += int(solver.njev)
        work["factorizations"] += int(solver.nlu)
        return end, met, rest

    def go(self):
        line, machine = self.line, self.machine
        machine.settle(self.y)
        while True:
            left, timer = line.t_end - machine.base, machine.next_timer()
            limit = timer if timer <= left + 1e-13 * line.t_end else left
            t, met, rest = self.segment(limit) if limit > 0.0 else (0.0, None, False)
            machine.shift(t)
            if rest:
                self.totals += (left - t) * numpy.array(equations.flows(line, 0.0, self.y))
            if rest or (met is None and limit == left and timer > limit):
                return self
            machine.act(met, self.y)


def main():
    words = argparse.ArgumentParser()
    words.add_argument("file")
    words.add_argument("--method", choices=["Radau", "LSODA"], default="Radau")
    words.add_argument("--repeat", type=int, default=1)
    options = words.parse_args()
    scenario, start = model.read(options.file)
    seconds = []
    for _ in range(options.repeat):
        begin = time.process_time()
        run = Run(scenario, start, options.method).go()
        seconds.append(time.process_time() - begin)
    answer = {
        "version": scipy.__version__,
        "seconds": seconds,
        "peakMegabytes": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0,
        "work": run.work,
        "events": run.machine.events,
        "integrals": dict(zip(equations.flow_names(run.line), run.totals.tolist())),
    }
    print(json.dumps(answer, indent=1))


if __name__ == "__main__":
    main()

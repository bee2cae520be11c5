"""Changes of mode: guards (met above 0), timers, holds ("without a break for a time") and what they do."""

from math import inf

from equations import look, theta


class Guard:
    def __init__(self, value, action, active=True):
        self.value, self.action, self.active = value, action, active


class Hold:
    """Two guards of opposite sign, of which one is active, and a timer between them."""

    def __init__(self, machine, value, delay, action):
        self.machine, self.delay = machine, delay
        self.met = Guard(value, self.begins, False)
        self.broken = Guard(lambda y: -value(y), lambda y: self.enable(), False)
        machine.guards += [self.met, self.broken]
        self.action = action

    def begins(self, y):
        self.met.active, self.broken.active = False, True
        self.machine.timers[self] = [self.delay, self.ends]

    def ends(self, y):
        self.disable()
        self.action(y)

    def disable(self):
        self.met.active = self.broken.active = False
        self.machine.timers.pop(self, None)

    def enable(self):
        self.disable()
        self.met.active = True


class Machine:
    def __init__(self, line):
        self.line, self.guards, self.timers, self.events = line, [], {}, []
        self.base = self.last = 0.0
        # A law idles at its corner without chatter where the corner is passed by so much (physics.md, section 14, 10).
        self.volts, self.amperes = line.rtol, 10.0 * line.rtol
        self.timers["fault"] = [line.t_fault, self.strikes]
        for s in line.sources:
            self.source(s)
            self.lead_fuse(s)
        for x in line.loads:
            self.lead_fuse(x)
        if line.fuse:
            self.main_fuse(line.fuse)
        if line.scr:
            self.crowbar(line.scr)

    def log(self, owner, part, what):
        self.events.append({"time": self.base, "sincePrevious": self.base - self.last, "what": f"{owner}/{part}: {what}"})
        self.last = self.base

    def guard(self, value, action):
        self.guards.append(Guard(value, action))

    # Sources

    def strikes(self, y):
        self.log("", "line", "fault")
        for s in self.line.sources:
            kind = "none" if s.battery else s.fault["kind"]
            if kind == "shorted pass transistor":
                s.shorted, s.phase = True, "running"
                self.timers.pop((s.name, "restart"), None)
                if s.overload:
                    s.overload.disable()
            elif kind != "none":
                end = s.fault["ceilingVoltage" if kind == "lost feedback" else "endVoltage"]
                s.rise = s.fault["slew"] * (-1.0 if end < s.level else 1.0)
                self.timers[s.name, "arrival"] = [abs(end - s.level) / s.fault["slew"], lambda y, s=s, end=end: self.arrives(s, end)]

    def arrives(self, s, end):
        s.level, s.rise = end, 0.0

    def source(self, s):
        if s.battery:
            if len(s.table) > 2:
                self.guard(lambda y: self.beyond(s, y[s.u]) - self.volts, lambda y: self.line.choose_piece(s, y[s.u]))
            return
        s.overload = None
        if s.style >= 3:
            s.overload = Hold(self, lambda y: s.aimed - s.I_0, s.limit["detectionTime"], lambda y: self.trips(s))
            s.overload.enable()

    def beyond(self, s, emf):
        below = s.table[s.piece][1] - emf if s.piece > 0 else -1.0
        above = emf - s.table[s.piece + 1][1] if s.piece < len(s.table) - 2 else -1.0
        return max(below, above)

    def trips(self, s):
        self.log(s.name, "source", "limiter trips")
        s.overload.disable()
        self.timers.pop((s.name, "ramp"), None)
        s.phase, s.ramp_for = "off", 0.0
        if s.style == 3:
            self.timers[s.name, "restart"] = [s.limit["offTime"], lambda y: self.restarts(s)]

    def restarts(self, s):
        self.log(s.name, "source", "restarts")
        s.phase, s.ramp_for, s.ramp_at = "running", s.limit["rampTime"], 0.0
        if s.ramp_for > 0.0:
            self.timers[s.name, "ramp"] = [s.ramp_for, lambda y: setattr(s, "ramp_for", 0.0)]
        if not s.shorted:
            s.overload.enable()

    # Fuses

    def melt(self, f, i, y):
        total = theta(f, y)
        for at, _, _ in f.stages:
            y[at] /= total
        f.state, f.direction = "clearing", -1 if i < 0.0 else 1

    def lead_fuse(self, owner):
        lead, f = owner.lead, owner.lead.fuse
        if not f:
            return

        def melts(y):
            self.log(owner.name, "in-line fuse", "melts")
            self.melt(f, y[lead.i], y)

        def opens(y):
            self.log(owner.name, "in-line fuse", "open")
            f.state = "open"
            y[lead.i] = 0.0

        self.guard(lambda y: theta(f, y) - 1.0 if f.state == "intact" else -1.0, melts)
        self.guard(lambda y: f.I_ext - f.direction * y[lead.i] if f.state == "clearing" else -1.0, opens)

    def main_fuse(self, f):
        def opens(y):
            self.log("", "main fuse", "open")
            f.state = "open"

        opening = Hold(self, lambda y: f.I_ext - f.direction * self.line.i_fuse, f.t_ext, opens)

        def melts(y):
            self.log("", "main fuse", "melts")
            self.melt(f, self.line.i_fuse, y)
            opening.enable()

        self.guard(lambda y: theta(f, y) - 1.0 if f.state == "intact" else -1.0, melts)

    # The SCR

    def crowbar(self, s):
        line = self.line

        def fires(y):
            self.log("", "crowbar", "fires")
            y[s.i] = 0.0
            s.conducting = s.fired = True
            s.forward = line.v2 > s.V_T0
            turn_off.enable()

        def stops(y):
            self.log("", "crowbar", "stops conducting")
            y[s.i] = 0.0
            s.conducting = s.forward = False
            gate.enable()

        def lets_go(y):
            return min(s.I_H - y[s.i], -1.0 if s.held and s.fired else s.V_trip - y[s.vf])

        def reverses(y):
            y[s.i] = 0.0
            s.forward = False

        def fails(y):
            self.log("", "crowbar", "fails short")
            s.failed = s.conducting = True
            turn_off.disable()
            gate.disable()

        gate = Hold(self, lambda y: y[s.vf] - s.V_trip, s.t_gate, fires)
        turn_off = Hold(self, lets_go, s.t_q, stops)
        gate.enable()
        self.guard(lambda y: -y[s.i] - self.amperes if s.forward else -1.0, reverses)
        self.guard(lambda y: line.v2 - s.V_T0 - self.volts if s.conducting and not s.forward else -1.0, lambda y: setattr(s, "forward", True))
        self.guard(lambda y: -1.0 if s.failed else line.ambient + sum(y[at] for at, _, _ in s.stages) - s.T_fail, fails)

    # The engine

    def next_timer(self):
        return min((left for left, _ in self.timers.values()), default=inf)

    def shift(self, elapsed):
        self.base += elapsed
        for timer in self.timers.values():
            timer[0] -= elapsed
        for s in self.line.sources:
            if not s.battery:
                s.level += s.rise * elapsed
                s.ramp_at += elapsed

    def run_out(self, slack, y):
        for key in [key for key, (left, _) in self.timers.items() if left <= slack]:
            if key in self.timers:
                self.timers.pop(key)[1](y)
                return True
        return False

    def act(self, met, y):
        look(self.line, 0.0, y)
        # Timers meant for one instant may differ by the rounding of the time since they were started.
        while self.run_out(1e-18 + 4e-16 * self.base, y):
            pass
        if met and met.active:
            met.action(y)
        self.settle(y)

    def settle(self, y):
        for _ in range(200):
            look(self.line, 0.0, y)
            guard = next((g for g in self.guards if g.active and g.value(y) > 0.0), None)
            if guard:
                guard.action(y)
            elif not self.run_out(0.0, y):
                return
        raise SystemExit(f"the modes do not settle at {self.base} s")

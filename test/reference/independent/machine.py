"""Changes of mode: conditions (found as roots), timers (found as remaining times) and what they do."""

from parts import Battery, Panel, Supply


class Cond:
    """True while g > 0. A condition keeps its value at its own root; it is read afresh only after it was out of force."""

    def __init__(self, g, on_true=None, on_false=None, active=lambda: True, scale=1.0):
        self.g, self.on_true, self.on_false, self.active, self.scale = g, on_true, on_false, active, scale
        self.value = None


class Machine:
    def __init__(self, line, log):
        self.line, self.log = line, log
        self.timers, self.conds = {}, []
        case = line.case
        self.start("fault", case["t_fault"], self.fault)
        for f in line.feeds:
            if isinstance(f, Supply):
                self.supply(f)
                if f.res and f.res["ripple"]:
                    self.ripple(f)
            self.lead_fuse(f)
        for x in line.loads:
            self.lead_fuse(x)
            for n, s in enumerate(x.d.get("schedule") or []):
                self.start((x, "schedule", n), s["t"], lambda x=x, s=s: self.schedule(x, s))
        if line.fuse:
            self.board_fuse()
        if line.scr:
            self.crowbar()
        if line.clamp:
            c = line.clamp
            if c["fails_short"]:
                self.add(lambda: line.y[line.at_E] - c["E_rating"], self.clamp_fails, active=lambda: not line.clamp_short)
        if line.switch:
            self.series_switch()

    def add(self, *a, **k):
        self.conds.append(Cond(*a, **k))
        return self.conds[-1]

    def start(self, key, t, do):
        self.timers[key] = [t, do]

    def stop(self, *keys):
        for key in keys:
            self.timers.pop(key, None)

    # Feeds

    def fault(self):
        self.log("fault")
        for f in self.line.feeds:
            if isinstance(f, Battery):
                continue
            kind = f.fault["kind"]
            if isinstance(f, Panel):
                f.on = kind == "controller shorted"
            elif kind in ("setting raised", "feedback lost"):
                end = f.fault["V_end" if kind == "setting raised" else "V_ceiling"]
                f.de = f.fault["slew"] * (1.0 if end > f.V_set else -1.0)
                self.start((f, "e"), abs(end - f.V_set) / f.fault["slew"], lambda f=f, end=end: self.e_ends(f, end))
                if kind == "feedback lost" and f.ovp and not f.ovp["works_on_feedback_lost"]:
                    f.ovp_works = False
                    self.stop((f, "ovp"))
            elif kind == "pass element shorted":
                f.shorted, f.off, f.latched, f.ovp_works = True, False, False, False
                f.ramp0, f.dramp = 1.0, 0.0
                self.stop((f, "detect"), (f, "ovp"), (f, "off"), (f, "ramp"))

    def e_ends(self, f, end):
        f.e0, f.de = end, 0.0

    def ripple(self, f):
        # The corner of |sin| ends a segment without being an event.
        half = 0.5 / f.res["f_mains"]
        self.start((f, "ripple"), half, lambda: self.ripple(f))

    def supply(self, f):
        line = self.line
        if f.style in ("hiccup", "latch off"):
            self.add(
                lambda: f.demand(line.tau, line.y[f.at]) - f.I_0,
                lambda: self.start((f, "detect"), f.limit["t_detect"], lambda: self.trips(f, "limiter trips")),
                lambda: self.stop((f, "detect")),
                lambda: not (f.off or f.latched or f.shorted),
            )
        if f.ovp:
            self.add(
                lambda: f.v - f.ovp["V_ovp"],
                lambda: self.start((f, "ovp"), f.ovp["t_ovp"], lambda: self.trips(f, "over-voltage shutdown")),
                lambda: self.stop((f, "ovp")),
                lambda: f.ovp_works and not (f.off or f.latched),
            )

    def trips(self, f, what):
        self.log(f"{f.name}: {what}")
        self.stop((f, "detect"), (f, "ovp"), (f, "ramp"))
        f.ramp0, f.dramp = 1.0, 0.0
        if f.style == "hiccup":
            f.off = True
            self.start((f, "off"), f.limit["t_off"], lambda: self.restarts(f))
        else:
            f.latched = True

    def restarts(self, f):
        self.log(f"{f.name}: restarts")
        f.off = False
        t = f.limit["t_ramp"]
        if t > 0.0:
            f.ramp0, f.dramp = 0.0, 1.0 / t
            self.start((f, "ramp"), t, lambda: self.ramp_ends(f))

    def ramp_ends(self, f):
        f.ramp0, f.dramp = 1.0, 0.0

    # Loads and fuses

    def schedule(self, x, s):
        self.log(f"{x.name}: load changes")
        x.value = s["value"]

    def lead_fuse(self, owner):
        line, f = self.line, owner.lead.fuse
        if not f:
            return
        at = owner.at_i

        def opens():
            self.log(f"{f.name}: open")
            f.state = "open"
            line.y[at] = 0.0

        n = len(f.w)
        self.add(
            lambda: sum(line.y[at + 2 : at + 2 + n]) - 1.0,
            lambda: self.melts(f, line.y[at]),
            active=lambda: f.state == "intact",
        )
        self.add(lambda: f.I_ext - f.sign * line.y[at], opens, active=lambda: f.state == "clearing")

    def melts(self, f, i):
        self.log(f"{f.name}: melts")
        f.state, f.sign = "clearing", 1 if i >= 0.0 else -1

    def board_fuse(self):
        line, f = self.line, self.line.fuse

        def opens():
            self.log("board fuse: open")
            f.state = "open"

        n = len(f.w)
        self.add(
            lambda: sum(line.y[line.at_fuse : line.at_fuse + n]) - 1.0,
            lambda: self.melts(f, line.i_fuse),
            active=lambda: f.state == "intact",
        )
        self.add(
            lambda: f.I_ext - abs(line.i_fuse),
            lambda: self.start("board fuse", f.t_ext, opens),
            lambda: self.stop("board fuse"),
            lambda: f.state == "clearing",
        )

    # Protector

    def crowbar(self):
        line, s = self.line, self.line.scr
        i = lambda: line.y[line.at_scr]
        held = lambda: s["variant"] == "held" and line.fired
        driven = self.add(
            lambda: line.y[line.at_vf] - s["V_trip"],
            lambda: (
                self.stop("quench"),
                None if line.conducting else self.start("gate", s["t_gate"], self.fires),
            ),
            lambda: (self.stop("gate"), self.quench()),
            lambda: not line.scr_short and not held(),
        )
        self.driven = lambda: held() or bool(driven.value)
        self.low = self.add(
            lambda: s["I_H"] - i(),
            self.quench,
            lambda: self.stop("quench"),
            lambda: line.conducting and not line.scr_short,
        )
        self.add(lambda: -i(), self.flow_ends, active=lambda: line.conducting and line.flowing)
        self.add(lambda: line.vG - s["V_T0"], self.flow_begins, active=lambda: line.conducting and not line.flowing)
        self.add(lambda: line.Tj - s["T_fail"], self.scr_fails, active=lambda: line.conducting and not line.scr_short)

    def quench(self):
        if self.line.conducting and self.low.value and not self.driven():
            self.start("quench", self.line.scr["t_q"], self.scr_stops)

    def fires(self):
        line = self.line
        self.log("SCR fires")
        line.conducting = line.fired = True
        line.y[line.at_scr] = 0.0
        line.flowing = line.vG > line.scr["V_T0"]
        if line.scr["variant"] == "latched":
            line.latched = True
            self.stop("retry")
            if line.switch_state == "closed":
                self.switch_starts()

    def scr_stops(self):
        line = self.line
        self.log("SCR stops conducting")
        line.conducting = line.flowing = False
        line.y[line.at_scr] = 0.0
        if self.driven():
            self.start("gate", line.scr["t_gate"], self.fires)

    def scr_fails(self):
        self.log("SCR fails short")
        self.stop("quench", "gate")
        self.line.scr_short = True

    def flow_ends(self):
        self.line.flowing = False
        self.line.y[self.line.at_scr] = 0.0

    def flow_begins(self):
        # Exactly 0: what rounding left, if negative, would count as a current that has already reversed.
        self.line.y[self.line.at_scr] = 0.0
        self.line.flowing = True

    def clamp_fails(self):
        self.log("clamp fails short")
        self.line.clamp_short = True

    # Series switch

    def series_switch(self):
        line, s = self.line, self.line.switch
        vf = lambda: line.y[line.at_sw]
        self.add(lambda: vf() - s["V_off"], self.switch_starts, active=lambda: line.switch_state == "closed")
        self.add(
            lambda: s["I_ext"] - abs(line.i_sw),
            lambda: self.start("switch", s["t_ext"], self.switch_opens),
            lambda: self.stop("switch"),
            lambda: line.switch_state == "clearing",
        )
        if s["recloses"]:
            self.add(
                lambda: s["V_on"] - vf(),
                lambda: self.start("retry", s["t_retry"], self.switch_recloses),
                lambda: self.stop("retry"),
                lambda: line.switch_state == "open" and not line.latched,
            )

    def switch_starts(self):
        self.log("switch starts to open")
        self.line.switch_state = "opening"
        self.start("switch", self.line.switch["t_open"], self.switch_clears)

    def switch_clears(self):
        self.log("switch clears")
        self.line.switch_state = "clearing"
        self.line.switch_sign = 1 if self.line.i_sw >= 0.0 else -1

    def switch_opens(self):
        self.log("switch open")
        self.line.switch_state = "open"

    def switch_recloses(self):
        self.log("switch recloses")
        self.line.switch_state = "closed"

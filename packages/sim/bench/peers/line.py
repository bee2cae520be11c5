"""The line of packages/sim/docs/physics.md as one system of ordinary differential equations, for SciPy.

Plain floats and lists: arrays of so few numbers cost more than they save. What no case of the bench uses is refused.
"""

from types import SimpleNamespace

KAPPA = 5.0e-15
STYLES = ("none", "constant current", "foldback", "hiccup", "latch off")


def read(path):
    """Lines `path<tab>value` back to nested maps and lists."""
    top = {}
    with open(path) as file:
        rows = [line.rstrip("\n").split("\t") for line in file]
    start = {key[len("start.") :]: float(value) for key, value in rows if key.startswith("start.")}
    for key, value in rows:
        if key.startswith("start.") or key.endswith(".length"):
            continue
        *above, last = key.split(".")
        place = top
        for step in above:
            place = place[int(step) if isinstance(place, list) else step]
        found = {} if value == "map" else [] if value == "list" else plain(value)
        if isinstance(place, list):
            place.append(found)
        else:
            place[last] = found
    return top, start


def plain(value):
    if value in ("null", "true", "false"):
        return {"null": None, "true": True, "false": False}[value]
    try:
        return float(value)
    except ValueError:
        return value


def refuse(wrong, what):
    if wrong:
        raise SystemExit(f"not modelled by this peer: {what}")


class Line:
    def __init__(self, scenario, start):
        self.names, self.scale, self.y = [], [], []
        self.values = start
        refuse(scenario["start of run"] != "operating" or scenario["clamp"] or scenario["seriesSwitch"], "start, clamp, switch")
        self.t_fault, self.t_end = scenario["faultTime"], scenario["endTime"]
        self.ambient, self.rtol = scenario["ambient"], scenario["tolerance"]
        self.sources = [self.source(s) for s in scenario["sources"]]
        self.loads = [self.load(x) for x in scenario["loads"]]
        self.scr = self.crowbar(scenario["crowbar"]) if scenario["crowbar"] else None
        nodes = scenario["nodes"]
        self.fuse = self.add_fuse(scenario["mainFuse"], "main fuse") if scenario["mainFuse"] else None
        if self.fuse:
            self.C1, self.r1 = nodes["supplySide"]["capacitance"], nodes["supplySide"]["resistance"]
            self.u1 = self.state("vC1")
        self.C2, self.r2 = nodes["protectedSide"]["capacitance"], nodes["protectedSide"]["resistance"]
        self.u2 = self.state("vC2")
        self.n = len(self.y)
        self.i_fuse = 0.0

    def state(self, name, scale=1.0):
        self.names.append(name)
        self.scale.append(scale)
        self.y.append(self.values[name])
        return len(self.y) - 1

    def add_fuse(self, d, owner):
        f = SimpleNamespace(owner=owner, R_cold=d["coldResistance"], k=d["resistanceRatio"], I_inf=d["meltingCurrentAtAmbient"])
        f.V_arc, f.I_ext, f.t_ext = d["arcVoltage"], d["extinctionCurrent"], d["extinctionTime"]
        f.at = len(self.y)
        f.stages = [(self.state(f"{owner}.theta{m + 1}", 0.1), s["weight"], s["timeConstant"]) for m, s in enumerate(d["stages"])]
        f.state, f.direction = "intact", 1
        return f

    def lead(self, d, owner):
        x = SimpleNamespace(L=d["inductance"], wire=d["resistance"], area=d["copperArea"], tau=d["thermalTimeConstant"])
        refuse(d["contact"], "contact")
        x.dT = self.state(f"{owner}.dT")
        x.fuse = self.add_fuse(d["fuse"], f"{owner} fuse") if d["fuse"] else None
        x.i = self.state(f"{owner}.i")
        return x

    def source(self, d):
        refuse(d["diode"] or d["kind"] == "panel", "diode, panel")
        s = SimpleNamespace(name=d["name"], lead=self.lead(d["lead"], d["name"]), battery=d["kind"] == "battery")
        if s.battery:
            s.u = self.state(f"{s.name}.vb")
            s.r, s.capacity = d["internalResistance"], d["capacityAh"]
            s.table = [(p["charge"], p["emf"]) for p in d["emfTable"]] if d["emfTable"] else [(0.0, 0.0), (1.0, d["emfPerCharge"])]
            self.choose_piece(s, self.y[s.u])
            return s
        refuse(d["shutdown"] or d["ownCrowbar"] or (d["reservoir"] and d["reservoir"]["ripple"]), "own OVP, own crowbar, ripple")
        s.u = self.state(f"{s.name}.vo")
        s.is_ = self.state(f"{s.name}.is")
        s.C, s.r, s.bleed = d["outputCapacitance"], d["esr"], d["bleederResistance"]
        s.V_set, s.R_s, s.tau = d["setVoltage"], d["sourceResistance"], d["responseTime"]
        limit, s.fault = d["limit"], d["fault"]
        s.style = STYLES.index(limit["style"])
        s.I_0 = limit.get("current")
        s.I_sc = limit.get("shortCircuitCurrent", s.I_0)
        s.limit = limit
        s.res = d["reservoir"]
        if s.res:
            s.u_res = self.state(f"{s.name}.vres")
        s.phase, s.shorted, s.level, s.rise, s.ramp_for, s.ramp_at = "running", False, s.V_set, 0.0, 0.0, 0.0
        return s

    def choose_piece(self, s, emf):
        s.piece = 0
        while s.piece < len(s.table) - 2 and emf > s.table[s.piece + 1][1]:
            s.piece += 1
        (q0, v0), (q1, v1) = s.table[s.piece], s.table[s.piece + 1]
        s.C = 3600.0 * s.capacity * (q1 - q0) / (v1 - v0)

    def load(self, d):
        refuse(d["clamp"] or d["dropOut"] or d["schedule"] or d["kind"] == "lamp", "load's clamp, drop out, schedule, lamp")
        x = SimpleNamespace(name=d["name"], lead=self.lead(d["lead"], d["name"]), kind=d["kind"])
        x.u = self.state(f"{x.name}.vc")
        x.C, x.r = d["inputCapacitance"], d["esr"]
        x.value = d["resistance"] if x.kind == "resistive" else d["current"] if x.kind == "constant current" else d["power"]
        x.knee = 0.0 if x.kind == "resistive" else d["kneeVoltage"]
        return x

    def crowbar(self, d):
        refuse(d["variant"] == "latched" or d["latchingCurrent"] or d["stubResistance"], "disconnect, latching current, stub")
        s = SimpleNamespace(held=d["variant"] == "held", V_trip=d["tripVoltage"], tau_f=d["senseTimeConstant"], t_gate=d["gateDelay"])
        s.V_T0, s.r_T, s.L, s.leak = d["thresholdVoltage"], d["slopeResistance"], d["inductance"], d["leakResistance"]
        s.I_H, s.t_q, s.T_fail = d["holdingCurrent"], d["turnOffTime"], d["failTemperature"]
        ladder = [(x["resistance"], x["timeConstant"]) for x in d["junctionStages"]]
        ladder.append((d["caseToAmbient"], d["caseToAmbient"] * d["caseHeatCapacity"]))
        s.stages = [(self.state(f"dTj{k + 1}"), R, tau) for k, (R, tau) in enumerate(ladder)]
        s.vf, s.i = self.state("vf"), self.state("i_scr")
        s.conducting = s.forward = s.fired = s.failed = False
        return s

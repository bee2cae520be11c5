"""The parts of a line: what each holds (constants, mode) and its equations between two changes of mode (physics.md 2 to 7)."""

from math import exp, inf, pi, sin, sqrt

KAPPA = 5.0e-15


class Fuse:
    """Thermal fuse of section 3; `state` intact, clearing or open; `sign` of the current at melting."""

    def __init__(self, data, name, T_amb):
        self.name, self.k, self.R_cold = name, data["k"], data["R_cold"]
        self.w = [s["w"] for s in data["stages"]]
        self.tau = [s["tau"] for s in data["stages"]]
        self.V_arc, self.I_ext, self.t_ext = data["V_arc"], data["I_ext"], data.get("t_ext", 0.0)
        self.cold = data["start"] == "cold"
        derate = 1.0
        if data.get("T_melt") is not None:
            derate = sqrt((data["T_melt"] - T_amb) / (data["T_melt"] - 25.0))
        self.I_inf = data["I_inf"] * derate
        self.state, self.sign = "intact", 0
        self.t_overload = self.t_melt = self.t_open = None

    def resting_theta(self, i):
        x = (i / self.I_inf) ** 2
        return 0.0 if self.cold else x / (self.k - x * (self.k - 1.0))

    def resistance(self, theta):
        return self.R_cold * (1.0 + (self.k - 1.0) * (theta if self.state == "intact" else 1.0))

    def rates(self, i, thetas):
        if self.state != "intact":
            return [0.0] * len(self.w)
        x = (i / self.I_inf) ** 2
        q = x * (1.0 + (self.k - 1.0) * sum(thetas)) / self.k
        return [(w * q - th) / tau for w, th, tau in zip(self.w, thetas, self.tau)]


class Lead:
    """Lead with its fuse: states i, dT, theta_m."""

    def __init__(self, owner, T_amb):
        d = owner["lead"]
        self.L, self.R, self.area, self.tau_w = d["L"], d["R_wire"], d["area"], d["tau_w"]
        f = owner.get("lead_fuse")
        self.fuse = Fuse(f, owner["name"] + " lead fuse", T_amb) if f else None
        self.names = ["i", "dT"]

    def size(self):
        return 2 + (len(self.fuse.w) if self.fuse else 0)

    def rates(self, y, at, drive, dy):
        """drive = v_from − v_to."""
        i = y[at]
        R, arc = self.R, 0.0
        f = self.fuse
        if f:
            thetas = y[at + 2 : at + 2 + len(f.w)]
            R += f.resistance(sum(thetas))
            dy[at + 2 : at + 2 + len(f.w)] = f.rates(i, thetas)
            if f.state == "clearing":
                arc = f.sign * f.V_arc
        dy[at] = 0.0 if f and f.state == "open" else (drive - R * i - arc) / self.L
        dy[at + 1] = KAPPA * i * i / self.area**2 - y[at + 1] / self.tau_w

    def loss(self, y, at):
        i = y[at]
        f = self.fuse
        p = self.R * i * i
        if f and f.state != "open":
            p += f.resistance(sum(y[at + 2 : at + 2 + len(f.w)])) * i * i
            if f.state == "clearing":
                p += f.sign * f.V_arc * i
        return p

    def across_fuse(self, y, at, drive):
        f = self.fuse
        if f.state == "open":
            return drive
        v = f.resistance(sum(y[at + 2 : at + 2 + len(f.w)])) * y[at]
        return v + (f.sign * f.V_arc if f.state == "clearing" else 0.0)


class Supply:
    """Section 2.1. e moves linearly within a segment (e0, de), the restart ramp too (ramp0, dramp)."""

    def __init__(self, d, T_amb):
        self.name, self.d, self.lead = d["name"], d, Lead(d, T_amb)
        self.V_set, self.R_s, self.tau_s = d["V_set"], d["R_s"], d["tau_s"]
        self.C_o, self.r_o, self.R_b = d["C_o"], d["r_o"], d["R_bleed"]
        self.limit, self.fault = d["limit"], d["fault"]
        self.style, self.I_0 = self.limit["style"], self.limit.get("I_0", inf)
        self.res, self.ovp = d.get("reservoir"), d.get("ovp")
        self.ovp_works = self.ovp is not None
        self.e0, self.de, self.ramp0, self.dramp = self.V_set, 0.0, 1.0, 0.0
        self.off = self.latched = self.shorted = False
        self.names = ["vo", "is"] + (["vres"] if self.res else [])
        self.n = len(self.names)

    def e(self, tau):
        return (self.e0 + self.de * tau) * min(max(self.ramp0 + self.dramp * tau, 0.0), 1.0)

    def advance(self, h):
        self.e0 += self.de * h
        self.ramp0 += self.dramp * h

    def demand(self, tau, vo):
        return (self.e(tau) - vo) / self.R_s

    def raw(self, t):
        r = self.res
        return r["V_raw"] * abs(sin(2.0 * pi * r["f_mains"] * t)) if r["ripple"] else r["V_raw"]

    def terminal(self, y, at):
        return (y[at] + self.r_o * (y[at + 1] - y[at + self.n])) / (1.0 + self.r_o / self.R_b)

    def rates(self, t, tau, y, at, v, dy):
        vo, i_s = y[at], y[at + 1]
        if self.shorted:
            want = max(y[at + 2] - vo, 0.0) / self.fault["R_pass"]
        elif self.off or self.latched:
            want = 0.0
        else:
            top = inf
            if self.style == "foldback":
                I_sc = self.limit["I_sc"]
                top = I_sc + (self.I_0 - I_sc) * min(max(vo / self.V_set, 0.0), 1.0)
            elif self.style != "none":
                top = self.I_0
            if self.res:
                top = min(top, max(y[at + 2] - vo, 0.0) / self.res["R_drop"])
            want = min(max(self.demand(tau, vo), 0.0), top)
        dy[at] = (i_s - y[at + self.n] - v / self.R_b) / self.C_o
        dy[at + 1] = (want - i_s) / self.tau_s
        if self.res:
            rect = max(self.raw(t) - y[at + 2], 0.0) / self.res["R_raw"]
            dy[at + 2] = (rect - i_s) / self.res["C_res"]

    def energy(self, y, at, v):
        """Power fed, power lost, energy stored."""
        net = y[at + 1] - v / self.R_b
        return v * net, self.r_o * (net - y[at + self.n]) ** 2, 0.5 * self.C_o * y[at] ** 2


class Battery:
    def __init__(self, d, T_amb):
        self.name, self.d, self.lead = d["name"], d, Lead(d, T_amb)
        self.R = d["R_int"]
        self.C = 3600.0 * d["capacity_Ah"] / d["dEMF_dSOC"]
        self.names, self.n = ["vb"], 1

    def advance(self, h):
        pass

    def terminal(self, y, at):
        return y[at] - self.R * y[at + 1]

    def rates(self, t, tau, y, at, v, dy):
        dy[at] = -y[at + 1] / self.C

    def energy(self, y, at, v):
        return y[at] * y[at + 1], self.R * y[at + 1] ** 2, 0.0


class Panel:
    """Section 2.3: `on` once the controller has failed shorted."""

    def __init__(self, d, T_amb):
        self.name, self.d, self.lead = d["name"], d, Lead(d, T_amb)
        self.I_sc, self.V_oc, self.V_a, self.C_o, self.r_o = (d[k] for k in ("I_sc", "V_oc", "V_a", "C_o", "r_o"))
        self.fault, self.on = d["fault"], False
        self.names, self.n = ["vo"], 1

    def advance(self, h):
        pass

    def current(self, vo):
        if not self.on:
            return 0.0
        return max(self.I_sc * (1.0 - (exp(min(vo / self.V_a, 600.0)) - 1.0) / (exp(self.V_oc / self.V_a) - 1.0)), 0.0)

    def terminal(self, y, at):
        return y[at] + self.r_o * (self.current(y[at]) - y[at + 1])

    def rates(self, t, tau, y, at, v, dy):
        dy[at] = (self.current(y[at]) - y[at + 1]) / self.C_o

    def energy(self, y, at, v):
        i_s = self.current(y[at])
        return v * i_s, self.r_o * (i_s - y[at + 1]) ** 2, 0.5 * self.C_o * y[at] ** 2


class Load:
    """Section 7: lead states first, then vc (C_l > 0) and T (lamp). After `evaluate`: v (terminal) and i (drawn)."""

    def __init__(self, d, T_amb):
        self.name, self.d, self.lead, self.kind = d["name"], d, Lead(d, T_amb), d["kind"]
        self.C, self.r = d["C_l"], d["r_l"]
        self.value = d.get({"resistive": "R", "constant current": "I", "constant power": "P"}.get(self.kind, ""))
        self.names = (["vc"] if self.C > 0 else []) + (["T"] if self.kind == "lamp" else [])
        if self.kind == "lamp":
            self.R_n = d["V_n"] ** 2 / d["P_0"]

    def lamp_R(self, T):
        return self.R_n * (T / self.d["T_n"]) ** self.d["a"]

    def lamp_loss(self, T):
        d = self.d
        return d["P_0"] * (T**4 - d["T_0"] ** 4) / (d["T_n"] ** 4 - d["T_0"] ** 4)

    def resistance(self, y, end):
        return self.value if self.kind == "resistive" else self.lamp_R(y[end + len(self.names) - 1])

    def draw(self, vc, y, end):
        if self.kind in ("resistive", "lamp"):
            return vc / self.resistance(y, end)
        knee = self.d["V_knee"]
        if self.kind == "constant current":
            return self.value if vc >= knee else self.value * vc / knee
        return self.value / vc if vc >= knee else self.value * vc / knee**2

    def evaluate(self, y, at):
        end = at + self.lead.size()
        if self.C > 0:
            self.i = self.draw(y[end], y, end)
            self.v = y[end] + self.r * (y[at] - self.i)
        else:
            self.i = y[at]
            self.v = y[at] * self.resistance(y, end)

    def rates(self, y, at, dy):
        end = at + self.lead.size()
        vc = y[end] if self.C > 0 else self.v
        if self.C > 0:
            dy[end] = (y[at] - self.i) / self.C
        if self.kind == "lamp":
            T = y[end + len(self.names) - 1]
            dy[end + len(self.names) - 1] = (vc * vc / self.lamp_R(T) - self.lamp_loss(T)) / self.d["C_th"]

    def energy(self, y, at):
        """Power lost in load and r_l, energy stored."""
        p = self.v * self.i
        if self.C > 0:
            p += self.r * (y[at] - self.i) ** 2
            return p, 0.5 * self.C * y[at + self.lead.size()] ** 2
        return p, 0.0


FEEDS = {"supply": Supply, "battery": Battery, "panel": Panel}

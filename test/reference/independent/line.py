"""The whole line: layout of the state vector, exact solution of the node equations, right-hand side, powers."""

from itertools import product
from math import inf

from parts import FEEDS, Fuse, Load


class Line:
    """`evaluate(t, tau, y)` fills in every voltage and current (t absolute, tau since the segment's start) and gives dy."""

    def __init__(self, case):
        self.case, T = case, case["T_amb"]
        self.T_amb = T
        self.feeds = [FEEDS[d["kind"]](d, T) for d in case["feeds"]]
        self.loads = [Load(d, T) for d in case["loads"]]
        self.fuse = Fuse(case["board_fuse"], "board fuse", T) if case.get("board_fuse") else None
        self.scr, self.clamp, self.switch = case.get("scr"), case.get("clamp"), case.get("switch")
        self.switch_state, self.switch_sign, self.latched = "closed", 0, False
        self.conducting = self.flowing = self.fired = self.scr_short = self.clamp_short = False
        n = case["nodes"]
        self.C2, self.r2 = n["C2"], n["r2"]
        self.C1, self.r1, self.C3, self.r3 = (n.get(k) for k in ("C1", "r1", "C3", "r3"))
        self.lay_out()

    def lay_out(self):
        names, scale, quiet = [], [], []

        def add(name, s=1.0):
            names.append(name)
            scale.append(s)
            return len(names) - 1

        def lead(owner):
            owner.at_i = add(owner.name + ".i")
            add(owner.name + ".dT")
            if owner.lead.fuse:
                for m in range(len(owner.lead.fuse.w)):
                    add(f"{owner.lead.fuse.name}.theta{m + 1}", 0.1)

        for f in self.feeds:
            f.at = len(names)
            for s in f.names:
                add(f"{f.name}.{s}")
            lead(f)
        if self.fuse:
            self.at_fuse = len(names)
            for m in range(len(self.fuse.w)):
                add(f"board fuse.theta{m + 1}", 0.1)
        self.at_C1 = add("vC1") if self.fuse else None
        self.at_C2 = add("vC2")
        self.at_C3 = add("vC3") if self.switch else None
        if self.scr:
            s = self.scr
            self.at_vf, self.at_scr = add("vf"), add("i_scr")
            self.foster = [(x["R"], x["tau"]) for x in s["foster"]] + [(s["R_thCA"], s["R_thCA"] * s["C_case"])]
            self.at_Tj = len(names)
            for m in range(len(self.foster)):
                add(f"dTj{m + 1}")
        if self.clamp:
            self.at_clamp = add("dTclamp")
            self.at_E = add("clamp energy", 0.01)
            quiet.append("clamp energy")
        self.at_sw = add("vf_switch") if self.switch else None
        for x in self.loads:
            x.at = len(names)
            lead(x)
            for s in x.names:
                add(f"{x.name}.{s}")
        self.names, self.scale, self.quiet = names, scale, quiet

    def nodes(self, y, J_feed, J_load):
        """Every combination of conducting states is tried; monotone, so the one that agrees with itself is the answer."""
        i_scr = y[self.at_scr] if self.scr and self.conducting else 0.0
        base_g, base = 1.0 / self.r2, y[self.at_C2] / self.r2 - i_scr
        self.g_leak = 1.0 / self.scr["R_leak"] if self.scr and not self.conducting else 0.0
        base_g += self.g_leak
        if self.fuse:
            a1, f = y[self.at_C1] + self.r1 * J_feed, self.fuse
            Z1 = self.r1 + f.resistance(sum(y[self.at_fuse : self.at_fuse + len(f.w)]))
            E1 = f.sign * f.V_arc if f.state == "clearing" else 0.0
            tries1 = {"intact": (1,), "open": (0,), "clearing": (1, 0)}[f.state]
        else:
            base += J_feed
            tries1 = (0,)
        if self.switch:
            a3, s = y[self.at_C3] - self.r3 * J_load, self.switch
            Z3 = self.r3 + s["R_on"]
            E3 = self.switch_sign * s["V_arc"] if self.switch_state == "clearing" else 0.0
            tries3 = {"closed": (1,), "opening": (1,), "open": (0,), "clearing": (1, 0)}[self.switch_state]
        else:
            base -= J_load
            tries3 = (0,)
        c = self.clamp
        best = inf
        for c1, c3, cc in product(tries1, tries3, ((1,) if self.clamp_short else (0, 1)) if c else (0,)):
            g, r = base_g, base
            if c1:
                g, r = g + 1.0 / Z1, r + (a1 - E1) / Z1
            if c3:
                g, r = g + 1.0 / Z3, r + (a3 + E3) / Z3
            V_c, R_c = (0.0, c["R_short"]) if self.clamp_short else (c["V_BR"], c["r_d"]) if cc else (0.0, 1.0)
            if cc:
                g, r = g + 1.0 / R_c, r + V_c / R_c
            v = r / g
            wrong = 0.0
            if len(tries1) == 2:
                drop = f.sign * (a1 - v - E1)
                wrong = max(wrong, -drop if c1 else drop)
            if len(tries3) == 2:
                drop = self.switch_sign * (v - a3 - E3)
                wrong = max(wrong, -drop if c3 else drop)
            if c and not self.clamp_short:
                wrong = max(wrong, c["V_BR"] - v if cc else v - c["V_BR"])
            if wrong < best:
                best, answer = wrong, (c1, c3, cc, v, V_c, R_c)
            if wrong <= 0.0:
                break
        c1, c3, cc, v, V_c, R_c = answer
        self.vG = v
        self.i_fuse = (a1 - v - E1) / Z1 if c1 else 0.0
        self.vL = a1 - self.r1 * self.i_fuse if self.fuse else v
        self.i_sw = (v - a3 - E3) / Z3 if c3 else 0.0
        self.vO = a3 + self.r3 * self.i_sw if self.switch else v
        self.i_clamp = (v - V_c) / R_c if cc else 0.0
        self.J_feed, self.J_load = J_feed, J_load

    def evaluate(self, t, tau, y):
        y = y if isinstance(y, list) else y.tolist()
        self.t, self.tau = t, tau
        dy = [0.0] * len(y)
        J_feed = J_load = 0.0
        for f in self.feeds:
            J_feed += y[f.at_i]
        for x in self.loads:
            J_load += y[x.at_i]
            x.evaluate(y, x.at)
        self.nodes(y, J_feed, J_load)
        for f in self.feeds:
            f.v = f.terminal(y, f.at)
            f.rates(t, tau, y, f.at, f.v, dy)
            f.lead.rates(y, f.at_i, f.v - self.vL, dy)
        for x in self.loads:
            x.lead.rates(y, x.at_i, self.vO - x.v, dy)
            x.rates(y, x.at, dy)
        if self.fuse:
            n = len(self.fuse.w)
            dy[self.at_fuse : self.at_fuse + n] = self.fuse.rates(self.i_fuse, y[self.at_fuse : self.at_fuse + n])
            dy[self.at_C1] = (self.vL - y[self.at_C1]) / self.r1 / self.C1
        dy[self.at_C2] = (self.vG - y[self.at_C2]) / self.r2 / self.C2
        if self.switch:
            dy[self.at_C3] = (self.vO - y[self.at_C3]) / self.r3 / self.C3
            sensed = self.vL if self.switch["sense"] == "line" else self.vG
            dy[self.at_sw] = (sensed - y[self.at_sw]) / self.switch["tau_f"]
        self.P_scr = 0.0
        if self.scr:
            s = self.scr
            dy[self.at_vf] = (self.vG - y[self.at_vf]) / s["tau_f"]
            if self.conducting:
                i = y[self.at_scr]
                self.P_scr = (s["V_T0"] + s["r_T"] * i) * i
                if self.flowing:
                    dy[self.at_scr] = (self.vG - s["V_T0"] - s["r_T"] * i) / s["L_scr"]
            for m, (R, tau_k) in enumerate(self.foster):
                dy[self.at_Tj + m] = (R * self.P_scr - y[self.at_Tj + m]) / tau_k
            self.Tj = self.T_amb + sum(y[self.at_Tj : self.at_Tj + len(self.foster)])
        if self.clamp:
            c = self.clamp
            p = self.vG * self.i_clamp
            dy[self.at_clamp] = (c["R_th"] * p - y[self.at_clamp]) / c["tau"]
            dy[self.at_E] = p
        self.y, self.dy = y, dy
        return dy

    def powers(self):
        """(fed, lost) of the state last evaluated."""
        y, fed, lost = self.y, 0.0, 0.0
        for f in self.feeds:
            p, q, _ = f.energy(y, f.at, f.v)
            fed, lost = fed + p, lost + q + f.lead.loss(y, f.at_i)
        for x in self.loads:
            lost += x.energy(y, x.at)[0] + x.lead.loss(y, x.at_i)
        lost += (self.vG - y[self.at_C2]) ** 2 / self.r2
        if self.fuse:
            lost += (self.vL - y[self.at_C1]) ** 2 / self.r1 + (self.vL - self.vG) * self.i_fuse
        if self.switch:
            lost += (self.vO - y[self.at_C3]) ** 2 / self.r3 + (self.vG - self.vO) * self.i_sw
        return fed, lost + self.P_scr + self.g_leak * self.vG**2 + self.vG * self.i_clamp

    def stored(self):
        y = self.y
        e = 0.5 * self.C2 * y[self.at_C2] ** 2
        for f in self.feeds:
            e += f.energy(y, f.at, f.v)[2] + 0.5 * f.lead.L * y[f.at_i] ** 2
            # The reservoir lies before the terminals, where `fed` is counted: it is no part of the balance.
        for x in self.loads:
            e += x.energy(y, x.at)[1] + 0.5 * x.lead.L * y[x.at_i] ** 2
        if self.fuse:
            e += 0.5 * self.C1 * y[self.at_C1] ** 2
        if self.switch:
            e += 0.5 * self.C3 * y[self.at_C3] ** 2
        if self.scr and self.conducting:
            e += 0.5 * self.scr["L_scr"] * y[self.at_scr] ** 2
        return e

"""From what the recorder saw to the keys of a result."""

from math import inf, sqrt

from scipy.integrate import solve_ivp

from parts import Battery, Supply


class Results:
    def __init__(self, run):
        self.run = run
        line, r = run.line, run.recorder
        self.line, self.r = line, r
        self.after_fault = False
        r.integral("fed", lambda: line.powers()[0])
        r.integral("lost", lambda: line.powers()[1])
        r.peak("line", lambda: line.vL)
        r.peak("guarded", lambda: line.vG)
        for x in line.loads:
            self.load(x)
        for f in line.feeds:
            r.peak((f, "v"), lambda f=f: f.v)
            if isinstance(f, Battery):
                self.battery(f)
        for owner in line.feeds + line.loads:
            at = owner.at_i
            r.integral((owner, "i2"), lambda at=at: line.y[at] ** 2)
            r.peak((owner, "dT"), lambda at=at: line.y[at + 1])
        self.fuses = []
        if line.fuse:
            n = len(line.fuse.w)
            self.fuse(line.fuse, lambda: line.i_fuse, line.at_fuse, n, lambda: line.vL - line.vG)
        for f in line.feeds + line.loads:
            if f.lead.fuse:
                sense = (lambda f=f: f.v - line.vL) if f in line.feeds else (lambda f=f: line.vO - f.v)
                across = lambda f=f, sense=sense: f.lead.across_fuse(line.y, f.at_i, sense())
                self.fuse(f.lead.fuse, lambda f=f: line.y[f.at_i], f.at_i + 2, len(f.lead.fuse.w), across)
        if line.scr:
            i = lambda: line.y[line.at_scr] if line.conducting else 0.0
            r.peak("i_scr", i)
            r.peak("didt", lambda: line.dy[line.at_scr])
            r.peak("Tj", lambda: line.Tj)
            r.integral("scr i2", lambda: i() ** 2)
            r.integral("scr P", lambda: line.P_scr)
            r.integral("on", lambda: 1.0 if line.conducting else 0.0)
            self.fired, self.stopped, self.marks, self.cycle_peaks = [], [], [], []
            for x in line.loads:
                r.peak((x, "cycle"), lambda x=x: x.v)
        if line.clamp:
            r.peak("i_clamp", lambda: line.i_clamp)
            r.peak("dT_clamp", lambda: line.y[line.at_clamp])
            self.clamp_failed = None
        self.sw_start, self.sw_open, self.sw_reclose = [], [], []

    def load(self, x):
        r, d = self.r, x.d
        r.peak((x, "v"), lambda: x.v)
        above = lambda V: lambda: x.v - V
        self_above = r.span(above(d["v_max"]))
        below = r.span(lambda: d["v_min"] - x.v, active=lambda: self.after_fault)
        levels = [(w, r.span(above(w["V"]))) for w in d.get("withstand") or []]
        x.spans = self_above, below, levels

    def battery(self, f):
        d = f.d
        f.soc = lambda: d["SOC_0"] + (self.line.y[f.at] - d["EMF_0"]) / d["dEMF_dSOC"]
        self.r.peak((f, "full"), f.soc)
        self.r.peak((f, "empty"), lambda: -f.soc())

    def fuse(self, f, i, at, n, across):
        r, line = self.r, self.line
        r.integral((f, "i2"), lambda: i() ** 2)
        r.peak((f, "theta"), lambda: sum(line.y[at : at + n]))
        r.peak((f, "v"), lambda: abs(across()) if f.state != "intact" else -inf)

        def rise(t, totals):
            if f.state == "intact":
                f.t_overload, f.i2_overload = t, totals[(f, "i2")]

        r.span(lambda: abs(i()) - f.I_inf, rise)
        self.fuses.append((f, at, n))

    def on_event(self, what):
        t, r, line = self.run.t, self.r, self.line
        if what == "fault":
            self.after_fault = True
        elif what == "SCR fires":
            if self.fired:
                self.cycle_peaks.append([r.best[(x, "cycle")] for x in line.loads])
            for x in line.loads:
                r.best[(x, "cycle")] = x.v
            self.fired.append(t)
            self.marks.append(dict(r.total))
            self.last_y = list(line.y)
            r.open_window(0.01)
        elif what == "SCR stops conducting":
            self.stopped.append(t)
        elif what == "clamp fails short":
            self.clamp_failed = t
        elif what.startswith("switch"):
            times = {"starts to open": self.sw_start, "open": self.sw_open, "recloses": self.sw_reclose}.get(what[7:])
            if times is not None:
                times.append(t)
        for f, _, _ in self.fuses:
            if what == f.name + ": melts":
                f.t_melt, f.i2_melt = t, r.total[(f, "i2")]
            elif what == f.name + ": open":
                f.t_open, f.i2_open = t, r.total[(f, "i2")]

    def build(self):
        run, r, line = self.run, self.r, self.line
        fed, lost = r.total["fed"], r.total["lost"] + run.lost_at_once
        change = line.stored() - run.stored_0
        out = {
            "t_end": run.t,
            "events": run.events,
            "energy": {"fed": fed, "dissipated": lost, "stored_change": change, "residual": fed - lost - change},
            "loads": [self.load_result(x) for x in line.loads],
            "feeds": [self.feed_result(f) for f in line.feeds],
            "v_line_peak": r.best["line"],
            "v_guarded_peak": r.best["guarded"],
        }
        out["energy"]["relative"] = abs(out["energy"]["residual"] / fed) if fed else None
        if line.scr:
            out["scr"] = self.scr_result()
        if line.clamp:
            y = line.y
            out["clamp"] = {"I_peak": r.best["i_clamp"], "energy": y[line.at_E], "failed_short": line.clamp_short}
            out["clamp"] |= {"t_fail": self.clamp_failed, "dT_peak": r.best["dT_clamp"], "dT_end": y[line.at_clamp]}
        out["fuses"] = [self.fuse_result(f) for f, _, _ in self.fuses]
        out["leads"] = [
            {"name": o.name, "I2t": r.total[(o, "i2")], "dT_peak": r.best[(o, "dT")], "dT_end": line.y[o.at_i + 1]}
            for o in line.feeds + line.loads
        ]
        if line.switch:
            state = "closed" if line.switch_state == "opening" else line.switch_state
            cyc = cycling(self.sw_start)
            out["switch"] = {"state": state, "openings": len(self.sw_start), "t_start": self.sw_start, "t_open": self.sw_open}
            out["switch"] |= {"t_reclose": self.sw_reclose, "cycling": cyc}
            if cyc:
                out["switch"]["period_last"] = self.sw_start[-1] - self.sw_start[-2]
        out["operating_point"] = {k: v for k, v in run.start_values.items() if k not in line.quiet}
        out["samples"] = sorted(r.samples, key=lambda s: (s["event"], s["dt"]))
        return out

    def load_result(self, x):
        r = self.r
        above, below, levels = x.spans
        out = {"name": x.name, "v_peak": r.best[(x, "v")]}
        out |= {"time_above_v_max": above.total, "longest_above_v_max": above.longest}
        out |= {"time_below_v_min": below.total, "longest_below_v_min": below.longest}
        for w, s in levels:
            out[f"longest_above_{w['V']:g}_V"] = s.longest
        out |= {"Vs_above_v_max": above.area, "safe": above.total == 0.0}
        if levels:
            out["withstand_held"] = all(s.longest <= w["t"] for w, s in levels)
            hit = [(w["t"] / s.longest, w["V"]) for w, s in levels if s.longest > 0.0]
            out["smallest_margin"] = {"V": min(hit)[1], "ratio": min(hit)[0]} if hit else None
        return out

    def feed_result(self, f):
        out = {"name": f.name, "v_peak": self.r.best[(f, "v")]}
        if isinstance(f, Supply):
            out["rings_warning"] = 0.5 * sqrt(f.R_s * f.C_o / f.tau_s) < 0.4
        if isinstance(f, Battery):
            out["soc_end"] = f.soc()
            out["charge_warning"] = self.r.best[(f, "full")] > 1.0 or -self.r.best[(f, "empty")] < 0.0
        return out

    def fuse_result(self, f):
        r = self.r
        out = {"name": f.name, "state": f.state, "t_melt": f.t_melt, "t_open": f.t_open}
        total, melted = r.total[(f, "i2")], f.t_melt is not None
        out |= {"t_overload": f.t_overload if melted else None, "I2t_melting": None, "I2t_let_through": None}
        if melted:
            out["I2t_melting"] = f.i2_melt - f.i2_overload
            out["I2t_let_through"] = (f.i2_open if f.t_open is not None else total) - f.i2_overload
        out |= {"I2t_total": total, "theta_peak": 1.0 if melted else r.best[(f, "theta")]}
        return out | {"v_peak_after_melting": r.best[(f, "v")] if melted else None}

    def scr_result(self):
        r, line = self.r, self.line
        cyc = cycling(self.fired)
        out = {"firings": len(self.fired), "t_fire": self.fired, "t_stop": self.stopped}
        out |= {"conducting_at_end": line.conducting, "failed_short": line.scr_short, "I_peak": r.best["i_scr"]}
        out |= {"didt_peak": max(r.best["didt"], 0.0), "I2t_10ms_worst": r.worst_window, "I2t_total": r.total["scr i2"]}
        out |= {"energy": r.total["scr P"], "Tj_peak": r.best["Tj"], "Tj_end": line.Tj, "cycling": cyc}
        if cyc:
            period, a, b = self.fired[-1] - self.fired[-2], self.marks[-2], self.marks[-1]
            out |= {"period_last": period, "on_share_last": (b["on"] - a["on"]) / period}
            out |= {"v_peak_per_cycle": self.cycle_peaks, "long_run_estimate": self.long_run(period, a, b)}
        return out

    def long_run(self, period, a, b):
        line = self.line
        P = (b["scr P"] - a["scr P"]) / period
        fuses = []
        for f, at, n in self.fuses:
            x = (b[(f, "i2")] - a[(f, "i2")]) / period / f.I_inf**2
            rest = x / (f.k - x * (f.k - 1.0)) if x < 1.0 else None
            t_melt = None
            if x >= 1.0:

                def rates(t, th, f=f, x=x):
                    return [(w * x * (1 + (f.k - 1) * sum(th)) / f.k - u) / tau for w, u, tau in zip(f.w, th, f.tau)]

                def melted(t, th):
                    return sum(th) - 1.0

                melted.terminal = True
                s = solve_ivp(rates, (0.0, 1e7), self.last_y[at : at + n], "Radau", rtol=1e-10, atol=1e-12, events=melted)
                t_melt = self.fired[-1] + float(s.t_events[0][0]) if len(s.t_events[0]) else None
            fuses.append({"name": f.name, "x_mean": x, "theta_rest": rest, "t_melt": t_melt})
        return {"P_mean": P, "Tj_rest": line.T_amb + P * sum(R for R, _ in line.foster), "fuses": fuses}


def cycling(starts):
    if len(starts) < 3:
        return False
    p, q = starts[-2] - starts[-3], starts[-1] - starts[-2]
    return abs(q - p) < 0.05 * max(p, q)

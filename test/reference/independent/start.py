"""The healthy operating point (physics.md 8): every derivative 0, except the EMFs, which are held."""

from math import cos, exp, pi, sin

from scipy.optimize import brentq

from parts import KAPPA, Battery, Panel, Supply

TIGHT = {"xtol": 1e-14, "rtol": 1e-14, "maxiter": 200}


def lead_drop(lead, i):
    R = lead.R
    if lead.fuse:
        R += lead.fuse.resistance(lead.fuse.resting_theta(i))
    return R * i


def bounded(lead, lo, hi):
    """The range of currents narrowed to what the lead's fuse carries for good."""
    if lead.fuse:
        top = 0.999 * lead.fuse.I_inf
        return max(lo, -top), min(hi, top)
    return lo, hi


def feed_current(f, v):
    """Lead current of a feed at rest with its line end at v."""
    if isinstance(f, Panel):
        return 0.0
    lo, hi = bounded(f.lead, -2000.0, 2000.0)

    def source(i):
        if isinstance(f, Battery):
            return f.d["EMF_0"] - f.R * i
        vo = (f.V_set / f.R_s - i) / (1.0 / f.R_s + 1.0 / f.R_b)
        return vo if vo <= f.V_set else -i * f.R_b

    return brentq(lambda i: source(i) - lead_drop(f.lead, i) - v, lo, hi, **TIGHT)


def lamp_temperature(x, v):
    return brentq(lambda T: v * v / x.lamp_R(T) - x.lamp_loss(T), x.d["T_0"], 6000.0, **TIGHT)


def load_current(x, v):
    """Lead current of a load at rest with its lead fed from v (the branch of the higher terminal voltage)."""
    lo, hi = bounded(x.lead, 0.0, 200.0)
    if x.kind == "constant current":
        return x.value
    if x.kind == "constant power":
        # i·(v − drop(i)) rises up to the knee of maximum power: the lower root is the one with the higher voltage.
        step = 0.05
        i, power = 0.0, lambda j: j * (v - lead_drop(x.lead, j)) - x.value
        while power(i + step) < 0.0:
            i += step
            if i > hi:
                raise ValueError("no operating point")
        return brentq(power, i, i + step, **TIGHT)
    if x.kind == "resistive":
        return brentq(lambda i: v - lead_drop(x.lead, i) - i * x.value, lo, hi, **TIGHT)

    def lamp(i):
        u = v - lead_drop(x.lead, i)
        if u <= 0.0:
            return -1.0
        return u / x.lamp_R(lamp_temperature(x, u)) - i

    return brentq(lamp, lo, hi, **TIGHT)


def line_state(line, vL):
    """(current left over, I into GUARDED, v_guarded, v_out, load currents) for a LINE voltage."""
    J = sum(feed_current(f, vL) for f in line.feeds)
    vG = vL
    if line.fuse:
        x = min(abs(J), 0.999 * line.fuse.I_inf)
        vG -= line.fuse.resistance(line.fuse.resting_theta(x)) * J
    through = J - (vG / line.scr["R_leak"] if line.scr else 0.0)
    vO = vG - (line.switch["R_on"] * through if line.switch else 0.0)
    loads = [load_current(x, vO) for x in line.loads]
    return through - sum(loads), J, vG, vO, loads


def ripple_start(res, i_s):
    """vres at a zero of the sine, on the periodic solution with the current i_s drawn."""
    V, R, C, w = res["V_raw"], res["R_raw"], res["C_res"], 2.0 * pi * res["f_mains"]
    half, RC = pi / w, res["R_raw"] * res["C_res"]
    if i_s <= 0.0:
        return V

    def after(v0):
        t1 = brentq(lambda t: V * sin(w * t) - (v0 - i_s * t / C), 0.0, 0.5 * half, **TIGHT)
        v1 = v0 - i_s * t1 / C
        a = V / (1.0 + (w * RC) ** 2)

        def forced(t):
            return a * (sin(w * t) - w * RC * cos(w * t)) - i_s * R

        K = v1 - forced(t1)

        def charging(t):
            return forced(t) + K * exp(-(t - t1) / RC)

        # Charging ends where the raw voltage falls through vres, after its own peak or shortly before.
        t2 = brentq(lambda t: V * sin(w * t) - charging(t), t1 + 0.02 * (half - t1), half, **TIGHT)
        return charging(t2) - i_s * (half - t2) / C

    return brentq(lambda v0: after(v0) - v0, 0.3 * V, V, **TIGHT)


def operating_point(line):
    top = max([f.V_set for f in line.feeds if isinstance(f, Supply)] + [f.d["EMF_0"] for f in line.feeds if isinstance(f, Battery)])
    # From above: the first change of sign is the point with the highest load voltage.
    v = hi = top + 0.05
    while line_state(line, v)[0] < 0.0:
        hi, v = v, v - 0.05
        if v < 1.0:
            raise ValueError("no operating point")
    vL = brentq(lambda u: line_state(line, u)[0], v, hi, **TIGHT)
    _, J, vG, vO, loads = line_state(line, vL)
    y = [0.0] * len(line.names)

    def lead(owner, at, i):
        L = owner.lead
        y[at] = i
        y[at + 1] = KAPPA * i * i / L.area**2 * L.tau_w
        if L.fuse:
            th = L.fuse.resting_theta(i)
            y[at + 2 : at + 2 + len(L.fuse.w)] = [w * th for w in L.fuse.w]

    for f in line.feeds:
        i = feed_current(f, vL)
        lead(f, f.at_i, i)
        v_term = vL + lead_drop(f.lead, i)
        if isinstance(f, Battery):
            y[f.at] = f.d["EMF_0"]
            continue
        y[f.at] = v_term
        if isinstance(f, Supply):
            y[f.at + 1] = i + v_term / f.R_b
            if f.res:
                r, i_s = f.res, y[f.at + 1]
                y[f.at + 2] = ripple_start(r, i_s) if r["ripple"] else r["V_raw"] - r["R_raw"] * i_s
    if line.fuse:
        th = line.fuse.resting_theta(J)
        y[line.at_fuse : line.at_fuse + len(line.fuse.w)] = [w * th for w in line.fuse.w]
        y[line.at_C1] = vL
    y[line.at_C2] = vG
    if line.switch:
        y[line.at_C3] = vO
        y[line.at_sw] = vL if line.switch["sense"] == "line" else vG
    if line.scr:
        y[line.at_vf] = vG
    for x, i in zip(line.loads, loads):
        lead(x, x.at_i, i)
        end = x.at + x.lead.size()
        u = vO - lead_drop(x.lead, i)
        if x.C > 0:
            y[end] = u
        if x.kind == "lamp":
            y[end + len(x.names) - 1] = lamp_temperature(x, u)
    refuse(line, y)
    return y


def refuse(line, y):
    """Lines that are not healthy before the fault."""
    for f in line.feeds:
        if isinstance(f, Supply):
            vo, i_s = y[f.at], y[f.at + 1]
            top = f.I_0
            if f.style == "foldback":
                top = f.limit["I_sc"] + (f.I_0 - f.limit["I_sc"]) * min(max(vo / f.V_set, 0.0), 1.0)
            if i_s > top or (f.res and not f.res["ripple"] and i_s > (y[f.at + 2] - vo) / f.res["R_drop"]):
                raise ValueError(f"{f.name}: target above the limit")
    if line.scr and y[line.at_vf] >= line.scr["V_trip"] or line.switch and y[line.at_sw] >= line.switch["V_off"]:
        raise ValueError("the protector trips before the fault")

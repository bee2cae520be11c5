"""The right-hand side, its exact Jacobian and the integrands of packages/sim/docs/physics.md, sections 1 to 5, 8 and 10."""

from line import KAPPA


def theta(f, y):
    return sum(y[at] for at, _, _ in f.stages)


def look_at_fuse(f, y):
    t = 1.0 if f.state != "intact" else theta(f, y)
    f.R = f.R_cold * (1.0 + (f.k - 1.0) * t)
    f.slope = f.R_cold * (f.k - 1.0) if f.state == "intact" else 0.0


def load_fuse(f, y, i):
    if f.state != "intact":
        f.q = f.q_i = f.q_t = 0.0
        return
    rho, x = 1.0 + (f.k - 1.0) * theta(f, y), i / f.I_inf
    f.q, f.q_i, f.q_t = x * x * rho / f.k, 2.0 * x / f.I_inf * rho / f.k, x * x * (f.k - 1.0) / f.k


def look_at_lead(x, y):
    x.R, x.arc, x.g, f = x.wire, 0.0, 1.0 / x.L, x.fuse
    if not f:
        return
    look_at_fuse(f, y)
    load_fuse(f, y, y[x.i])
    x.R += f.R
    if f.state == "clearing":
        x.arc = f.direction * f.V_arc
    elif f.state == "open":
        x.g = 0.0


def look_at_regulator(s, t, y):
    u, e = y[s.u], s.level + s.rise * t
    if s.ramp_for > 0.0:
        e *= (s.ramp_at + t) / s.ramp_for
    s.aimed = (e - u) / s.R_s
    target = by_u = by_res = 0.0
    if s.phase == "running":
        if s.shorted:
            by_res = 1.0 / s.fault["passResistance"]
            target, by_u = (y[s.u_res] - u) * by_res, -by_res
        else:
            target, by_u = s.aimed, -1.0 / s.R_s
            if s.style:
                share = min(1.0, max(0.0, u / s.V_set))
                limit = s.I_sc + (s.I_0 - s.I_sc) * share
                if limit < target:
                    target, by_u = limit, (s.I_0 - s.I_sc) / s.V_set if 0.0 < share < 1.0 else 0.0
            if s.res:
                drop = 1.0 / s.res["dropOutResistance"]
                if (y[s.u_res] - u) * drop < target:
                    target, by_u, by_res = (y[s.u_res] - u) * drop, -drop, drop
        if target <= 0.0:
            target = by_u = by_res = 0.0
    s.target, s.by_u, s.by_res = target, by_u, by_res


def look_at_load(x, y):
    u = y[x.u]
    look_at_lead(x.lead, y)
    if x.kind == "resistive":
        x.by_u = 1.0 / x.value
        x.drawn = u * x.by_u
    elif u < x.knee:
        x.by_u = x.value / x.knee if x.kind == "constant current" else x.value / x.knee**2
        x.drawn = u * x.by_u
    elif x.kind == "constant current":
        x.by_u, x.drawn = 0.0, x.value
    else:
        x.by_u, x.drawn = -x.value / (u * u), x.value / u
    x.v = u + x.r * (y[x.lead.i] - x.drawn)


def look(line, t, y):
    J_s = J_l = 0.0
    for s in line.sources:
        i = y[s.lead.i]
        J_s += i
        look_at_lead(s.lead, y)
        if s.battery:
            s.v = y[s.u] - s.r * i
        else:
            look_at_regulator(s, t, y)
            s.v = (y[s.u] + s.r * (y[s.is_] - i)) / (1.0 + s.r / s.bleed)
    for x in line.loads:
        J_l += y[x.lead.i]
        look_at_load(x, y)
    scr, f = line.scr, line.fuse
    line.g_leak = 1.0 / scr.leak if scr and not scr.conducting else 0.0
    D = 1.0 / line.r2 + line.g_leak
    N = y[line.u2] / line.r2 - J_l - (y[scr.i] if scr else 0.0)
    if not f:
        line.v1 = line.v2 = (N + J_s) / D
        line.D, line.G = D, 0.0
        return
    look_at_fuse(f, y)
    a1 = y[line.u1] + line.r1 * J_s
    E = f.direction * f.V_arc if f.state == "clearing" else 0.0
    conducts = f.state == "intact" or (f.state == "clearing" and f.direction * (a1 - N / D) > f.V_arc)
    G = 1.0 / (line.r1 + f.R) if conducts else 0.0
    D += G
    line.v2 = (N + G * (a1 - E)) / D
    line.i_fuse = G * (a1 - E - line.v2)
    line.v1 = a1 - line.r1 * line.i_fuse
    line.D, line.G = D, G
    load_fuse(f, y, line.i_fuse)


def fuse_rates(f, y, out):
    if f.state == "intact":
        for at, w, tau in f.stages:
            out[at] = (w * f.q - y[at]) / tau


def lead_rates(x, drop, y, out):
    i = y[x.i]
    out[x.i] = (drop - x.arc - x.R * i) * x.g
    out[x.dT] = KAPPA * (i / x.area) ** 2 - y[x.dT] / x.tau
    if x.fuse:
        fuse_rates(x.fuse, y, out)


def rates(line, t, y):
    look(line, t, y)
    out = [0.0] * line.n
    for s in line.sources:
        lead_rates(s.lead, s.v - line.v1, y, out)
        out[s.u] = (s.v - y[s.u]) / (s.r * s.C)
        if not s.battery:
            out[s.is_] = (s.target - y[s.is_]) / s.tau
            if s.res:
                res = s.res
                out[s.u_res] = (max(0.0, res["rawVoltage"] - y[s.u_res]) / res["rawResistance"] - y[s.is_]) / res["capacitance"]
    for x in line.loads:
        lead_rates(x.lead, line.v2 - x.v, y, out)
        out[x.u] = (y[x.lead.i] - x.drawn) / x.C
    if line.fuse:
        fuse_rates(line.fuse, y, out)
        out[line.u1] = (line.v1 - y[line.u1]) / (line.r1 * line.C1)
    out[line.u2] = (line.v2 - y[line.u2]) / (line.r2 * line.C2)
    scr = line.scr
    if scr:
        i = y[scr.i]
        P = (scr.V_T0 + scr.r_T * i) * i
        out[scr.vf] = (line.v2 - y[scr.vf]) / scr.tau_f
        if scr.forward:
            out[scr.i] = (line.v2 - scr.V_T0 - scr.r_T * i) / scr.L
        for at, R, tau in scr.stages:
            out[at] = (R * P - y[at]) / tau
    return out


def hub_columns(line):
    """(state, by it: v1, v2, current of the main fuse) of everything that the hub depends on."""
    D, G, f = line.D, line.G, line.fuse
    into = [x.lead.i for x in line.loads] + ([line.scr.i] if line.scr else [])
    if not f:
        return (
            [(s.lead.i, 1.0 / D, 1.0 / D, 0.0) for s in line.sources]
            + [(at, -1.0 / D, -1.0 / D, 0.0) for at in into]
            + [(line.u2, 1.0 / (line.r2 * D), 1.0 / (line.r2 * D), 0.0)]
        )
    r1, P, h = line.r1, G * (1.0 - G / D), 1.0 / (line.r2 * D)
    by = -line.i_fuse * f.slope
    return (
        [(s.lead.i, r1 - r1 * r1 * P, G * r1 / D, r1 * P) for s in line.sources]
        + [(at, -r1 * G / D, -1.0 / D, G / D) for at in into]
        + [(line.u1, 1.0 - r1 * P, G / D, P), (line.u2, r1 * G * h, h, -G * h)]
        + [(at, -r1 * P * by, G / D * by, P * by) for at, _, _ in f.stages]
    )


def own_fuse(f, J):
    intact = f.state == "intact"
    for at, w, tau in f.stages:
        for other, _, _ in f.stages:
            J[at][other] += (w * f.q_t - (1.0 if intact and other == at else 0.0)) / tau


def lead_part(x, y, J):
    J[x.i][x.i] -= x.R * x.g
    J[x.dT][x.dT] -= 1.0 / x.tau
    J[x.dT][x.i] += 2.0 * KAPPA * y[x.i] / x.area**2
    if x.fuse:
        own_fuse(x.fuse, J)
        for at, w, tau in x.fuse.stages:
            J[at][x.i] += w * x.fuse.q_i / tau
            J[x.i][at] -= x.fuse.slope * y[x.i] * x.g


def jacobian(line, t, y):
    look(line, t, y)
    J = [[0.0] * line.n for _ in range(line.n)]
    hub = hub_columns(line)

    def depends(row, end, factor):
        for column in hub:
            J[row][column[0]] += factor * column[end]

    for s in line.sources:
        x, q = s.lead, 1.0 if s.battery else 1.0 / (1.0 + s.r / s.bleed)
        lead_part(x, y, J)
        depends(x.i, 1, -x.g)
        J[x.i][s.u] += x.g * q
        J[x.i][x.i] -= x.g * s.r * q
        J[s.u][s.u] += (q - 1.0) / (s.r * s.C)
        J[s.u][x.i] -= q / s.C
        if s.battery:
            continue
        J[x.i][s.is_] += x.g * s.r * q
        J[s.u][s.is_] += q / s.C
        J[s.is_][s.is_] -= 1.0 / s.tau
        J[s.is_][s.u] += s.by_u / s.tau
        if s.res:
            J[s.is_][s.u_res] += s.by_res / s.tau
            if y[s.u_res] < s.res["rawVoltage"]:
                J[s.u_res][s.u_res] -= 1.0 / (s.res["rawResistance"] * s.res["capacitance"])
            J[s.u_res][s.is_] -= 1.0 / s.res["capacitance"]
    for x in line.loads:
        lead_part(x.lead, y, J)
        i, g = x.lead.i, x.lead.g
        depends(i, 2, g)
        J[i][i] -= g * x.r
        J[i][x.u] -= g * (1.0 - x.r * x.by_u)
        J[x.u][i] += 1.0 / x.C
        J[x.u][x.u] -= x.by_u / x.C
    if line.fuse:
        own_fuse(line.fuse, J)
        for at, w, tau in line.fuse.stages:
            depends(at, 3, w * line.fuse.q_i / tau)
        depends(line.u1, 1, 1.0 / (line.r1 * line.C1))
        J[line.u1][line.u1] -= 1.0 / (line.r1 * line.C1)
    depends(line.u2, 2, 1.0 / (line.r2 * line.C2))
    J[line.u2][line.u2] -= 1.0 / (line.r2 * line.C2)
    scr = line.scr
    if scr:
        depends(scr.vf, 2, 1.0 / scr.tau_f)
        J[scr.vf][scr.vf] -= 1.0 / scr.tau_f
        if scr.forward:
            depends(scr.i, 2, 1.0 / scr.L)
            J[scr.i][scr.i] -= scr.r_T / scr.L
        for at, R, tau in scr.stages:
            J[at][at] -= 1.0 / tau
            J[at][scr.i] += R * (scr.V_T0 + 2.0 * scr.r_T * y[scr.i]) / tau
    return J


def flows(line, t, y):
    """Squared currents, energies fed and turned to heat, in the order of flow_names."""
    look(line, t, y)
    out, fed, turned = [], 0.0, 0.0
    for s in line.sources:
        i = y[s.lead.i]
        p = y[s.u] * i if s.battery else s.v * (y[s.is_] - s.v / s.bleed)
        out += [i * i, (s.v - y[s.u]) ** 2 / s.r, i * (s.lead.R * i + s.lead.arc)]
        fed, turned = fed + p, turned + abs(p)
    for x in line.loads:
        i = y[x.lead.i]
        out += [i * i, (x.v - y[x.u]) ** 2 / x.r + x.v * x.drawn, i * (x.lead.R * i + x.lead.arc)]
    capacitors = (line.v2 - y[line.u2]) ** 2 / line.r2
    if line.fuse:
        out += [line.i_fuse**2, line.i_fuse * (line.v1 - line.v2)]
        capacitors += (line.v1 - y[line.u1]) ** 2 / line.r1
    if line.scr:
        i = y[line.scr.i]
        P = (line.scr.V_T0 + line.scr.r_T * i) * i
        out += [i * i, P, P + line.g_leak * line.v2**2]
    return out + [capacitors, fed, turned]


def flow_names(line):
    names = [f"{what}{b.name}{more}" for b in line.sources + line.loads for what, more in (("I2t of ", " lead"), ("heat of ", ""), ("heat of ", " lead"))]
    names += ["I2t of main fuse", "heat of main fuse"] if line.fuse else []
    names += ["I2t of crowbar", "heat of junction", "heat of crowbar"] if line.scr else []
    return names + ["heat of line capacitors", "fed", "turned over"]

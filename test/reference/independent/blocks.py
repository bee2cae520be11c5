"""Building blocks of the cases, every default of physics.md 11 written out; anything can be overridden."""

COPPER = 0.0176e-6


def lead(metres=1.0, mm2=4.0, contacts=0.004, tau_w=60.0):
    area = mm2 * 1e-6
    return {"L": 0.8e-6 * metres, "R_wire": 2.0 * metres * COPPER / area + contacts, "area": area, "tau_w": tau_w}


def supply(name="supply", **kw):
    d = {"kind": "supply", "name": name, "V_set": 13.8, "R_s": 0.01, "tau_s": 2e-5, "C_o": 0.0047, "r_o": 0.02}
    d |= {"R_bleed": 1000.0, "limit": {"style": "constant current", "I_0": 25.0}, "fault": {"kind": "none"}, "lead": lead(1.5)}
    return d | kw


def battery(name="battery", **kw):
    d = {"kind": "battery", "name": name, "EMF_0": 13.5, "R_int": 0.012, "capacity_Ah": 20.0, "dEMF_dSOC": 1.4, "SOC_0": 0.9}
    return d | {"lead": lead(1.0, 6.0)} | kw


def fuse(I_inf=36.0, **kw):
    d = {"R_cold": 0.0648 / I_inf, "k": 1.8, "I_inf": I_inf, "stages": [{"w": 0.6, "tau": 0.32}, {"w": 0.4, "tau": 16.0}]}
    return d | {"V_rated": 32.0, "V_arc": 35.0, "I_ext": 0.1, "start": "warm"} | kw


def board_fuse(I_inf=36.0, **kw):
    return fuse(I_inf, t_ext=1e-6) | kw


def scr(**kw):
    d = {"variant": "plain", "V_trip": 15.0, "tau_f": 1e-5, "t_gate": 2e-6, "V_T0": 0.9, "r_T": 0.006, "R_leak": 1e6}
    d |= {"I_H": 0.08, "t_q": 6e-5, "L_scr": 5e-8, "T_fail": 250.0, "R_thCA": 5.0, "C_case": 20.0}
    d |= {"foster": [{"R": 0.05, "tau": 0.0005}, {"R": 0.2, "tau": 0.01}, {"R": 0.35, "tau": 0.1}]}
    return d | {"I_surge": 700.0, "I2t_rating": 2450.0, "Tj_max": 125.0} | kw


def clamp(**kw):
    d = {"V_BR": 16.0, "r_d": 0.03, "R_th": 0.8, "tau": 0.2, "E_rating": 100.0, "fails_short": True, "R_short": 0.005}
    return d | kw


def relay(**kw):
    d = {"kind": "relay", "R_on": 0.004, "tau_f": 1e-5, "V_off": 15.2, "t_open": 0.003, "V_arc": 15.0, "I_ext": 0.1}
    return d | {"t_ext": 1e-5, "sense": "line", "recloses": False} | kw


def transistor(**kw):
    return relay(kind="transistor", t_open=2e-5, V_arc=40.0, t_ext=1e-6) | kw


WITHSTAND = [{"V": 16.0, "t": 1.0}, {"V": 18.4, "t": 0.01}, {"V": 20.0, "t": 0.001}, {"V": 25.0, "t": 0.0001}]


def load(kind, name="radio", **kw):
    d = {"kind": kind, "name": name, "C_l": 0.001, "r_l": 0.03, "V_knee": 8.28, "v_min": 11.7, "v_max": 15.9, "lead": lead(1.0, 2.5)}
    if name == "radio":
        d["withstand"] = WITHSTAND
    return d | kw


def resistor(R, name="heater", **kw):
    d = load("resistive", name, R=R) | kw
    del d["V_knee"]
    return d


def lamp(P_0=21.0, name="lamp", **kw):
    d = load("lamp", name, P_0=P_0, V_n=13.5, T_n=2800.0, T_0=300.0, a=1.2, C_th=0.002, C_l=0.0, r_l=0.0, lead=lead(2.0, 1.5)) | kw
    del d["V_knee"]
    return d


def case(name, note, feeds, loads, t_fault, t_end, **kw):
    nodes = {"C2": 1e-6, "r2": 0.2}
    if "board_fuse" in kw:
        nodes |= {"C1": 1e-7, "r1": 1.0}
    if "switch" in kw:
        nodes |= {"C3": 1e-7, "r3": 1.0}
    d = {"name": name, "note": note, "T_amb": 25.0, "t_fault": t_fault, "t_end": t_end, "nodes": nodes}
    return d | {"feeds": feeds, "loads": loads} | kw

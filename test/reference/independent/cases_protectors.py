"""Cases about protectors: held and latched crowbars, chatter, failing short, clamps, switches, fuses hot and cold."""

from blocks import battery, board_fuse, case, clamp, fuse, lamp, lead, load, relay, resistor, scr, supply, transistor
from cases_feeds import RAISED, hiccup

SMOOTH = {"V_raw": 24.0, "R_raw": 0.12, "C_res": 0.022, "R_drop": 0.02, "ripple": False}
SHORTED = {"kind": "pass element shorted", "R_pass": 0.05}

PROTECTOR_CASES = [
    case(
        "latched-crowbar-relay",
        "the latched crowbar opens a slow relay that arcs while the fuse melts; warm fuse at 50 °C",
        [supply(reservoir=SMOOTH, fault=SHORTED)],
        [load("constant power", P=70.0), resistor(8.0, C_l=0.0, r_l=0.0)],
        0.001,
        0.2,
        T_amb=50.0,
        board_fuse=board_fuse(28.0, T_melt=150.0),
        scr=scr(variant="latched"),
        switch=relay(V_off=17.0, t_open=0.004),
    ),
    case(
        "latched-crowbar-transistor-hiccup",
        "latched: the transistor never recloses although it would otherwise, the crowbar fires again at every restart",
        [supply(limit=hiccup(22.0, 0.004, 0.03, 0.004), fault=RAISED)],
        [load("constant current", I=5.0)],
        0.002,
        0.16,
        scr=scr(variant="latched"),
        switch=transistor(V_off=15.6, recloses=True, V_on=14.0, t_retry=0.005),
    ),
    case(
        "reclosing-relay-guarded",
        "relay senses the guarded side and recloses while the hiccup supply rests; it and the crowbar cycle",
        [supply(limit=hiccup(20.0, 0.003, 0.03, 0.005), fault=RAISED)],
        [load("constant power", P=40.0)],
        0.002,
        0.2,
        board_fuse=board_fuse(30.0, start="cold"),
        scr=scr(V_trip=15.1, tau_f=1e-4),
        switch=relay(V_off=14.6, sense="guarded", recloses=True, V_on=12.0, t_retry=0.008, t_open=0.0005),
    ),
    case(
        "clamp-and-crowbar",
        "clamp holds while the slow sense filter of the crowbar catches up; lamp without capacitor, cold fuse that melts at 50 °C",
        [supply(reservoir=SMOOTH, fault=SHORTED)],
        [load("constant power", P=80.0), lamp(35.0)],
        0.002,
        0.1,
        T_amb=50.0,
        board_fuse=board_fuse(30.0, T_melt=150.0, start="cold"),
        scr=scr(V_trip=15.6, tau_f=1e-4, V_T0=1.0, r_T=0.008),
        clamp=clamp(V_BR=15.6, r_d=0.01),
    ),
    case(
        "scr-fails-short-then-latch-off",
        "the junction passes T_fail while the supply's limiter still counts; short for good it stays in conduction after the supply has latched off",
        [supply(limit={"style": "latch off", "I_0": 60.0, "t_detect": 0.4}, fault=RAISED | {"slew": 200.0})],
        [load("constant current", I=4.0)],
        0.002,
        0.7,
        scr=scr(T_fail=80.0, foster=[{"R": 0.1, "tau": 0.001}, {"R": 0.4, "tau": 0.02}, {"R": 0.5, "tau": 0.2}]),
    ),
    case(
        "bench-supply-below-holding",
        "a bench supply limited below the holding current: the crowbar fires, goes out and fires again",
        [supply(C_o=0.0001, r_o=0.05, R_s=0.05, limit={"style": "constant current", "I_0": 0.07}, fault=RAISED)],
        [load("constant current", I=0.02, C_l=0.0001)],
        0.002,
        0.3,
        scr=scr(I_H=0.08),
    ),
    case(
        "long-run-melts-the-fuse",
        "hiccup without a ramp, long on and short off: the fuse survives the run, the long-run estimate says when it melts",
        [supply(limit=hiccup(60.0, 0.02, 0.008, 0.0), fault=RAISED)],
        [load("constant current", I=5.0)],
        0.002,
        0.2,
        board_fuse=board_fuse(30.0),
        scr=scr(),
    ),
    case(
        "charger-creep-two-batteries",
        "charger without feedback lifts two small batteries; the crowbar dumps both, only one has a fuse",
        [
            supply("charger", V_set=13.6, C_o=0.0022, r_o=0.03, limit={"style": "constant current", "I_0": 10.0}, fault={"kind": "feedback lost", "V_ceiling": 17.0, "slew": 50.0}),
            battery("first", capacity_Ah=0.03, EMF_0=13.4, R_int=0.03, lead_fuse=fuse(25.0)),
            battery("second", capacity_Ah=0.01, EMF_0=13.3, R_int=0.08),
        ],
        [load("constant power", P=15.0), resistor(20.0, C_l=0.0002)],
        0.5,
        60.0,
        scr=scr(V_trip=14.8),
    ),
]

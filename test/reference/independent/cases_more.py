"""Cases where several things meet: faults while off, arcs that hold, loads switched to nothing, filaments that cool in between."""

from blocks import battery, board_fuse, case, clamp, fuse, lamp, lead, load, relay, resistor, scr, supply
from cases_feeds import PANEL, RAISED, RIPPLE, hiccup

MORE_CASES = [
    case(
        "held-crowbar-hiccup",
        "held gate: the crowbar never stops conducting, also while the hiccup supply rests; fuse of three stages whose resistance does not rise (k = 1)",
        [supply(limit=hiccup(40.0, 0.012, 0.02, 0.004), fault=RAISED)],
        [load("constant power", P=45.0), lamp(10.0)],
        0.002,
        0.3,
        board_fuse=board_fuse(32.0, k=1.0, stages=[{"w": 0.3, "tau": 0.02}, {"w": 0.3, "tau": 0.4}, {"w": 0.4, "tau": 9.0}]),
        scr=scr(variant="held"),
    ),
    case(
        "relay-arc-holds",
        "the relay's arc is held by loads without capacitors; one of them is reduced while it burns",
        [supply(limit={"style": "none"}, fault={"kind": "feedback lost", "V_ceiling": 30.0, "slew": 6000.0})],
        [lamp(30.0), resistor(2.0, C_l=0.0, r_l=0.0, schedule=[{"t": 0.03, "value": 4000.0}, {"t": 0.035, "value": 20.0}])],
        0.001,
        0.05,
        switch=relay(V_off=15.2, t_open=0.0015),
    ),
    case(
        "pass-short-while-off",
        "an overload (schedule) before the fault trips the hiccup; while the supply is off its pass element fails short (50 Hz ripple); a clamp that does not fail short; the load is switched to nothing",
        [
            supply(
                reservoir=RIPPLE | {"V_raw": 21.0, "f_mains": 50.0, "C_res": 0.015},
                limit=hiccup(15.0, 0.002, 0.06, 0.01),
                fault={"kind": "pass element shorted", "R_pass": 0.1},
            )
        ],
        [load("constant power", P=50.0, schedule=[{"t": 0.004, "value": 500.0}, {"t": 0.0065, "value": 50.0}, {"t": 0.03, "value": 0.0}])],
        0.012,
        0.06,
        clamp=clamp(V_BR=16.5, r_d=0.04, fails_short=False, E_rating=2.0),
    ),
    case(
        "three-sources-in-the-cold",
        "supply, panel and battery, each with a fuse in its lead, at −20 °C; panel and supply fail together",
        [
            supply(fault={"kind": "setting raised", "V_end": 16.5, "slew": 3.0}, limit={"style": "foldback", "I_0": 24.0, "I_sc": 12.0}, lead_fuse=fuse(28.0, T_melt=150.0)),
            PANEL | {"I_sc": 12.0, "lead": lead(3.0, 4.0), "lead_fuse": fuse(15.0, T_melt=150.0), "fault": {"kind": "controller shorted"}},
            battery(capacity_Ah=0.04, EMF_0=13.6, R_int=0.02, lead_fuse=fuse(30.0, T_melt=150.0)),
        ],
        [load("constant power", P=110.0, lead_fuse=fuse(20.0, T_melt=150.0, start="cold"))],
        0.1,
        8.0,
        T_amb=-20.0,
        scr=scr(V_trip=14.7, t_gate=5e-6, t_q=1e-4),
    ),
    case(
        "loads-switched-to-nothing",
        "at the instant of the fault one load is switched off, soon after the other: the line floats up to the ceiling; an overload in the end latches the supply off",
        [supply(limit={"style": "latch off", "I_0": 14.0, "t_detect": 0.02}, fault={"kind": "feedback lost", "V_ceiling": 19.0, "slew": 60.0})],
        [
            load("constant power", P=70.0, schedule=[{"t": 0.01, "value": 0.0}]),
            load("constant current", "accessory", I=4.0, C_l=0.0003, schedule=[{"t": 0.03, "value": 0.0}, {"t": 0.15, "value": 30.0}]),
        ],
        0.01,
        0.3,
    ),
    case(
        "long-run-two-fuses",
        "repeated tripping in which one fuse comes to rest and the other melts in the long run; the second melts only through its slow stage",
        [supply(limit=hiccup(50.0, 0.01, 0.012, 0.002), fault=RAISED, lead_fuse=fuse(29.0))],
        [load("constant current", I=4.0, lead_fuse=fuse(10.0))],
        0.002,
        0.15,
        board_fuse=board_fuse(60.0),
        scr=scr(V_trip=14.8),
    ),
    case(
        "filament-cools-between-restarts",
        "the filament cools while the hiccup supply rests and trips it again at each restart; the setting has been lowered below the battery, which stays behind a thin lead",
        [
            supply(limit=hiccup(14.0, 0.003, 0.25, 0.0), fault={"kind": "setting raised", "V_end": 13.0, "slew": 20.0}, C_o=0.001, r_o=0.03),
        ],
        [lamp(80.0, C_th=0.004, lead=lead(1.0, 4.0)), load("constant current", I=4.0, schedule=[{"t": 0.05, "value": 14.0}, {"t": 0.06, "value": 2.0}])],
        0.01,
        0.9,
    ),
    case(
        "battery-above-lowered-setting",
        "setting lowered below a battery: the supply stops sourcing and the battery feeds load and bleeder; then an overload brings the supply back into its limit",
        [
            supply(R_bleed=100.0, fault={"kind": "setting raised", "V_end": 12.0, "slew": 100.0}),
            battery(EMF_0=13.2, capacity_Ah=0.05, R_int=0.05, lead_fuse=fuse(20.0, start="cold")),
        ],
        [load("constant power", P=40.0, schedule=[{"t": 0.5, "value": 330.0}])],
        0.02,
        1.5,
    ),
]

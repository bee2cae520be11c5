"""Cases about sources: ripple, drop-out, panels, batteries, limiters, their own shutdown."""

from blocks import battery, board_fuse, case, clamp, fuse, lamp, lead, load, resistor, scr, supply, transistor

RIPPLE = {"V_raw": 22.0, "R_raw": 0.06, "C_res": 0.033, "R_drop": 0.02, "ripple": True, "f_mains": 60.0}
RAISED = {"kind": "setting raised", "V_end": 17.0, "slew": 400.0}


def hiccup(I_0=22.0, t_detect=0.005, t_off=0.05, t_ramp=0.01):
    return {"style": "hiccup", "I_0": I_0, "t_detect": t_detect, "t_off": t_off, "t_ramp": t_ramp}


PANEL = {"kind": "panel", "name": "panel", "I_sc": 9.0, "V_oc": 21.6, "V_a": 1.35, "C_o": 0.00047, "r_o": 0.05}

FEED_CASES = [
    case(
        "ripple-pass-short-feed-fuse",
        "60 Hz ripple on the reservoir, pass element shorted: the SCR carries rectified halves until the fuse in the feed's lead melts; lamp with capacitor",
        [supply(reservoir=RIPPLE, fault={"kind": "pass element shorted", "R_pass": 0.04}, lead_fuse=fuse(22.0))],
        [load("constant power", P=60.0), lamp(C_l=0.00022, r_l=0.1)],
        0.003,
        0.12,
        scr=scr(),
    ),
    case(
        "hiccup-drop-out-in-the-valleys",
        "60 Hz ripple: with the setting raised the supply drops out in the valleys, where the demanded current (not the delivered one) trips the hiccup",
        [
            supply(
                reservoir=RIPPLE | {"V_raw": 20.0, "R_raw": 0.07, "C_res": 0.012},
                limit=hiccup(20.0, 0.001, 0.03, 0.006),
                fault={"kind": "setting raised", "V_end": 16.6, "slew": 300.0},
            )
        ],
        [load("constant current", I=8.0, v_max=15.5, v_min=10.5), resistor(9.0, C_l=0.0005)],
        0.002,
        0.14,
    ),
    case(
        "panel-shorted-held-crowbar",
        "panel controller fails shorted on a small battery; the held crowbar dumps the battery until its lead fuse opens and then carries the panel",
        [
            PANEL | {"lead": lead(3.0, 4.0), "fault": {"kind": "controller shorted"}},
            battery(capacity_Ah=0.02, EMF_0=13.2, R_int=0.03, lead_fuse=fuse(20.0)),
        ],
        [load("constant power", P=20.0)],
        0.05,
        60.0,
        scr=scr(variant="held", V_trip=14.6),
    ),
    case(
        "two-supplies-one-latches-off",
        "feedback lost in one of two supplies, each with a fuse in its lead; latch-off and hiccup both feed the crowbar",
        [
            supply(
                "left",
                limit={"style": "latch off", "I_0": 20.0, "t_detect": 0.004},
                fault={"kind": "feedback lost", "V_ceiling": 21.0, "slew": 3000.0},
                lead_fuse=fuse(25.0),
            ),
            supply("right", V_set=13.75, C_o=0.0022, r_o=0.03, limit=hiccup(15.0, 0.006, 0.04, 0.0), lead=lead(2.5), lead_fuse=fuse(20.0)),
        ],
        [load("constant power", P=90.0)],
        0.001,
        0.08,
        scr=scr(),
    ),
    case(
        "own-ovp-hiccup",
        "a hiccup supply's own over-voltage shutdown: off, restart at once (no ramp), off again; lowering by a small bleeder; the transistor on the line side recloses in between",
        [supply(R_bleed=6.0, limit=hiccup(30.0, 0.004, 0.06, 0.0), fault=RAISED | {"V_end": 16.4}, ovp={"V_ovp": 15.6, "t_ovp": 0.002, "works_on_feedback_lost": True})],
        [load("constant current", I=6.0, C_l=0.0005)],
        0.004,
        0.2,
        switch=transistor(V_off=15.1, recloses=True, V_on=13.0, t_retry=0.003),
    ),
    case(
        "own-ovp-on-lost-feedback",
        "feedback lost in both supplies at once: the shutdown of one works and latches, that of the other does not; the clamp fails short and its short melts the board fuse",
        [
            supply("good", limit={"style": "none"}, fault={"kind": "feedback lost", "V_ceiling": 19.0, "slew": 900.0}, ovp={"V_ovp": 15.5, "t_ovp": 0.0005, "works_on_feedback_lost": True}),
            supply("bad", limit={"style": "constant current", "I_0": 60.0}, fault={"kind": "feedback lost", "V_ceiling": 18.5, "slew": 700.0}, ovp={"V_ovp": 15.5, "t_ovp": 0.0005, "works_on_feedback_lost": False}),
        ],
        [load("constant power", P=50.0)],
        0.001,
        1.2,
        board_fuse=board_fuse(30.0),
        clamp=clamp(V_BR=15.8, r_d=0.02, E_rating=6.0),
    ),
    case(
        "foldback-sticks",
        "setting lowered; a passing overload (schedule) folds the supply back, and the constant-power load then holds it down",
        [supply(limit={"style": "foldback", "I_0": 12.0, "I_sc": 3.0}, fault={"kind": "setting raised", "V_end": 12.5, "slew": 300.0})],
        [load("constant power", P=90.0, V_knee=9.0, v_min=11.0, schedule=[{"t": 0.01, "value": 220.0}, {"t": 0.05, "value": 90.0}])],
        0.002,
        0.4,
        scr=scr(),
    ),
    case(
        "battery-feeds-dead-supply",
        "own shutdown latches the supply, two unlike batteries feed its bleeder and the load on; then a load without capacitor is short-circuited and melts the fuse in its lead (hot surroundings)",
        [
            supply(R_bleed=60.0, fault=RAISED | {"V_end": 17.5, "slew": 40.0}, ovp={"V_ovp": 15.0, "t_ovp": 0.001, "works_on_feedback_lost": True}, limit={"style": "constant current", "I_0": 70.0}),
            battery("first", EMF_0=13.3),
            battery("second", EMF_0=13.1, R_int=0.03, capacity_Ah=0.5, lead_fuse=fuse(30.0, T_melt=150.0)),
        ],
        [load("constant current", I=3.0), resistor(4.0, C_l=0.0, r_l=0.0, lead_fuse=fuse(8.0, T_melt=150.0), schedule=[{"t": 0.3, "value": 0.05}])],
        0.01,
        0.6,
        T_amb=50.0,
    ),
]

import { describe, expect, test } from "vitest";
import { barFound, event, finding, idle, judged, loadFound, run, sourceFound } from "./fixtures.ts";
import { battery, lead, supply } from "./parts.ts";

describe("a contact that opened is made fast before the next use", () => {
  const calm = { ...supply, fault: { kind: "none" } } as const;
  const moved = (...events: ReturnType<typeof event>[]) =>
    judged(run({ crowbar: null, fuses: [], events }, { sources: [calm], crowbar: null, mainFuse: null })).replace;
  const opens = event(0.1, 0.1, "contact opens", "source", "", "supply");
  const ends = event(0.1001, 0.0001, "contact arc ends", "source", "", "supply");

  test("open at the end", () => {
    expect(moved(opens, ends).slice(2, 4)).toEqual([
      "Find the fault before switching on again.",
      "Close the contact in the lead of the supply again, and make sure that it holds: it is open.",
    ]);
  });

  test("closed again", () => {
    expect(moved(opens, ends, event(0.2, 0.1, "contact closes", "source", "", "supply"))).toContain(
      "Make sure that the contact in the lead of the supply holds: it opened and closed again.",
    );
  });

  test("one that only closed, as it should, is not named", () => {
    expect(moved(event(0.2, 0.2, "contact closes", "source", "", "supply"))).toEqual([]);
  });
});

describe("a supply that goes off and on", () => {
  const off = (count: number) => Array.from({ length: count }, (_, i) => 0.3 * i + 0.1);
  const notes = (
    end: number,
    count: number,
    over: Parameters<typeof sourceFound>[0] = { limiterTrips: off(count) },
  ) => {
    const verdict = judged(
      run(
        {
          crowbar: barFound(idle),
          sources: [sourceFound({ ...over, restarts: Array.from({ length: count }, (_, i) => 0.3 * i + 0.2) })],
        },
        { endTime: end },
      ),
    );
    return [...verdict.notes, ...verdict.pending.map(({ sentence }) => sentence)].join(" ");
  };

  test("is told with its rhythm where no crowbar's tripping tells of it, and whether it goes on", () => {
    expect(notes(1.2, 4)).toContain(
      "The supply went off at its limit 4 times and restarted 4 times, in the end every 300 ms. It still does so when the run ends.",
    );
    expect(notes(9, 4)).toContain("in the end every 300 ms.");
    expect(notes(9, 4)).not.toContain("still does so");
    expect(notes(1.2, 2)).not.toContain("went off");
  });

  test("its own over-voltage protection is not its limit", () => {
    const own = notes(1.2, 4, { shutdowns: off(5) });
    expect(own).toContain("The supply was shut down by its own OVP 5 times and restarted 4 times");
    expect(own).not.toContain("limit");
    expect(notes(1.2, 4, { limiterTrips: off(1), shutdowns: off(3) })).toContain(
      "The supply went off at its limit once and was shut down by its own OVP 3 times and restarted 4 times",
    );
  });
});

describe("sources and contacts", () => {
  const charged = (highest: number, lowest = 0.8) =>
    judged(
      run(
        { sources: [sourceFound({ name: "battery", charge: { end: highest, lowest, highest } })] },
        { sources: [battery] },
      ),
    );

  test("a battery charged beyond full or emptied below nothing", () => {
    expect(charged(0.95).exitStatus).toBe(0);
    expect(finding(charged(1.04), "battery", "state of charge").sentence).toContain(
      "was charged to 104 %: a full battery",
    );
    expect(charged(1.04).exitStatus).toBe(4);
    expect(finding(charged(0.9, -0.02), "battery", "lowest state of charge").severity).toBe("beyond");
    expect(charged(1.04).replace).toContain("Have the battery checked: it was charged or emptied beyond its limits.");
  });

  test("a battery on float above its resting full is not called overcharged until more is pushed in", () => {
    const floated = (highest: number) =>
      judged(
        run(
          { sources: [sourceFound({ name: "battery", charge: { end: highest, lowest: 1.02, highest } })] },
          { sources: [{ ...battery, initialCharge: 1.02 }] },
        ),
      );
    expect(finding(floated(1.02), "battery", "state of charge").severity).toBe("ok");
    expect(finding(floated(1.02), "battery", "state of charge").close).toBe(false);
    expect(floated(1.02).exitStatus).toBe(0);
    expect(finding(floated(1.0202), "battery", "state of charge").severity).toBe("beyond");
    expect(floated(1.06).exitStatus).toBe(4);
    // The limit of the table is not 100 % then, and the sentence says why.
    expect(finding(floated(1.06), "battery", "state of charge")).toMatchObject({
      rating: 1.02,
      sentence: expect.stringContaining("charged to 106 % (on float it began at 102 %, which is full for it"),
    });
  });

  test("latched off and ringing are told, the latter not twice", () => {
    const verdict = judged(run({ sources: [sourceFound({ stateAtEnd: "latched off", rings: true })] }));
    expect(verdict.notes.join(" ")).toContain("has latched off and stays off");
    expect(verdict.notes.join(" ")).toContain("The regulator of the supply rings");
    expect(verdict.replace).toContain(
      "The supply has latched off: leave it off until that has cleared, as its sheet tells.",
    );
    const warned = {
      severity: "warning",
      code: "regulator-rings",
      path: "",
      message: "It rings.",
      received: null,
      allowed: null,
      hint: null,
      position: null,
    } as const;
    const once = judged(run({ sources: [sourceFound({ rings: true })] }), { warnings: [warned] });
    expect(once.notes.join(" ")).not.toContain("rings");
    expect(once.warnings).toEqual([warned]);
  });

  test("a plug whose arc never ends", () => {
    const contact = {
      resistance: 0.001,
      arcVoltage: 15,
      extinctionCurrent: 0.1,
      initially: "closed",
      operations: [{ time: 0.01, action: "open" }],
    } as const;
    const plugged = { ...supply, lead: { ...lead, contact } };
    const opens = event(0.01, 0.009, "contact opens", "source", "", "supply");
    const arcing = judged(run({ events: [opens] }, { sources: [plugged] }));
    expect(finding(arcing, "contact of the supply", "arc still burning").severity).toBe("beyond");
    const ended = judged(
      run({ events: [opens, event(0.011, 0.001, "contact arc ends", "source", "", "supply")] }, { sources: [plugged] }),
    );
    expect(ended.findings.filter(({ subject }) => subject.startsWith("contact"))).toEqual([]);
  });

  test("a line without any protector says so", () => {
    const bare = judged(run({ crowbar: null, fuses: [], loads: [loadFound()] }, { crowbar: null, mainFuse: null }));
    expect(bare.done).toEqual(["The line has no protector at all."]);
  });

  test("a battery stays live: it is disconnected before anything else is touched", () => {
    expect(
      charged(1.04)
        .replace.filter((step) => !step.startsWith("Where anything smokes"))
        .slice(0, 5),
    ).toEqual([
      "Air the room before anything in it is switched: the battery may have given off explosive gas.",
      "Switch every load off.",
      "Disconnect the battery, minus first, before working on the line: it stays live.",
      "Wait, and measure 0 V on every conductor before you touch it: capacitors stay charged.",
      "Find the fault before switching on again.",
    ]);
    expect(charged(0.9).replace.join()).not.toContain("gas");
  });

  test("a crowbar that fired without hurting anything still asks for the fault", () => {
    const calm = { ...supply, fault: { kind: "none" } } as const;
    const steps = judged(run({}, { sources: [calm] })).replace;
    expect(steps).toContain("Find the fault before switching on again.");
    expect(steps.filter((step) => /^(Repair|Replace|Have|Check)/.test(step))).toEqual([]);
  });

  test("a line where nothing happened needs nothing", () => {
    const calm = { ...supply, fault: { kind: "none" } } as const;
    expect(judged(run({ crowbar: barFound(idle), events: [] }, { sources: [calm] })).replace).toEqual([]);
  });
});

describe("which way a source's current went", () => {
  const noted = (over: Parameters<typeof sourceFound>[0]) =>
    judged(run({ sources: [sourceFound(over)] })).notes.find((note) => note.includes("at its terminals"));

  test.each([
    [{ mostGiven: 150, mostTaken: 0 }, "23.9 V at its terminals and gave up to 150 A."],
    [{ mostGiven: 0, mostTaken: 6.42 }, "23.9 V at its terminals and took up to 6.42 A."],
    // It feeds its load, until others feed it: the small way is not worth a word.
    [{ mostGiven: 0.75, mostTaken: 67.5 }, "23.9 V at its terminals and took up to 67.5 A."],
    [{ mostGiven: 1, mostTaken: 6.42 }, "23.9 V at its terminals, gave up to 1 A and took up to 6.42 A."],
    [{ mostGiven: 0, mostTaken: 0 }, "23.9 V at its terminals and carried no current."],
  ])("%j", (over, expected) => {
    expect(noted(over)).toContain(expected);
  });

  const sound = { ...supply, name: "B", fault: { kind: "none" } } as const;
  const beside = (over: Parameters<typeof sourceFound>[0], sources = [supply, sound]) =>
    judged(run({ sources: [sourceFound(), sourceFound({ name: "B", ...over })] }, { sources })).replace.filter((step) =>
      step.includes("Have B checked"),
    );

  test("a sound supply that was fed back has to be looked at", () => {
    expect(beside({ mostGiven: 0.75, mostTaken: 67.5 })).toEqual([
      "Have B checked: others raised its terminals to 23.9 V.",
    ]);
    expect(beside({ mostGiven: 0.75, mostTaken: 0.5 })).toEqual([]);
    expect(beside({ mostTaken: 67.5, peak: { value: 15, time: 0 } })).toEqual([]);
  });

  test("what has its own fault, or swings with none in the line, is not told so", () => {
    expect(beside({ mostTaken: 67.5 }, [supply, { ...supply, name: "B" }])).toEqual([]);
    expect(beside({ mostTaken: 67.5 }, [{ ...sound, name: "supply" }, sound])).toEqual([]);
  });
});

import { expect, test } from "vitest";
import { type Answered, runScenario } from "../../packages/sim/src/index.ts";
import { holdingOf } from "../../packages/sim/src/verdict/holding.ts";

/** A worn transformer that a shorted pass transistor empties in each half wave: 50 Hz, so the current swings with 100 Hz. */
function heldOn(until: number, protection: string): Answered {
  const text = [
    "title: line",
    "fault at: 20 ms",
    "run for: 60 s",
    "sources:",
    "  - name: station supply",
    "    part: linear supply 20 A, ripple",
    "    reservoir: {mains frequency: 50 Hz, raw resistance: 0.8 ohm, capacitance: 10 mF}",
    "    fault: {kind: shorted pass transistor, pass resistance: 0.05 ohm}",
    "    lead: {length: 1.5 m, area: 4 mm2}",
    protection,
    "loads:",
    "  - name: relay radio",
    "    part: repeater 50 W",
    "    lead: {length: 1 m, area: 4 mm2}",
    "    limits: {withstand: parts rated 16 V}",
  ].join("\n");
  const answer = runScenario(text, "line.yaml", { record: false, until });
  if (answer.kind === "refused") throw new Error(JSON.stringify(answer.issues));
  return answer;
}

const CROWBAR =
  "crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast, case to ambient: 5 K/W, case heat capacity: 2 J/K}";
/** Through a half wave: at its lowest current, at its highest and between. */
const MOMENTS = [1, 1.001, 1.003, 1.005, 1.0075];

test("an SCR held on by a rippling line heats up as its mean power says, at whatever moment of the mains a run ends", () => {
  const whole = heldOn(25, CROWBAR).run.crowbar;
  const passed = whole?.junctionLimitTime ?? Number.NaN;
  expect(passed).toBeGreaterThan(15);
  for (const moment of MOMENTS) {
    const { run, verdict } = heldOn(moment, CROWBAR);
    if (verdict.kind !== "verdict") throw new Error("no verdict");
    const [held] = verdict.pending;
    expect(held).toMatchObject({ kind: "held on", passesRating: true });
    // The junction's own swing stands on the estimate of where the case is now; the long run passes the limit with a crest of it.
    expect((moment + (holdingOf(run)?.timeToLimit ?? Number.NaN)) / passed).toBeCloseTo(1, 1);
    expect(run.ripple?.mean["crowbar_A"]).toBeCloseTo(16.2, 0);
  }
  const lasts = MOMENTS.map((moment) => heldOn(moment, CROWBAR).run.atEnd["crowbar_A"] ?? Number.NaN);
  expect(Math.max(...lasts)).toBeGreaterThan(4 * Math.min(...lasts));
});

test("a fuse in a rippling line is told to melt when it does, at whatever moment of the mains a run ends", () => {
  const protection = `main fuse: blade fuse 10 A\n${CROWBAR}`;
  const [whole] = heldOn(3, protection).run.fuses;
  const melts = whole?.meltTime ?? Number.NaN;
  expect(melts).toBeGreaterThan(1.1);
  for (const moment of MOMENTS) {
    const [fuse] = heldOn(moment, protection).run.fuses;
    expect((moment + (fuse?.meltsAfter ?? Number.NaN)) / melts).toBeCloseTo(1, 2);
  }
});

test("means are those since the fault, and there are none where nothing ripples", () => {
  const early = heldOn(0.022, CROWBAR).run;
  // Without the time before the fault, when the crowbar carried nothing.
  expect(early.ripple?.mean["crowbar_A"]).toBeGreaterThan(20);
  const smooth = runScenario(
    "title: t\nfault at: 1 ms\nrun for: 2 ms\nsources:\n  - {name: hut battery, part: AGM battery 100 Ah, lead: {length: 1 m, area: 6 mm2}}\nloads:\n  - {name: radio, part: repeater 50 W, lead: {length: 1 m, area: 4 mm2}, limits: {withstand: parts rated 16 V}}",
    "line.yaml",
  ) as Answered;
  expect(smooth.run.ripple).toBeNull();
});

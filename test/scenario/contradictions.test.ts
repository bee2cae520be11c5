import { changeTexts, parseScenario, runScenario, type TextChange } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { shippedText } from "../study/compare/lines.ts";

const BASE = "01-shorted-pass-transistor";
const CROWBAR = "part: SCR 55 A, trip voltage: 15 V, sense filter: fast";
const LEAD = "length: 1 m, area: 4 mm2";

type Told = readonly [path: string, message: string, allowed?: string];

function wrong(changes: readonly TextChange[], base = BASE): readonly Told[] {
  const { issues } = parseScenario(changeTexts(shippedText(base), changes), "hut.yaml");
  return issues
    .filter(({ severity }) => severity === "error")
    .map(({ path, message, allowed }) => [path, message, ...(allowed === null ? [] : [allowed])] as unknown as Told);
}

describe("values that contradict one another are told at the one that has to give way", () => {
  test.each<[what: string, change: TextChange, told: Told]>([
    [
      "a supply that runs away to less than it gives",
      [["sources", 0, "fault"], "{kind: lost feedback, ceiling voltage: 13 V, slew: 1 V/s}"],
      ["sources[0].fault.ceiling voltage", "The ceiling voltage must lie above the set voltage.", "more than 13.8 V"],
    ],
    [
      "a reservoir below the output",
      [["sources", 0, "reservoir"], "{raw voltage: 13 V}"],
      ["sources[0].reservoir.raw voltage", "The raw voltage must lie above the set voltage.", "more than 13.8 V"],
    ],
    [
      "a foldback that opens up",
      [["sources", 0, "limit"], "{style: foldback, current: 5 A, short circuit current: 8 A}"],
      [
        "sources[0].limit.short circuit current",
        "A foldback limit gives less into a short than at its knee.",
        "at most 5 A",
      ],
    ],
    [
      "a fuse that is molten at rest",
      [["main fuse"], "{part: blade fuse 20 A, melting temperature: 20 °C}"],
      [
        "main fuse.melting temperature",
        "The melting temperature must lie above the ambient temperature.",
        "more than 25 °C",
      ],
    ],
    [
      "a junction too hot at rest",
      [["crowbar"], `{${CROWBAR}, ratings: {junction temperature: 20 °C}}`],
      [
        "crowbar.ratings.junction temperature",
        "The junction's limit must lie above the ambient temperature.",
        "more than 25 °C",
      ],
    ],
    [
      "an SCR that fails before its surge ratings begin",
      [["crowbar"], `{${CROWBAR}, fail temperature: 20 °C}`],
      ["crowbar.fail temperature", "The fail temperature must lie above 25 °C, where surge ratings start."],
    ],
    [
      "a battery emptier than empty",
      [["sources", 0], `{name: b, part: AGM battery 100 Ah, initial charge: -10 %, lead: {${LEAD}}}`],
      ["sources[0].initial charge", "This must lie between 0 and 100 %.", "0 to 100 %: a number with %, such as 90 %"],
    ],
    [
      "a wire that nobody draws",
      [["loads", 0, "lead"], "{length: 1 m, gauge: 99 AWG}"],
      [
        "loads[0].lead.gauge",
        "There is no such wire gauge.",
        "a whole number from 0 to 40, or 1/0 to 4/0, such as 12 AWG",
      ],
    ],
    [
      "half of what makes a length needless",
      [["loads", 0, "lead"], "{inductance: 1 uH, area: 4 mm2}"],
      ["loads[0].lead.length", "The lead of relay radio needs a length, or also `resistance`.", "a length"],
    ],
    [
      "a contact to which nothing happens",
      [["loads", 0, "lead"], `{${LEAD}, contact: {operations: []}}`],
      [
        "loads[0].lead.contact.operations",
        "A contact needs operations: what happens to it, and when.",
        "a list of times and actions",
      ],
    ],
    [
      "a gauge with a spread",
      [["tolerances"], "{relay radio.lead.gauge: ±1}"],
      [
        "tolerances.relay radio.lead.gauge",
        "A gauge has steps only.",
        "a path to a number: `crowbar.trip voltage`, `sources[0].set voltage`, `relay radio.lead.length`",
      ],
    ],
    [
      "a drift at one temperature",
      [["tolerances"], "{crowbar.trip voltage: ±0.5 V with 1 mV/K}"],
      [
        "tolerances.crowbar.trip voltage",
        "A drift over temperature has no effect: the ambient temperature has no spread.",
      ],
    ],
  ])("%s", (_, change, told) => {
    expect(wrong([change])[0]).toEqual(told);
  });

  describe("a protector that the healthy line sets off", () => {
    const DRAWN = "at the latest when little is drawn";
    const SUPPLY = "more than 13.8 V, to which station supply is set";
    const battery = (diode: string): TextChange => [
      ["sources", 0],
      `{name: house battery, part: AGM battery 100 Ah, emf: 14 V${diode}, lead: {${LEAD}}}`,
    ];
    const at = (voltage: string): TextChange => [["crowbar", "trip voltage"], voltage];

    test.each<[what: string, changes: readonly TextChange[], told: Told]>([
      [
        "at the set voltage itself",
        [at("13.8 V")],
        ["crowbar.trip voltage", `The crowbar would fire in normal service, ${DRAWN}.`, SUPPLY],
      ],
      [
        "below it, though a radio that transmits pulls the line lower",
        [at("13.75 V")],
        ["crowbar.trip voltage", `The crowbar would fire in normal service, ${DRAWN}.`, SUPPLY],
      ],
      [
        "on a battery",
        [battery(""), at("14 V")],
        [
          "crowbar.trip voltage",
          `The crowbar would fire in normal service, ${DRAWN}.`,
          "more than 14 V, the EMF of house battery",
        ],
      ],
      [
        "behind a diode",
        [battery(", diode: {forward voltage: 0.5 V, resistance: 10 mohm}"), at("13.5 V")],
        [
          "crowbar.trip voltage",
          `The crowbar would fire in normal service, ${DRAWN}.`,
          "more than 13.5 V, the EMF of house battery, less what its diode takes",
        ],
      ],
      [
        "as a series switch",
        [
          [["crowbar"], "none"],
          [["series switch"], "{part: relay 30 A, off voltage: 13.8 V}"],
        ],
        ["series switch.off voltage", `The series switch would open in normal service, ${DRAWN}.`, SUPPLY],
      ],
      [
        "as the supply's own shutdown",
        [[["sources", 0, "own OVP"], "{voltage: 13.8 V, delay: 5 us}"]],
        [
          "sources[0].own OVP.voltage",
          `The supply's own OVP would shut it down in normal service, ${DRAWN}.`,
          "more than 13.8 V, to which the supply is set",
        ],
      ],
      [
        "as the supply's own crowbar",
        [[["sources", 0, "own crowbar"], "{part: SCR 55 A, trip voltage: 13.8 V, sense filter: fast}"]],
        [
          "sources[0].own crowbar.trip voltage",
          `The supply's own crowbar would fire in normal service, ${DRAWN}.`,
          "more than 13.8 V, to which the supply is set",
        ],
      ],
    ])("%s", (_, changes, told) => {
      expect(wrong(changes)).toEqual([told]);
    });

    test("and it is so: the line stands below such a point while the radio transmits, and above it while it receives", () => {
      const sensed = (current: string): number => {
        const changes = [at("13.81 V"), [["loads", 0, "current"], current] as const];
        const answer = runScenario(changeTexts(shippedText(BASE), changes), "hut.yaml", {
          record: false,
          until: 21e-3,
        });
        if (answer.kind === "refused") throw new Error("refused");
        return answer.run.operatingPoint.vC2;
      };
      // Supply, lead and fuse have some 33 mohm: 15 A lose 0.5 V of 13.8 V in them, 0.1 A 3 mV.
      expect(sensed("15 A")).toBeLessThan(13.75);
      expect(sensed("0.1 A")).toBeGreaterThan(13.75);
    });
  });

  test("a switch that closes again above where it opens", () => {
    const relay = "{part: relay 30 A, off voltage: 15 V, reclose: {on voltage: 15.5 V, retry time: 1 s}}";
    expect(
      wrong([
        [["crowbar"], "none"],
        [["series switch"], relay],
      ]),
    ).toEqual([
      [
        "series switch.reclose.on voltage",
        "The switch must close again at a lower voltage than it opens at.",
        "less than 15 V",
      ],
    ]);
  });

  test("a supply that is switched on after the run", () => {
    const late = [
      [["start"], "dead"],
      [["sources", 0, "switch on"], "{time: 2 s, ramp time: 1 ms}"],
    ] as const;
    expect(wrong(late)).toEqual([["sources[0].switch on.time", "It is switched on only after the end of the run."]]);
  });

  test("a load's clamp that conducts in service is only warned of, at that load", () => {
    const clamp = '{part: "clamp diode 1500 W, 15 V", breakdown voltage: 13 V}';
    const { issues, scenario } = parseScenario(
      changeTexts(shippedText(BASE), [[["loads", 0, "clamp"], clamp]]),
      "hut.yaml",
    );
    expect(scenario).not.toBeNull();
    expect(issues).toMatchObject([
      { code: "clamp-at-rest", path: "loads[0].clamp", hint: "take one that begins above 13.8 V" },
    ]);
  });
});

describe("what has the wrong shape is told once, and nothing is missed in its place", () => {
  test.each<[path: string, changes: readonly TextChange[]]>([
    ["sources[0].limit", [[["sources", 0, "limit"], "[hiccup]"]]],
    [
      "sources[0].switch on",
      [
        [["start"], "dead"],
        [["sources", 0, "switch on"], "[now]"],
      ],
    ],
    ["loads[0].lead.insulation", [[["loads", 0, "lead"], `{${LEAD}, insulation: [PVC]}`]]],
    ["loads[0].lead.contact.operations", [[["loads", 0, "lead"], `{${LEAD}, contact: {operations: soon}}`]]],
    [
      "loads[0].lead.contact.initially",
      [[["loads", 0, "lead"], `{${LEAD}, contact: {initially: maybe, operations: [{time: 10 ms, action: open}]}}`]],
    ],
    ["loads[0].limits.withstand", [[["loads", 0, "limits"], "{withstand: parts rated 17 V}"]]],
    ["loads[0].limits", [[["loads", 0, "limits"], "parts rated 17 V"]]],
    ["crowbar.ratings", [[["crowbar"], `{${CROWBAR}, ratings: high}`]]],
    ["crowbar.ratings.surge windows", [[["crowbar"], `{${CROWBAR}, ratings: {surge windows: long}}`]]],
    ["crowbar.sense filter", [[["crowbar"], "{part: SCR 55 A, trip voltage: 15 V, sense filter: [fast]}"]]],
    ["main fuse.start", [[["main fuse"], "{part: blade fuse 20 A, start: lukewarm}"]]],
    ["main fuse.gates", [[["main fuse"], "{part: blade fuse 20 A, gates: wide}"]]],
    [
      "loads[0].drop out.comes back",
      [
        [
          ["loads", 0, "drop out"],
          "{voltage: 10 V, delay: 1 ms, sleep current: 0.1 A, return voltage: 11 V, return delay: 1 s, comes back: never}",
        ],
      ],
    ],
  ])("%s", (path, changes) => {
    expect(wrong(changes).map(([at]) => at)).toEqual([path]);
  });

  test("an insulation of one's own wants both temperatures, whichever is wrong", () => {
    expect(wrong([[["loads", 0, "lead"], `{${LEAD}, insulation: {continuous: hot}}`]]).map(([at]) => at)).toEqual([
      "loads[0].lead.insulation.short circuit",
      "loads[0].lead.insulation.continuous",
    ]);
  });
});

test("everything that a fuse of one's own lacks is told at once, its rated current too", () => {
  expect(wrong([[["main fuse"], "{rated voltage: 32 V}"]]).map(([path]) => path)).toEqual(
    expect.arrayContaining(["main fuse.rated current", "main fuse.cold resistance", "main fuse.resistance ratio"]),
  );
});

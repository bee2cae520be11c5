import { readTripSettings, renderTrip, tripStudy } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { studiedText } from "./lines.ts";

const short = "lead: {length: 1 m, area: 4 mm2}";

interface Written {
  /** More of the supply. */
  readonly supply?: string;
  readonly protector?: string;
  /** The radio's own limit. */
  readonly maximum?: string;
}

const FAULT = ", fault: {kind: shorted pass transistor, pass resistance: 50 mohm}";
const line = ({
  supply = "",
  protector = "crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}",
  maximum = "15.87 V",
}: Written): string =>
  `title: line
fault at: 1 ms
run for: 20 ms
sources:
  - {name: supply, part: linear supply 20 A, set voltage: 13.8 V, ${short}${supply}}
main fuse: blade fuse 20 A
${protector}
loads:
  - {name: radio, part: 100 W radio, limits: {maximum: ${maximum}}, ${short}}
`;

/** A study without changes. */
function asked(text: string) {
  const { settings } = readTripSettings();
  if (settings === null) throw new Error("no settings");
  return tripStudy(text, "line.yaml", settings, { changes: false });
}

describe("where a line refuses its highest normal voltage", () => {
  // 1 % above 13.8 V lies above 13.9 V.
  const study = studiedText(line({ supply: ", own OVP: {voltage: 13.9 V, delay: 10 us}" }));

  test("what normal service shows is run at its set voltage, and that is said", () => {
    const simulated = study.nuisances.filter(({ node }) => node !== null && node > 0);
    const remarks = simulated.filter(({ how }) => how === "simulated").map(({ remark }) => remark);
    expect(remarks.length).toBeGreaterThan(0);
    expect(new Set(remarks)).toEqual(new Set(["run at 13.80 V: the line refuses its normal maximum"]));
  });

  test("nothing is told of normal service at the lower end, for that could not be run", () => {
    expect(study.verified.firings).toBeNull();
    expect(renderTrip(study, 100)).not.toContain("normal service (key");
  });
});

describe("a load that stands no more than the healthy line has", () => {
  test("by much: no trip point can be run", () => {
    expect(asked(line({ supply: FAULT, maximum: "13 V" }))).toMatchObject({
      kind: "refused",
      issues: [
        {
          code: "not-run",
          message:
            "The fault could not be run: The crowbar would fire in normal service, at the latest when little is drawn.",
        },
      ],
    });
  });

  test("by little: the trip point that would keep it is told by the lowest one that can be run, and lies below rest", () => {
    const answer = asked(line({ supply: FAULT, maximum: "13.5 V" }));
    if (answer.kind === "refused") throw new Error("refused");
    const { exists, tops, verified } = answer.study;
    expect(exists).toBe(false);
    expect(tops.fast!.rows[0]).toMatchObject({ name: "limit of radio", value: 13.5 });
    expect(tops.fast!.worst).toBeLessThan(13.8);
    // There the crowbar would fire in normal service: nothing is run.
    expect(verified.fault).toBeNull();
  });
});

test("a fuse that melts in normal service has its own remedy: no lower voltage mends it", () => {
  const answer = asked(line({}).replace("main fuse: blade fuse 20 A", "main fuse: blade fuse 5 A"));
  expect(answer).toMatchObject({
    kind: "refused",
    issues: [{ code: "not-run", hint: "a larger fuse, or less current" }],
  });
  expect(answer.kind === "refused" && answer.issues[0].message).toContain("This fuse melts in normal service");
});

test("a divider cannot bring a trip point below its own reference", () => {
  const study = studiedText(line({}), { wanted: "2 V" });
  expect(study.dividers).toEqual([]);
  expect(study.fits).toBe(false);
});

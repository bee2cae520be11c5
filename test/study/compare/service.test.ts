import { parseScenario } from "@railfault/sim";
import { expect, test } from "vitest";
import { normalService } from "../../../packages/sim/src/study/compare/service.ts";

const served = (sources: string, loads: string) =>
  normalService(
    parseScenario(
      `title: service\nfault at: 1 ms\nrun for: 20 ms\nsources:\n${sources}main fuse: none\nloads:\n${loads}`,
      "service.yaml",
    ),
  );
const lead = (resistance: string) => `lead: {resistance: ${resistance}, inductance: 1 uH, area: 4 mm2}`;
const supply = (name: string, resistance: string, voltage: string) =>
  `  - {name: ${name}, part: linear supply 20 A, set voltage: ${voltage}, source resistance: 10 mohm, fault: none, ${lead(resistance)}}\n`;
const load = (name: string, resistance: string, more = "") =>
  `  - {name: ${name}, kind: resistive, resistance: 2 ohm, input capacitance: 1 uF, esr: 10 mohm, limits: {minimum: 0 V, maximum: 16 V}, ${lead(resistance)}${more}}\n`;

test("from the terminals of the source that gives most to those of the load that gets least", () => {
  // The second load hangs on twenty times the resistance, so it gets least.
  const service = served(supply("one", "10 mohm", "13.8 V"), load("near", "10 mohm") + load("far", "200 mohm"));
  if (service?.receive.kind !== "found") throw new Error("no point");
  // Both pass the supply's lead: the far one its own as well.
  const { current, drop, loss } = service.receive;
  const [near, far] = [1 / 2.01, 1 / 2.2];
  // 10 mohm inside the supply, 10 in its lead.
  const node = 13.8 / (1 + 0.02 * (near + far));
  const volts = node * (1 + 0.01 * (near + far));
  expect(current).toBeCloseTo(node * (near + far), 2);
  expect(drop).toBeCloseTo(volts - node * far * 2, 2);
  expect(loss).toBeCloseTo(volts * node * (near + far) - 2 * ((node * near) ** 2 + (node * far) ** 2), 1);
  // Neither load has two ways to draw.
  expect(service.transmit).toBeNull();
  const swapped = served(supply("one", "10 mohm", "13.8 V"), load("far", "200 mohm") + load("near", "10 mohm"));
  expect(swapped?.receive).toMatchObject({
    kind: "found",
    drop: expect.closeTo(drop, 9),
    loss: expect.closeTo(loss, 9),
  });
});

test("of two sources the one that gives more is the one that the drop is counted from", () => {
  const both = served(
    supply("weak", "500 mohm", "13.8 V") + supply("strong", "10 mohm", "13.8 V"),
    load("radio", "10 mohm"),
  );
  const other = served(
    supply("strong", "10 mohm", "13.8 V") + supply("weak", "500 mohm", "13.8 V"),
    load("radio", "10 mohm"),
  );
  expect(both?.receive).toMatchObject({ kind: "found" });
  if (both?.receive.kind !== "found" || other?.receive.kind !== "found") throw new Error("no point");
  expect(both.receive.drop).toBeCloseTo(other.receive.drop, 9);
  expect(both.receive.drop).toBeCloseTo(13.8 * (0.02 / 2.02), 1);
});

test("a lamp draws what its filament lets through, on receive as on transmit", () => {
  const lamp = `  - {name: lamp, part: incandescent lamp 12 V 21 W, ${lead("10 mohm")}, limits: {maximum: 16 V}}\n`;
  const radio = `  - {name: radio, part: 100 W radio, ${lead("10 mohm")}}\n`;
  const alone = served(supply("one", "10 mohm", "13.8 V"), radio);
  const both = served(supply("one", "10 mohm", "13.8 V"), lamp + radio);
  const currentOf = (service: ReturnType<typeof served>, when: "receive" | "transmit"): number => {
    const point = service?.[when];
    if (point?.kind !== "found") throw new Error("no point");
    return point.current;
  };
  // 21 W at 12 V, by I ∝ V^0.54 at 13.7 V.
  for (const when of ["receive", "transmit"] as const)
    expect(currentOf(both, when) - currentOf(alone, when)).toBeCloseTo(1.75 * (13.7 / 12) ** 0.54, 1);
});

test("a line with errors has none", () => {
  expect(normalService(parseScenario("title: nothing else\n", "service.yaml"))).toBeNull();
});

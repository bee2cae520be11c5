import { type Instrument, normals } from "../../../packages/sim/scripts/instrument.ts";
import { type Fit, fitScenario } from "../../../packages/sim/src/index.ts";
import { captured, scenarioWith } from "./bench.ts";

const FREE = ["crowbar.trip voltage", "sources[0].fault.pass resistance"] as const;

/** The instrument of the shipped capture of a shorted pass transistor: the radio's voltage and the SCR's current in a quarter of a millisecond. */
export function fastInstrument(seed: number, change: Partial<Instrument> = {}, noise = 1): Instrument {
  const gauss = normals(500 + seed);
  return {
    from: 0.01995,
    interval: 0.2e-6,
    samples: 1250,
    bandwidth: 2e6,
    bits: 8,
    seed,
    channels: [
      {
        column: "relay_radio_V",
        name: "radio",
        unit: "V",
        range: [-4, 20],
        noise: 0.03 * noise,
        offset: 0.02 * gauss(),
        skew: 0,
      },
      {
        column: "crowbar_A",
        name: "crowbar",
        unit: "A",
        range: [-100, 500],
        noise: 1.2 * noise,
        offset: 1.5 * gauss(),
        skew: 0.12e-6,
      },
    ],
    ...change,
  };
}

/** The two values found again by an instrument's voltage and current, and what they are: V and mΩ. */
export async function fittedTwo(
  instrument: Instrument,
  truth: readonly [trip: number, pass: number],
): Promise<{ readonly found: Fit; readonly truth: readonly number[] }> {
  const [trip, pass] = truth;
  const values = { [FREE[0]]: `${trip.toPrecision(9)} V`, [FREE[1]]: `${pass.toPrecision(9)} mohm` };
  const capture = captured(scenarioWith("01-shorted-pass-transistor", values), instrument);
  const text = scenarioWith("01-shorted-pass-transistor", {});
  const found = await fitScenario(text, "hut.yaml", capture, { free: FREE, channels: [] });
  if (found.kind === "refused") throw new Error(found.issues.map(({ message }) => message).join("; "));
  return { found, truth };
}

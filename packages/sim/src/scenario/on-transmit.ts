import { apart, capital, formatQuantity, listed, the } from "../units/index.ts";
import { meltingCurrentAt } from "./melting-current.ts";
import { serviceDraws } from "./service.ts";
import type { Fuse, Scenario } from "./types.ts";

/** What the loads of a line draw at their most in normal service, all together. */
export interface TransmitDraw {
  /** Their names. */
  readonly loads: readonly string[];
  /** A, all together. */
  readonly current: number;
  /** Whether any of them is of a class that tells what it draws while transmitting. */
  readonly transmits: boolean;
}

/** Whether a fuse carries what the loads draw. */
export interface FuseHolds {
  /** `no`: it melts in normal service; `not for long`: more than practice allows a fuse for hours. */
  readonly holds: "yes" | "not for long" | "no";
  /** The answer in words, with its numbers. */
  readonly sentence: string;
  /** What the loads draw, for the middle of a sentence: `the radio draws 21 A on transmit`. */
  readonly draws: string;
}

/** Common practice: for hours a fuse carries this much of its rating at 25 °C, and elsewhere as much less as it then melts at less. */
const LASTING = 0.75;

/**
 * What the main fuse of a line must carry while its radios transmit, by their part classes and the line's own values.
 *
 * @param parsed a scenario file that was read
 * @returns names and the sum of currents in A; null where the file has errors
 * @example drawOnTransmit(parseScenario(text, "hut.yaml"))?.current // 21
 */
export function drawOnTransmit(parsed: {
  readonly scenario: Scenario | null;
  readonly written: unknown;
}): TransmitDraw | null {
  if (parsed.scenario === null) return null;
  const each = drawsOnTransmit(parsed.scenario, parsed.written);
  return {
    loads: each.flatMap(({ loads }) => loads),
    current: each.reduce((sum, { current }) => sum + current, 0),
    transmits: each.some(({ transmits }) => transmits),
  };
}

/** The same of each load by itself, in the order of the scenario. */
export function drawsOnTransmit(scenario: Scenario, written: unknown): readonly TransmitDraw[] {
  return serviceDraws(scenario, written).map(({ largestCurrent, transmits }, index) => {
    return { loads: [scenario.loads[index].name], current: largestCurrent, transmits };
  });
}

/**
 * Whether a fuse carries what the loads draw while they transmit: below its melting current at that temperature, and for hours below 75 % of its
 * rating, as common practice has it.
 *
 * @param fuse of a complete scenario
 * @param draw of `drawOnTransmit`
 * @param ambient °C
 * @returns the answer, and its sentence; never throws
 * @example
 * const parsed = parseScenario(text, "hut.yaml");
 * const draw = drawOnTransmit(parsed);
 * if (parsed.scenario?.mainFuse && draw) console.log(holdsOnTransmit(parsed.scenario.mainFuse, draw, 25).sentence);
 */
export function holdsOnTransmit(fuse: Fuse, { loads, current, transmits }: TransmitDraw, ambient: number): FuseHolds {
  const who = loads.length === 1 ? the(loads[0]) : `${listed(loads.map(the))} together`;
  const when = transmits ? "on transmit" : "at the most that this line tells";
  const drawing = (amount: string): string => `${who} ${loads.length === 1 ? "draws" : "draw"} ${amount} ${when}`;
  const draws = drawing(show(current, 3));
  const melts = meltingCurrentAt(fuse, ambient);
  const share = melts / fuse.minimumMeltingCurrent;
  const where = Math.abs(share - 1) < 0.005 ? "" : ` at ${formatQuantity(ambient, "temperature")}`;
  if (current >= melts) {
    const [drawn, melting] = apart(current, melts, show);
    const sentence = `This fuse would not hold ${when} (${drawn}): it melts from about ${melting} on${where}.`;
    return { holds: "no", draws, sentence };
  }
  const lasting = fuse.ratedCurrent === null ? melts : LASTING * fuse.ratedCurrent * share;
  const [drawn, allowed] = apart(current, lasting, show);
  const rule = `${formatQuantity(LASTING, "ratio")} of its rating, ${where === "" ? "" : `re-rated${where} `}${allowed},`;
  if (current > lasting) {
    const sentence = `${capital(drawing(drawn))}. Practice allows a fuse ${rule} for hours: this one would tire.`;
    return { holds: "not for long", draws, sentence };
  }
  const sentence = `${capital(drawing(drawn))}, and practice allows this fuse ${allowed} for hours${where}.`;
  return { holds: "yes", draws, sentence };
}

const show = (value: number, digits: number): string => formatQuantity(value, "current", { digits });

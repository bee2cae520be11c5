import type { TextChange } from "../../scenario/index.ts";
import type { Path } from "../../scenario/keys.ts";
import { meltingI2tToStand, pulseWithstand } from "../../scenario/surge.ts";
import { asValue } from "../../scenario/text/written.ts";
import { show } from "../../verdict/words.ts";
import type { FuseFacts, Named } from "./candidates.ts";
import { checkOf } from "./check.ts";
import type { Check, LineFacts } from "./types.ts";

/** Share of its rating that a fuse carries for good at 25 °C: EDN, 26 Sep 1996. */
const CONTINUOUS_SHARE = 0.75;
/** Times that a line may be switched on before its fuse may tire of it. */
const SWITCHINGS = 100_000;

/**
 * Share of its current at 25 °C that a fuse carries at another ambient temperature: sqrt((T_melt − T_amb)/(T_melt − 25 °C)); 1 where no
 * melting temperature is known.
 *
 * @param fuse its melting temperature, °C, or null
 * @param ambient °C
 * @example ambientFactor({ meltingTemperature: 150 }, 65) // 0.825
 */
export function ambientFactor(fuse: Pick<FuseFacts, "meltingTemperature">, ambient: number): number {
  const { meltingTemperature } = fuse;
  if (meltingTemperature === null) return 1;
  return Math.sqrt(Math.max(0, meltingTemperature - ambient) / (meltingTemperature - 25));
}

/**
 * Current in A that a fuse may carry for good: 75 % of its rating, re-rated with the ambient temperature.
 *
 * @returns null where no rating is known
 * @example continuousCurrent({ ratedCurrent: 20, meltingTemperature: 150 }, 25) // 15
 */
export function continuousCurrent(
  fuse: Pick<FuseFacts, "meltingTemperature" | "ratedCurrent">,
  ambient: number,
): number | null {
  return fuse.ratedCurrent === null ? null : CONTINUOUS_SHARE * fuse.ratedCurrent * ambientFactor(fuse, ambient);
}

/** The rules of a fuse alone; its thermal model is not asked. */
export function fuseChecks(part: Named, fuse: FuseFacts, facts: LineFacts, path: Path): Check[] {
  const set = (key: string, value: string): readonly TextChange[] => [
    ...part.changes.filter(([, text]) => text === null),
    [path, `{part: ${asValue(part.name)}, ${key}: ${value}}`],
  ];
  return [
    continuous(part.name, fuse, facts),
    switchOn(part.name, fuse, facts),
    breaking(part, fuse, facts, set),
    voltage(part, fuse, facts, set),
  ];
}

function continuous(name: string, fuse: FuseFacts, { service, ambient }: LineFacts): Check {
  const allowed = continuousCurrent(fuse, ambient);
  const factor = ambientFactor(fuse, ambient);
  const re =
    Math.abs(factor - 1) < 0.005 ? "" : ` times ${show(factor, "number", 2)} at ${show(ambient, "temperature")}`;
  const draws = `The line draws ${show(service.current, "current")} in service`;
  return checkOf({
    rule: "continuous load",
    subject: "fuse",
    dimension: "current",
    found: service.current,
    allowed,
    bound: "at most",
    sentence:
      allowed === null
        ? `${draws}; the rated current of ${name} is not known, so nobody can say that it carries that.`
        : `${draws}; ${name} carries ${show(allowed, "current")} for good (75 % of its rating${re}).`,
    mend:
      allowed === null
        ? null
        : {
            words: `loads that draw no more than ${show(allowed, "current")} together, or a fuse rated at least ${Math.ceil(service.current / CONTINUOUS_SHARE / factor)} A of a class that is not listed here`,
            changes: [],
          },
  });
}

function switchOn(name: string, fuse: FuseFacts, { switchOnI2t }: LineFacts): Check {
  const share = pulseWithstand(SWITCHINGS) ?? 0;
  const melting = fuse.nominalMeltingI2t;
  const needed = meltingI2tToStand(switchOnI2t, share);
  const charging = `Switching on charges the loads' inputs with ${show(switchOnI2t, "I2t")}`;
  return checkOf({
    rule: "switch-on pulse",
    subject: "fuse",
    dimension: "I2t",
    found: switchOnI2t,
    allowed: switchOnI2t === 0 ? 0 : melting === null ? null : share * melting,
    bound: "at most",
    sentence:
      melting === null
        ? `${charging}; the melting I²t of ${name} is not known, so nobody can say how often it stands that.`
        : `${charging}; to stand that 100 000 times a fuse needs a melting I²t of ${show(needed, "I2t")}, and ${name} has ${show(melting, "I2t")}.`,
  });
}

type Set = (key: string, value: string) => readonly TextChange[];

function breaking(part: Named, fuse: FuseFacts, { prospective }: LineFacts, set: Set): Check {
  const { breakingCapacity } = fuse;
  const flows = `Up to ${show(prospective.current, "current")} could flow into a short (voltage over resistance)`;
  const enough = Math.ceil(prospective.current / 100) * 100;
  return checkOf({
    rule: "breaking capacity",
    subject: "fuse",
    dimension: "current",
    found: prospective.current,
    allowed: breakingCapacity,
    bound: "at most",
    sentence:
      breakingCapacity === null
        ? `${flows}; what ${part.name} is able to break on DC is not known, so nobody can say that it breaks that.`
        : `${flows}; ${part.name} is able to break ${show(breakingCapacity, "current")}.`,
    mend: {
      words: `a fuse like ${part.name} that is able to break ${show(enough, "current")} on DC`,
      changes: set("breaking capacity", `${enough} A`),
    },
  });
}

function voltage(part: Named, fuse: FuseFacts, { prospective }: LineFacts, set: Set): Check {
  const enough = Math.ceil(prospective.voltage);
  return checkOf({
    rule: "rated voltage",
    subject: "fuse",
    dimension: "voltage",
    found: prospective.voltage,
    allowed: Number.isFinite(fuse.ratedVoltage) ? fuse.ratedVoltage : null,
    bound: "at most",
    sentence: `The fault brings up to ${show(prospective.voltage, "voltage")}; ${part.name} is rated ${show(fuse.ratedVoltage, "voltage")}.`,
    mend: {
      words: `a fuse like ${part.name} rated ${enough} V DC`,
      changes: set("rated voltage", `${enough} V`),
    },
  });
}

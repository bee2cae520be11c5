import type { CrowbarFindings, FuseFindings, LoadFindings, Run } from "../model/result.ts";
import type { Comparer } from "./comparison.ts";
import { type Fields, fields, list } from "./fields.ts";

/** Floors below which a figure is compared absolutely, in its unit. */
const FLOOR = { V: 0.01, A: 0.01, K: 0.1, A2s: 0.01, J: 0.01, W: 0.01, Vs: 1e-5, share: 1e-3, slope: 1e4 } as const;

export function compareEnergy(comparer: Comparer, expected: Fields, { energy }: Run): void {
  comparer.value("energy fed", expected.fed, energy.fed, FLOOR.J);
  comparer.value("energy dissipated", expected.dissipated, energy.dissipated, FLOOR.J);
  comparer.value("change of stored energy", expected.stored_change, energy.storedChange, FLOOR.J);
  comparer.same("energy balance within 1e-6 of the energy fed", true, energy.relative <= 1e-6);
}

export function compareLoad(comparer: Comparer, expected: Fields, load: LoadFindings | undefined): void {
  const name = `load ${expected.name}`;
  comparer.value(`${name} peak voltage`, expected.v_peak, load?.peak.value, FLOOR.V);
  comparer.time(`${name} time above maximum`, expected.time_above_v_max, load?.aboveMaximum.total);
  comparer.time(`${name} longest above maximum`, expected.longest_above_v_max, load?.aboveMaximum.longest);
  comparer.value(`${name} V·s above maximum`, expected.Vs_above_v_max, load?.aboveMaximum.area, FLOOR.Vs);
  comparer.time(`${name} time below minimum`, expected.time_below_v_min, load?.belowMinimum.total);
  comparer.time(`${name} longest below minimum`, expected.longest_below_v_min, load?.belowMinimum.longest);
  for (const [key, value] of Object.entries(expected)) {
    const level = /^longest_above_([\d.]+)_V$/.exec(key);
    if (!level) continue;
    const watch = load?.withstand.find((entry) => Math.abs(entry.level - Number(level[1])) < 1e-9);
    comparer.time(`${name} longest above ${level[1]} V`, value, watch?.longest);
  }
  if (expected.safe !== undefined) comparer.same(`${name} safe`, expected.safe, load && load.aboveMaximum.total === 0);
  if (expected.withstand_held !== undefined) {
    comparer.same(
      `${name} withstand held`,
      expected.withstand_held,
      load?.withstand.every((level) => level.longest <= level.allowed),
    );
  }
  if (expected.smallest_margin !== undefined) {
    const margins = load?.withstand
      .filter((level) => level.longest > 0)
      .map((level) => ({ V: level.level, ratio: level.allowed / level.longest }));
    // A load that is not there has none, not even "none passed".
    const smallest = margins?.sort((a, b) => a.ratio - b.ratio)[0] ?? (margins && { V: null, ratio: null });
    const wanted = expected.smallest_margin === null ? null : fields(expected.smallest_margin, "smallest_margin");
    comparer.value(`${name} voltage of the smallest margin`, wanted?.V ?? null, smallest?.V, FLOOR.V);
    comparer.value(`${name} smallest margin`, wanted?.ratio ?? null, smallest?.ratio, FLOOR.share);
  }
}

export function compareSource(comparer: Comparer, expected: Fields, source: Run["sources"][number] | undefined): void {
  const name = `source ${expected.name}`;
  comparer.value(`${name} peak voltage`, expected.v_peak, source?.peak.value, FLOOR.V);
  if (expected.soc_end !== undefined)
    comparer.value(`${name} charge at the end`, expected.soc_end, source?.charge?.end, FLOOR.share);
  if (expected.charge_warning !== undefined) {
    // The reference looks at the end of the run; the product's own warning looks at the whole of it.
    const end = source?.charge?.end;
    const outside = end === undefined ? undefined : end < 0 || end > 1;
    comparer.same(`${name} charge outside 0…1 at the end`, expected.charge_warning, outside);
  }
  if (expected.rings_warning !== undefined) comparer.same(`${name} rings`, expected.rings_warning, source?.rings);
}

export function compareFuse(comparer: Comparer, expected: Fields, fuse: FuseFindings | undefined): void {
  const name = `fuse ${expected.name}`;
  comparer.same(`${name} state`, expected.state, fuse?.state);
  comparer.time(`${name} overload`, expected.t_overload, fuse?.overloadTime);
  comparer.time(`${name} melts`, expected.t_melt, fuse?.meltTime);
  comparer.time(`${name} opens`, expected.t_open, fuse?.openTime);
  comparer.value(`${name} melting I²t`, expected.I2t_melting, fuse?.meltingI2t, FLOOR.A2s);
  comparer.value(`${name} let-through I²t`, expected.I2t_let_through, fuse?.letThroughI2t, FLOOR.A2s);
  comparer.value(`${name} I²t of the run`, expected.I2t_total, fuse?.totalI2t, FLOOR.A2s);
  comparer.value(`${name} peak melt share`, expected.theta_peak, fuse?.peakTheta, FLOOR.share);
  comparer.value(`${name} peak voltage after melting`, expected.v_peak_after_melting, fuse?.peakVoltage, FLOOR.V);
}

export function compareLead(comparer: Comparer, expected: Fields, lead: Run["leads"][number] | undefined): void {
  const name = `lead ${expected.name}`;
  comparer.value(`${name} I²t`, expected.I2t, lead?.i2t, FLOOR.A2s);
  comparer.value(`${name} peak rise`, expected.dT_peak, lead?.peakRise, FLOOR.K);
  comparer.value(`${name} rise at the end`, expected.dT_end, lead?.endRise, FLOOR.K);
}

export function compareCrowbar(
  comparer: Comparer,
  expected: Fields,
  crowbar: CrowbarFindings | null,
  loads: readonly LoadFindings[],
): void {
  comparer.same("SCR firings", expected.firings, crowbar?.firings.length);
  compareTimes(comparer, "SCR firing", expected, "t_fire", crowbar?.firings);
  compareTimes(comparer, "SCR stop", expected, "t_stop", crowbar?.stops);
  comparer.same("SCR conducting at the end", expected.conducting_at_end, crowbar?.conductingAtEnd);
  comparer.same("SCR failed short", expected.failed_short, crowbar?.failedShort);
  comparer.value("SCR peak current", expected.I_peak, crowbar?.peakCurrent.value, FLOOR.A);
  comparer.value("SCR largest di/dt", expected.didt_peak, crowbar?.peakRise.value, FLOOR.slope);
  comparer.value("SCR worst I²t within 10 ms", expected.I2t_10ms_worst, crowbar?.worst10msI2t, FLOOR.A2s);
  comparer.value("SCR I²t", expected.I2t_total, crowbar?.totalI2t, FLOOR.A2s);
  comparer.value("SCR junction energy", expected.energy, crowbar?.junctionEnergy, FLOOR.J);
  comparer.value("SCR peak junction temperature", expected.Tj_peak, crowbar?.peakTemperature.value, FLOOR.K);
  comparer.value("SCR junction temperature at the end", expected.Tj_end, crowbar?.endTemperature, FLOOR.K);
  comparer.same("SCR trips repeatedly", expected.cycling, crowbar ? crowbar.cycling !== null : undefined);
  if (expected.cycling !== true) return;
  comparer.time("SCR period", expected.period_last, crowbar?.cycling?.period);
  comparer.value("SCR on share", expected.on_share_last, crowbar?.cycling?.onShare, FLOOR.share);
  list(expected, "v_peak_per_cycle").forEach((cycle, c) => {
    (cycle as unknown[]).forEach((want, k) => {
      comparer.value(`load ${k} peak in cycle ${c}`, want, loads[k]?.peakPerCycle[c], FLOOR.V);
    });
  });
  const wanted = fields(expected.long_run_estimate, "long_run_estimate");
  const longRun = crowbar?.cycling?.longRun;
  comparer.value("long run: mean power", wanted.P_mean, longRun?.meanPower, FLOOR.W);
  comparer.value("long run: junction at rest", wanted.Tj_rest, longRun?.restTemperature, FLOOR.K);
  (wanted.fuses ? list(wanted, "fuses") : []).forEach((value) => {
    const fuse = fields(value, "long_run_estimate.fuses");
    const mine = longRun?.fuses.find((entry) => fuseName(entry.subject) === fuse.name);
    comparer.value(`long run: ${fuse.name} mean load`, fuse.x_mean, mine?.meanLoad, FLOOR.share);
    comparer.value(`long run: ${fuse.name} rest`, fuse.theta_rest, mine?.restTheta, FLOOR.share);
    // "The melting time" may be told since the start or since the last firing, from which the means are held.
    const since = crowbar?.firings.at(-1) ?? 0;
    const told =
      typeof fuse.t_melt === "number" && mine?.meltTime
        ? nearest(fuse.t_melt, [mine.meltTime, mine.meltTime - since])
        : mine?.meltTime;
    comparer.time(`long run: ${fuse.name} melts`, fuse.t_melt, told);
  });
}

export function compareClamp(comparer: Comparer, expected: Fields, { clamp }: Run): void {
  comparer.value("clamp peak current", expected.I_peak, clamp?.peakCurrent.value, FLOOR.A);
  comparer.value("clamp energy", expected.energy, clamp?.energy, FLOOR.J);
  comparer.value("clamp peak rise", expected.dT_peak, clamp?.peakRise, FLOOR.K);
  comparer.value("clamp rise at the end", expected.dT_end, clamp?.endRise, FLOOR.K);
  comparer.same("clamp failed short", expected.failed_short, clamp?.failedShort);
  comparer.time("clamp fails", expected.t_fail, clamp?.failTime);
}

export function compareSwitch(comparer: Comparer, expected: Fields, { seriesSwitch }: Run): void {
  comparer.same("switch state", expected.state, seriesSwitch?.state);
  comparer.same("switch openings", expected.openings, seriesSwitch?.starts.length);
  compareTimes(comparer, "switch starts to open", expected, "t_start", seriesSwitch?.starts);
  compareTimes(comparer, "switch open", expected, "t_open", seriesSwitch?.opens);
  compareTimes(comparer, "switch recloses", expected, "t_reclose", seriesSwitch?.recloses);
  comparer.same("switch opens repeatedly", expected.cycling, seriesSwitch ? seriesSwitch.cycling !== null : undefined);
  if (expected.cycling === true) comparer.time("switch period", expected.period_last, seriesSwitch?.cycling?.period);
}

export function fuseName({ part, owner }: FuseFindings["subject"]): string {
  return part === "main fuse" ? "board fuse" : `${owner} lead fuse`;
}

export function compareOperatingPoint(comparer: Comparer, expected: Fields, { operatingPoint }: Run): void {
  for (const [key, value] of Object.entries(expected)) {
    const name = key.replace(/^board fuse\./, "main fuse.").replace(/ lead fuse\./, " fuse.");
    const floor = /theta\d+$/.test(key) ? FLOOR.share : /dT/.test(key) ? FLOOR.K : FLOOR.V;
    comparer.value(`operating point ${key}`, value, operatingPoint[name], floor);
  }
}

function nearest(to: number, candidates: readonly number[]): number {
  return candidates.reduce((best, candidate) => (Math.abs(candidate - to) < Math.abs(best - to) ? candidate : best));
}

function compareTimes(
  comparer: Comparer,
  figure: string,
  expected: Fields,
  key: string,
  found: readonly number[] | undefined,
): void {
  const wanted = list(expected, key);
  comparer.same(`${figure}: number of times`, wanted.length, found?.length);
  wanted.forEach((time, k) => {
    const before = k > 0 ? (wanted[k - 1] as number) : 0;
    comparer.time(
      `${figure} ${k + 1}`,
      (time as number) - before,
      found?.[k] === undefined ? undefined : found[k] - (k > 0 ? found[k - 1] : 0),
    );
  });
}

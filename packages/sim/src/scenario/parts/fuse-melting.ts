/** The part of a fuse that decides when it melts; a complete `Fuse` fits it. */
export interface FuseModel {
  /** Resistance at melting over cold resistance, ≥ 1. */
  readonly resistanceRatio: number;
  /** Current that just never melts it, A. */
  readonly minimumMeltingCurrent: number;
  /** Thermal stages; the weights sum to 1, time constants in s. */
  readonly stages: readonly { readonly weight: number; readonly timeConstant: number }[];
}

/**
 * Time in s that a constant current takes to melt a fuse.
 *
 * The model is linear in the stage temperatures while the current is constant: with c = x(k − 1)/k and x = (I/I_inf)²,
 * theta_m' = (w_m(x/k + c·theta) − theta_m)/tau_m. Scaled by sqrt(tau_m/w_m) its matrix is symmetric, so the rise of
 * theta is a sum of real exponentials and one root search gives the time: nothing is stepped.
 *
 * @param model thermal model of the fuse
 * @param current constant current, A; its sign does not matter
 * @param theta0 start on the way to melting, 0 (cold) … 1 (melting), the stages at rest with each other
 * @returns the melting time in s; 0 for `theta0` ≥ 1; Infinity where the current never melts it
 * @throws RangeError when the current or `theta0` is not a finite number, or `theta0` is negative
 * @example meltingTime({ resistanceRatio: 1, minimumMeltingCurrent: 20, stages: [{ weight: 1, timeConstant: 2 }] }, 40)
 * // −2·ln(1 − (20/40)²) = 0.5754 s
 */
export function meltingTime(model: FuseModel, current: number, theta0 = 0): number {
  if (!Number.isFinite(current))
    throw new RangeError(`melting current must be a finite number of amperes, got ${current}`);
  if (!(theta0 >= 0) || theta0 === Number.POSITIVE_INFINITY) {
    throw new RangeError(`theta at the start must be a finite number from 0 on, got ${theta0}`);
  }
  if (theta0 >= 1) return 0;
  const k = model.resistanceRatio;
  const x = (current / model.minimumMeltingCurrent) ** 2;
  if (x <= 1) return Number.POSITIVE_INFINITY;
  const feedback = (x * (k - 1)) / k;
  const modes = responseModes(model.stages, feedback);
  // From a start at rest, theta(t) = theta0 + (x/k + (c − 1)·theta0)·h(t), h the step response of G/(1 − c·G).
  const target = (1 - theta0) / (x / k + (feedback - 1) * theta0);
  return whenReached(modes, target);
}

/**
 * Melting times in s for several constant currents in A, from cold; Infinity where a current never melts the fuse.
 * @example meltingCurve(model, [40, 80, 160]).map(({ time }) => time)
 */
export function meltingCurve(model: FuseModel, currents: readonly number[]): { current: number; time: number }[] {
  return currents.map((current) => ({ current, time: meltingTime(model, current) }));
}

/**
 * Melting I²t in A²s for a current so large that no heat is lost: I_inf²·tau_a·k·ln(k)/(k − 1) with
 * 1/tau_a = Σ w_m/tau_m; for k → 1 it is I_inf²·tau_a. Follows from the thermal model by integrating its first instant.
 * @example largeCurrentMeltingI2t({ resistanceRatio: 1, minimumMeltingCurrent: 20, stages: [{ weight: 1, timeConstant: 2 }] }) // 800
 */
export function largeCurrentMeltingI2t(model: FuseModel): number {
  const rate = model.stages.reduce((sum, stage) => sum + stage.weight / stage.timeConstant, 0);
  const excess = model.resistanceRatio - 1;
  const growth = excess < 1e-9 ? 1 + excess / 2 : (model.resistanceRatio * Math.log1p(excess)) / excess;
  return (model.minimumMeltingCurrent ** 2 * growth) / rate;
}

/**
 * Resistance over cold resistance of a fuse that has carried a current for long: k/(k − x(k − 1)), x = (I/I_inf)².
 * Infinity at and above the minimum melting current. Dimensionless.
 */
export function settledResistanceRatio(
  model: Pick<FuseModel, "resistanceRatio" | "minimumMeltingCurrent">,
  current: number,
): number {
  const x = (current / model.minimumMeltingCurrent) ** 2;
  const k = model.resistanceRatio;
  return x >= 1 ? Number.POSITIVE_INFINITY : k / (k - x * (k - 1));
}

interface Mode {
  readonly rate: number;
  readonly gain: number;
}

/** Rates and gains of h(t) = Σ gain·(exp(rate·t) − 1)/rate, by Jacobi rotations of the symmetric matrix. */
function responseModes(stages: FuseModel["stages"], feedback: number): Mode[] {
  const n = stages.length;
  const drive = stages.map((stage) => Math.sqrt(stage.weight / stage.timeConstant));
  const a = stages.map((stage, i) =>
    drive.map((d, j) => feedback * drive[i] * d - (i === j ? 1 / stage.timeConstant : 0)),
  );
  // `drive` is rotated along with the matrix: in the end it holds its components along the eigenvectors.
  for (let sweep = 0; sweep < 30; sweep++) {
    let rotated = false;
    for (let p = 0; p < n - 1; p++) {
      for (let q = p + 1; q < n; q++) rotated = rotate(a, drive, p, q) || rotated;
    }
    if (!rotated) break;
  }
  return a.map((row, i) => ({ rate: row[i], gain: drive[i] ** 2 }));
}

function rotate(a: number[][], v: number[], p: number, q: number): boolean {
  const rowP = a[p];
  const rowQ = a[q];
  const apq = rowP[q];
  const app = rowP[p];
  const aqq = rowQ[q];
  if (Math.abs(apq) <= 1e-17 * Math.sqrt(Math.abs(app * aqq)) || apq === 0) return false;
  const half = (aqq - app) / (2 * apq);
  const t = (half < 0 ? -1 : 1) / (Math.abs(half) + Math.hypot(half, 1));
  const c = 1 / Math.hypot(t, 1);
  const s = t * c;
  rowP[p] = app - t * apq;
  rowQ[q] = aqq + t * apq;
  rowP[q] = 0;
  rowQ[p] = 0;
  for (let r = 0; r < a.length; r++) {
    if (r === p || r === q) continue;
    const row = a[r];
    const arp = row[p];
    const arq = row[q];
    row[p] = c * arp - s * arq;
    rowP[r] = row[p];
    row[q] = s * arp + c * arq;
    rowQ[r] = row[q];
  }
  const vp = v[p];
  const vq = v[q];
  v[p] = c * vp - s * vq;
  v[q] = s * vp + c * vq;
  return true;
}

/** How far one try may go beyond the last while no later bound is known: between a fast stage and a slow one the curve is all but flat. */
const FARTHEST = 1000;

/** The t at which Σ gain·(exp(rate·t) − 1)/rate reaches `target`, Infinity where it stays below; Newton in log time, held inside a bracket. */
function whenReached(modes: readonly Mode[], target: number): number {
  const slope = modes.reduce((sum, mode) => sum + mode.gain, 0);
  const most = modes.reduce((sum, { rate, gain }) => sum + (rate < 0 ? gain / -rate : Number.POSITIVE_INFINITY), 0);
  if (most <= target) return Number.POSITIVE_INFINITY;
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let t = target / slope;
  for (let i = 0; i < 200; i++) {
    let value = 0;
    let rise = 0;
    for (const { rate, gain } of modes) {
      const part = Math.abs(rate * t) < 1e-12 ? t : Math.expm1(rate * t) / rate;
      value += gain * part;
      rise += gain * (1 + rate * part);
    }
    if (value < target) low = t;
    else high = t;
    // Newton on log(value) over log(t): nearly straight from the adiabatic end to the slow one.
    let next = t * Math.exp((Math.log(target / value) * value) / (rise * t));
    // Before the bracket is asked: at the root rounding alone steps across its edge, and halving would begin once more.
    if (Math.abs(next - t) <= 1e-14 * t) return next;
    const farthest = Math.min(high, FARTHEST * t);
    if (!(next > low && next < farthest)) next = high === Number.POSITIVE_INFINITY ? farthest : middle(low, high);
    t = next;
  }
  return t;
}

/** By ratio where it can be: the bracket may span the time scales of all stages. */
const middle = (low: number, high: number): number => (low > 0 ? Math.sqrt(low * high) : high / 2);

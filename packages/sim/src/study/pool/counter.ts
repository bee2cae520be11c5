/*
 * Draws that depend on nothing but a seed and two counts: a sample is the same whoever works it out, and in whatever order.
 * Philox 4x32 with ten rounds: J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC11 (2011).
 */

const MULTIPLIERS = [0xd2511f53, 0xcd9e8d57] as const;
const WEYL = [0x9e3779b9, 0xbb67ae85] as const;
const ROUNDS = 10;

/** A counter of four words of 32 bits, and a block of as many that look random. */
export type Block = readonly [number, number, number, number];

/** The block that belongs to a counter under a key of two words. */
export function philox(counter: Block, key: readonly [number, number]): Block {
  let [a, b, c, d] = counter;
  let [k0, k1] = key;
  for (let round = 0; round < ROUNDS; round++) {
    const high0 = highProduct(MULTIPLIERS[0], a);
    const low0 = Math.imul(MULTIPLIERS[0], a) >>> 0;
    const high1 = highProduct(MULTIPLIERS[1], c);
    const low1 = Math.imul(MULTIPLIERS[1], c) >>> 0;
    [a, b, c, d] = [(high1 ^ b ^ k0) >>> 0, low1, (high0 ^ d ^ k1) >>> 0, low0];
    k0 = (k0 + WEYL[0]) >>> 0;
    k1 = (k1 + WEYL[1]) >>> 0;
  }
  return [a, b, c, d];
}

/** The upper 32 bits of a product of two words. */
function highProduct(x: number, y: number): number {
  const [xh, xl, yh, yl] = [x >>> 16, x & 0xffff, y >>> 16, y & 0xffff];
  const cross = xh * yl + ((xl * yl) >>> 16);
  // Both sums stay below 2^33, far from where a double loses a unit.
  const middle = xl * yh + (cross % 0x10000);
  return xh * yh + Math.floor(cross / 0x10000) + Math.floor(middle / 0x10000);
}

/** The largest seed: a whole number that a double holds exactly. */
export const LARGEST_SEED = Number.MAX_SAFE_INTEGER;

/**
 * Two numbers drawn evenly from the open interval between 0 and 1.
 *
 * @param seed a whole number from 0 to `LARGEST_SEED`
 * @param sample counts the samples from 0
 * @param value counts the values of a sample from 0
 * @example unitsAt(1, 0, 0)
 */
export function unitsAt(seed: number, sample: number, value: number): readonly [number, number] {
  const key = [seed >>> 0, Math.floor(seed / 0x100000000)] as const;
  const [a, b, c, d] = philox([sample >>> 0, Math.floor(sample / 0x100000000), value, 0], key);
  return [unit(a, b), unit(c, d)];
}

/** 52 bits, and half a step up: never 0 and never 1. */
function unit(high: number, low: number): number {
  return ((high >>> 6) * 0x4000000 + (low >>> 6) + 0.5) / 0x10000000000000;
}

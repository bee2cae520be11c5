/** From this many percent on whole percents do; below, the smallest share keeps two digits. */
const WHOLE = 10;
/** No share that is found is finer. */
const MOST_DECIMALS = 3;

/**
 * Shares of a whole as percents that add up to 100: rounded down, and what is missing then goes to those that lost most; of equals, to the first.
 *
 * @param shares 0 to 1, of which none is nothing; together 1
 * @returns with as many decimals each as the smallest needs for two digits
 * @example percentTexts([0.125, 0.875]); // ["13 %", "87 %"]
 */
export function percentTexts(shares: readonly number[]): string[] {
  const smallest = 100 * Math.min(...shares);
  const decimals =
    smallest >= WHOLE ? 0 : Math.min(MOST_DECIMALS, Math.max(1, 1 - Math.floor(Math.log10(smallest) + 1e-9)));
  const parts = 100 * 10 ** decimals;
  // What differs by the last digits of a sum only is the same.
  const exact = shares.map((share) => Number((parts * share).toFixed(6)));
  const down = exact.map(Math.floor);
  const missing = parts - down.reduce((sum, each) => sum + each, 0);
  const lost = [...exact.keys()].sort((a, b) => exact[b] - down[b] - (exact[a] - down[a]));
  for (const k of lost.slice(0, Math.max(0, missing))) down[k] += 1;
  return down.map((each) => `${each / 10 ** decimals} %`);
}

import { readFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { setTimeout } from "node:timers/promises";
import type { Page } from "playwright-core";

/**
 * The fixed work below, on the idle machine for which the limits are meant, ms. That of the drawing was told from one and the same version of the
 * pages: a slider that took 46 ms there took 142 ms on a machine whose drawing took 9 to 12 ms, so 2.9 to 3.9 there; the narrower is taken.
 */
const USUAL = { sums: 20, drawing: 4 } as const;

/**
 * Times two fixed pieces of work in the page: sums in registers, and a drawing of shapes and words that is laid out, for which memory counts. A
 * machine may be slow in one and not in the other. The median of several, so that one interruption does not count.
 */
async function calibration(page: Page): Promise<{ readonly sums: number; readonly drawing: number }> {
  return page.evaluate(() => {
    const median = (work: () => number): number => {
      const times = Array.from({ length: 7 }, () => {
        const begin = performance.now();
        const found = work();
        return performance.now() - begin + (found < 0 ? 1 : 0);
      });
      return times.sort((a, b) => a - b)[3];
    };
    const sums = (): number => {
      let sum = 0;
      for (let i = 1; i < 2_000_000; i++) sum += Math.sqrt(i) / (1 + (i % 7));
      return sum;
    };
    const drawing = (): number => {
      const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
      svg.setAttribute("style", "position: fixed; inset: 0; visibility: hidden");
      for (let i = 0; i < 200; i++) {
        const word = document.createElementNS("http://www.w3.org/2000/svg", "text");
        word.textContent = `${i} ms after the fault`;
        word.setAttribute("y", String(i));
        const curve = document.createElementNS("http://www.w3.org/2000/svg", "path");
        curve.setAttribute("d", `M0 ${i}${Array.from({ length: 20 }, (_, k) => `L${k} ${(i * k) % 97}`).join("")}`);
        svg.append(word, curve);
      }
      document.body.append(svg);
      const width = [...svg.querySelectorAll("text")].reduce((sum, word) => sum + word.getBBox().width, 0);
      svg.remove();
      return width;
    };
    return { sums: median(sums), drawing: median(drawing) };
  });
}

/** How much slower than the usual machine a processor of this one is; a faster one gets no narrower limits. */
export async function slowness(page: Page): Promise<number> {
  const { sums, drawing } = await calibration(page);
  return Math.max(1, sums / USUAL.sums, drawing / USUAL.drawing);
}

/** For what is measured by the clock: also how many want each processor just now. The load of the last minute would count tests that have ended. */
export async function slownessByClock(page: Page): Promise<number> {
  const own = await slowness(page);
  const counts: number[] = [];
  for (let look = 0; look < 9; look++) {
    counts.push(wanting());
    await setTimeout(20);
  }
  return Math.max(own, counts.toSorted((a, b) => a - b)[4] / availableParallelism());
}

/** How many threads of the machine run or wait for a processor, this one left out; 0 where the system does not tell. */
function wanting(): number {
  try {
    const [running = "1"] = readFileSync("/proc/loadavg", "utf8").split(" ")[3].split("/");
    return Number(running) - 1;
  } catch {
    return 0;
  }
}

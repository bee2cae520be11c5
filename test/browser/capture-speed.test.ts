// How fast two million samples of two channels are read, judged and drawn, in how much memory, and whether the page answers meanwhile. By the clock: alone, after all others.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";
import { slowness } from "./support/slowness.ts";
import { tasksDuring } from "./support/tasks.ts";

const ROWS = 2_000_000;
const SECONDS = 5;
const MEGABYTES = 400;
const folder = mkdtempSync(join(tmpdir(), "railfault-capture-speed-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A hiccup supply through eight bits, a sample each microsecond. */
function table(rows: number): string {
  let seed = 1;
  const noise = (): number => {
    seed = (Math.imul(seed, 1103515245) + 12345) & 0x7fffffff;
    return seed / 0x7fffffff - 0.5;
  };
  const lines = ["time (s),radio (V),crowbar (A)"];
  for (let row = 0; row < rows; row++) {
    const place = row % 250_000;
    const volts = place < 40_000 ? 0.6 : place > 240_000 ? 13.8 + 1e-4 * (place - 240_000) : 13.8;
    const amperes = place < 40_000 ? 30 : 0;
    const eight = (value: number, step: number): number => Math.round((value + 0.8 * step * noise()) / step) * step;
    lines.push(`${(row * 1e-6).toFixed(6)},${eight(volts, 0.08).toFixed(2)},${eight(amperes, 0.2).toFixed(1)}`);
  }
  return `${lines.join("\n")}\n`;
}

/** Memory of all of this process's children that draw pages, MB; null where the system does not tell. */
function drawing(): number | null {
  try {
    return readdirSync("/proc")
      .filter((name) => /^\d+$/.test(name))
      .reduce((sum, pid) => {
        try {
          if (!readFileSync(`/proc/${pid}/cmdline`, "utf8").includes("--type=renderer")) return sum;
          if (!readFileSync(`/proc/${pid}/cmdline`, "utf8").includes(`playwright`)) return sum;
          const [, kilobytes = "0"] = /VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, "utf8")) ?? [];
          return sum + Number(kilobytes) / 1000;
        } catch {
          return sum;
        }
      }, 0);
  } catch {
    return null;
  }
}

describe.skipIf(withoutBrowser())("a long capture in the page", () => {
  const desk = openDesk({ cold: true });

  test("two million samples of two channels are read, judged and drawn in five seconds, and the page answers", async () => {
    const file = join(folder, "long.csv");
    writeFileSync(file, table(ROWS));
    const { page, wrong } = await desk.visit("capture.html");
    const { picture, verdict } = benchOn(page);
    const before = drawing();
    const slow = await slowness(page);
    let took = 0;
    let most = 0;
    const watch = setInterval(() => {
      most = Math.max(most, drawing() ?? 0);
    }, 50);
    const { processor, wall } = await tasksDuring(page, async () => {
      const begin = performance.now();
      await page.locator("input[type=file]").first().setInputFiles(file);
      await page.getByText("In hand: long.csv", { exact: true }).waitFor({ timeout: 60_000 });
      await expect.poll(() => picture("The capture"), { timeout: 60_000, interval: 25 }).toContain("long.csv");
      took = performance.now() - begin;
    });
    clearInterval(watch);
    const factor = Math.max(slow, await slowness(page));
    const memory = before === null ? 0 : most - before;
    process.stderr.write(
      `MEASURED  2 million samples × 2 channels in the page: ${(took / 1000).toFixed(2)} s (limit ${SECONDS} s × ${factor.toFixed(1)}), ${memory.toFixed(0)} MB more at most (limit ${MEGABYTES} MB), longest task ${processor.toFixed(0)} ms (${wall.toFixed(0)} ms by the clock, limit 100 ms)\n`,
    );
    expect(await verdict("What the capture shows")).toMatch(/14\.8\d* V (?:±|\()/);
    expect(took / 1000).toBeLessThanOrEqual(SECONDS * factor);
    expect(memory).toBeLessThanOrEqual(MEGABYTES);
    expect(processor).toBeLessThanOrEqual(100 * factor);
    expect(wrong()).toEqual([]);
  }, 240_000);
});

import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { pagesFolder } from "../../packages/notebooks/build/paths.ts";
import { shippedLine } from "../../packages/notebooks/src/line/shipped.ts";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";

const text = shippedLine("01-shorted-pass-transistor").text;

describe.skipIf(withoutBrowser())("start", () => {
  const desk = openDesk();

  test("the first answer is there without a question, with its picture", async () => {
    const { page, wrong } = await desk.visit("index.html");
    expect(await benchOn(page).verdict()).toMatch(/^Radio safe .*14\.7 V/);
    expect(await page.locator(".demo .figure-picture > svg").count()).toBe(1);
    expect(wrong()).toEqual([]);
  });

  test("a file opens on the page that fits it; what is no scenario is explained", async () => {
    const folder = mkdtempSync(join(tmpdir(), "railfault-"));
    const put = (name: string, body: string): string => {
      writeFileSync(join(folder, name), body);
      return join(folder, name);
    };
    // No address holds that much noise.
    const noise = Array.from({ length: 2000 }, (_, i) => `# ${Math.sin(i)} ${Math.cos(i)}`).join("\n");
    for (const [file, page, said] of [
      [put("good.yaml", text), /regulator-fails\.html#/, "Radio safe"],
      [put("long.yaml", `${text}${noise}\n`), /regulator-fails\.html$/, "Radio safe"],
      [put("bad.yaml", `${text}main fuze: x\n`), /file\.html#/, "1 problem"],
    ] as const) {
      const visit = await desk.visit("index.html");
      await visit.page.getByLabel("Open a scenario file").setInputFiles(file);
      await visit.page.waitForURL(page);
      await visit.page.locator("main").getByText(said).first().waitFor();
      await visit.leave();
    }
    const { page, wrong } = await desk.visit("index.html");
    await page.getByLabel("Open a scenario file").setInputFiles(put("big.yaml", "x".repeat(3e6)));
    await expect.poll(() => page.locator(".kept-said").innerText()).toMatch(/too large.*256 KB/);
    expect(wrong()).toEqual([]);
  }, 60_000);
});

describe.skipIf(withoutBrowser())("how to write a notebook", () => {
  const desk = openDesk();

  test("each box holds what stands in the file, and the slider moves what is below it", async () => {
    const file = readFileSync(join(pagesFolder, "writing.html"), "utf8");
    const { page, wrong } = await desk.visit("writing.html");
    const squeezed = (listing: string): string => listing.replace(/\s+/g, " ").trim();
    const boxes = await page.locator(".listing pre").allInnerTexts();
    expect(boxes.length).toBeGreaterThan(7);
    for (const box of boxes) expect(squeezed(file)).toContain(squeezed(box));

    const prose = page.locator("#cell-3");
    const before = await prose.innerText();
    expect(before.replace(/\s/g, " ")).toContain(`${(0.5 * 4.7e-3 * 13.8 ** 2 * 1000).toPrecision(3)} mJ`);
    // Number and unit stay on one line.
    expect(before).toMatch(/\d\u00a0mJ/);
    await page.getByRole("slider", { name: "Voltage on the line", exact: true }).press("End");
    await expect.poll(() => prose.innerText()).not.toBe(before);

    const { slider, settled } = benchOn(page);
    const headline = page.locator("#cell-14");
    const first = await headline.innerText();
    await slider("Trip voltage").press("End");
    await settled();
    // Prose has no mark of a run under way: it is there once it is another.
    await expect.poll(() => headline.innerText()).not.toBe(first);
    await page.getByRole("button", { name: "Show the code" }).click();
    await expect.poll(() => page.locator("pre[data-code]").first().isVisible()).toBe(true);
    expect(wrong()).toEqual([]);
  });
});

import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";

describe.skipIf(withoutBrowser())("when the regulator fails: what is looked at closely", () => {
  const desk = openDesk();
  const open = async (hash = "") => {
    const { page, wrong } = await desk.visit(`regulator-fails.html${hash}`, { height: 1200 });
    const ends = async () => [
      await page.getByLabel("Close-up from", { exact: true }).inputValue(),
      await page.getByLabel("to", { exact: true }).inputValue(),
    ];
    return { page, wrong, ends, ...benchOn(page) };
  };

  test("a part of the run is brushed with the pointer, and kept in the address", async () => {
    const { page, ends, picture, slider, button, settled, wrong } = await open();
    const suggested = await ends();
    const before = await picture("Close-up");
    const handle = slider("What the radio saw: read values at a time");
    await handle.scrollIntoViewIfNeeded();
    const box = (await handle.boundingBox())!;
    const y = box.y + box.height / 3;
    await page.mouse.move(box.x + 0.55 * box.width, y);
    await page.mouse.down();
    for (const share of [0.6, 0.68, 0.75]) await page.mouse.move(box.x + share * box.width, y);
    await page.mouse.up();
    await settled();
    const brushed = await ends();
    expect(brushed).not.toEqual(suggested);
    expect(await picture("Close-up")).not.toBe(before);
    await expect.poll(() => page.url(), { timeout: 5000 }).toMatch(/view\.from=.*view\.to=/);
    await page.reload();
    await settled();
    expect(await ends()).toEqual(brushed);
    await button("Back to the suggested close-up").click();
    await settled();
    expect(await ends()).toEqual(suggested);
    expect(await picture("Close-up")).toBe(before);
    expect(wrong()).toEqual([]);
  });

  test("the keyboard alone does the same: reads, steps, types the ends", async () => {
    const { page, ends, picture, slider, button, settled, wrong } = await open();
    const handle = slider("What the radio saw: read values at a time");
    await handle.focus();
    await page.keyboard.press("Home");
    const atFirst = await handle.getAttribute("aria-valuetext");
    for (let i = 0; i < 5; i++) await page.keyboard.press("PageUp");
    const later = await handle.getAttribute("aria-valuetext");
    expect(later).not.toBe(atFirst);
    expect(later).toMatch(/(?:before|after|at) the fault: relay radio [\d.−]+\s?m?V/);
    // Numbers keep to their units by a no-break space.
    const read = (await page.locator("dl.reading").first().innerText()).replaceAll("\u00a0", " ");
    expect(read).toContain((later ?? "").split(":")[0]);

    const before = await picture("Close-up");
    const from = page.getByLabel("Close-up from", { exact: true });
    await from.fill("-1 ms");
    await from.press("Enter");
    const to = page.getByLabel("to", { exact: true });
    await to.fill("2 ms");
    await to.press("Enter");
    await settled();
    expect(await ends()).toEqual(["−1 ms", "2 ms"]);
    expect(await picture("Close-up")).not.toBe(before);
    await to.fill("soon");
    await to.press("Enter");
    await expect
      .poll(() => page.locator(".zoom").innerText(), { timeout: 5000 })
      .toContain("Received “soon”. Allowed: a time with its unit");
    // Below the field, not beginning on its frame; as wide as the field, so that no column moves.
    const field = (await to.boundingBox())!;
    const told = (await page.getByText("Received “soon”").boundingBox())!;
    expect(told.y).toBeGreaterThanOrEqual(field.y + field.height);
    expect([Math.abs(told.x - field.x), told.width > field.width + 1]).toEqual([expect.closeTo(0, 0), false]);
    await button("Back to the suggested close-up").focus();
    await page.keyboard.press("Enter");
    await settled();
    expect(await picture("Close-up")).toBe(before);
    await page.getByRole("radio", { name: "linear", exact: true }).check();
    await settled();
    expect(page.url()).toContain("view.scale=linear");
    expect(wrong()).toEqual([]);
  });

  test("each event explains itself when it is focused or pointed at", async () => {
    const { page, ends, settled, wrong } = await open();
    const note = page.getByRole("region", { name: /what happened$/i }).first();
    const events = note.getByRole("group", { name: "Events" }).getByRole("button");
    const count = await events.count();
    expect(count).toBeGreaterThanOrEqual(5);
    const told: string[] = [];
    for (let i = 0; i < count; i++) {
      await events.nth(i).focus();
      expect(await events.nth(i).getAttribute("aria-pressed")).toBe("true");
      const why = await note.locator(".event-why").innerText();
      expect(why.length, `event ${i + 1}: “${why}”`).toBeGreaterThan(30);
      told.push(await note.innerText());
    }
    expect(new Set(told).size).toBe(count);
    expect(told[1]).toMatch(/the crowbar fires[\s\S]*turn-on delay/);
    await events.nth(2).hover();
    expect(await note.innerText()).toBe(told[2]);
    const before = await ends();
    await events.nth(2).press("Enter");
    await settled();
    expect(await ends()).not.toEqual(before);
    expect(wrong()).toEqual([]);
  });
});

import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, test } from "vitest";
import { root } from "../ground/files.ts";
import { withoutBrowser } from "../support/browser.ts";
import { openDesk } from "./support/desk.ts";
import { lineInHand, openFile } from "./support/files.ts";
import { openAsked } from "./support/openers.ts";

const shipped = readFileSync(join(root, "packages/sim/scenarios/04-foldback.yaml"), "utf8");
const MARKUP = "<img src=x onerror=alert(1)><script>alert(2)</script>";

describe.skipIf(withoutBrowser())("files of one's own", () => {
  const desk = openDesk();
  const folder = mkdtempSync(join(tmpdir(), "railfault-files-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const nothingRan = async (page: Page, dialogs: readonly string[]) => {
    expect(dialogs).toEqual([]);
    expect(await page.locator("body img, main script, body iframe").count()).toBe(0);
  };

  test("a scenario goes in and comes out byte for byte: comments, odd spacing, line ends and all", async () => {
    const { page, verdict, settled, wrong } = await openAsked(desk);
    const before = await verdict();
    const text = `# Für uns: das Relais am Dach – nicht anfassen\r\n\r\n${shipped.replaceAll("\n", "\r\n")}\r\n# end  \r\n`;
    await openFile(page, { name: "roof.yaml", text });
    await settled();
    expect(await lineInHand(page)).toBe(text);
    expect(await verdict()).not.toBe(before);
    expect(wrong()).toEqual([]);
  });

  test("a change touches its own line of the file only", async () => {
    const { page, field, settled, wrong } = await openAsked(desk);
    await openFile(page, { name: "roof.yaml", text: shipped });
    await settled();
    await field("Trip voltage").fill("15.35 V");
    await field("Trip voltage").press("Enter");
    await settled();
    const before = shipped.split("\n");
    const [mark, ...after] = (await lineInHand(page)).split("\n");
    expect(mark).toMatch(/^# Changed from the line /);
    expect(after.length).toBe(before.length);
    const changed = after.filter((line, i) => line !== before[i]);
    expect(changed).toHaveLength(1);
    expect(changed[0]).toContain("trip voltage: 15.35 V");
    expect(wrong()).toEqual([]);
  });

  test("hostile names in a sound scenario are shown as text wherever they come up", async () => {
    const { page, settled, dialogs, wrong } = await openAsked(desk);
    const text = shipped
      .replace(/^title: .*$/m, `title: "${MARKUP}"`)
      .replace(/name: [a-z ]+radio/, `name: "${MARKUP}"`)
      .replace(/^question: .*$/m, `question: "${MARKUP}"`);
    expect(text.split(MARKUP).length).toBeGreaterThanOrEqual(4);
    await openFile(page, { name: "<img src=x onerror=alert(1)>.yaml", text });
    await settled();
    const main = await page.locator("main").innerText();
    expect(main).toContain("<img src=x onerror=alert(1)>");
    await page.evaluate(() => {
      for (const fold of document.querySelectorAll<HTMLDetailsElement>("main details:not(.menu)")) fold.open = true;
    });
    await settled();
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page.getByRole("dialog").getByRole("button", { name: "Save" }).click();
    await page.getByRole("button", { name: /choose another line$/ }).click();
    await page.getByRole("dialog", { name: "Choose a line" }).getByText("<img src=x").first().waitFor();
    await page.keyboard.press("Escape");
    await nothingRan(page, dialogs);
    expect(wrong()).toEqual([]);
  });

  test("a file that is dropped anywhere on the page is opened", async () => {
    const { page, settled, wrong } = await openAsked(desk);
    const transfer = await page.evaluateHandle((text) => {
      const data = new DataTransfer();
      data.items.add(new File([text], "dropped.yaml"));
      return data;
    }, shipped);
    for (const type of ["dragenter", "dragover", "drop"])
      await page.locator("main").dispatchEvent(type, { dataTransfer: transfer });
    await settled();
    expect(await lineInHand(page)).toBe(shipped);
    expect(wrong()).toEqual([]);
  });
});

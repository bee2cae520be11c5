import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, test } from "vitest";
import { openDesk } from "../browser/support/desk.ts";
import { lineInHand, openFile } from "../browser/support/files.ts";
import { openAsked } from "../browser/support/openers.ts";
import { root } from "../ground/files.ts";
import { withoutBrowser } from "../support/browser.ts";

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

  test("what is no scenario is refused with reasons, and the line in hand stays", async () => {
    const { page, field, notice, settled, dialogs, wrong } = await openAsked(desk);
    await field("Trip voltage").fill("15.1 V");
    await field("Trip voltage").press("Enter");
    await settled();
    const before = await lineInHand(page);
    const large = join(folder, "large.yaml");
    writeFileSync(large, Buffer.alloc(50_000_000, 35));
    const png = join(folder, "picture.yaml");
    writeFileSync(png, Buffer.from("89504e470d0a1a0a0000000d49484452fffe00ff", "hex"));
    const empty = join(folder, "empty.yaml");
    writeFileSync(empty, "");
    for (const [file, why] of [
      [
        large,
        /large\.yaml was not opened; the line in hand stays\..*too large.*received [\d.]+ MB allowed up to 256 KB/,
      ],
      [png, /picture\.yaml was not opened.*text/],
      [empty, /empty\.yaml was not opened.*empty/],
      [
        { name: "broken.yaml", text: "title: [a, b\nsources:\n\t- x" },
        /broken\.yaml was not opened.*1 problem in it.*broken\.yaml:3:1 error.*A tab stands at the beginning/,
      ],
      [{ name: "list.yaml", text: "- just\n- a list\n" }, /list\.yaml was not opened/],
      [{ name: "deep.yaml", text: "[".repeat(50_000) }, /deep\.yaml was not opened/],
      [
        { name: "wrong.yaml", text: shipped.replace(/trip voltage: [^,}\n]+/, "trip voltage: 15 A") },
        /wrong\.yaml was not opened.*1 problem.*15 A/,
      ],
      [
        { name: `${MARKUP}.yaml`.replaceAll("/", "∕"), text: `title: ${MARKUP}\nsources: "${MARKUP}"\n` },
        /<img src=x onerror=alert\(1\)>/,
      ],
    ] as const) {
      await openFile(page, file);
      expect(await notice(/was not opened/)).toMatch(why);
      await page
        .getByRole("button", { name: /^Dismiss: / })
        .first()
        .click();
    }
    expect(await lineInHand(page)).toBe(before);
    await nothingRan(page, dialogs);
    expect(wrong()).toEqual([]);
  }, 60_000);
});

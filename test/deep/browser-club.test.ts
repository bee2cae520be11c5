import { afterAll, describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { openFile } from "../browser/support/files.ts";
import { chooseLine, headlines, slideCount, slideTitle } from "../browser/support/openers.ts";
import { workshop } from "../cli/launch.ts";
import { withoutBrowser } from "../support/browser.ts";

const { close } = workshop();

describe.skipIf(withoutBrowser())("for the club", () => {
  const desk = openDesk();
  afterAll(close);
  const open = async (search = "", options = {}) => {
    const visit = await desk.visit(`club.html${search}`, options);
    return { ...visit, ...benchOn(visit.page) };
  };

  test("two scenarios in one talk, one of them a file of one's own with a hostile name, and away again", async () => {
    const { page, button, settled, wrong } = await open();
    const before = await headlines(page);
    await button(`Remove: ${before[0]}`).click();
    await chooseLine(page, /^Relay contact/);
    await settled();
    // What was arranged stays.
    expect(await headlines(page)).toEqual(before.slice(1));
    await button("Add the line in hand").click();
    await settled();
    expect(await headlines(page)).toContain("Relay contact");
    expect(await slideCount(page)).toMatch(/: Relay contact$/);
    const own = `title: "<b>ours</b>"
run for: 50 ms
fault at: 10 ms
sources:
  - {name: station supply, part: linear supply 20 A, fault: {kind: shorted pass transistor}, lead: {length: 1 m, area: 4 mm2}}
main fuse: blade fuse 20 A
crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}
loads:
  - {name: "<i>radio</i>", part: 25 W mobile radio, lead: {length: 1 m, area: 4 mm2}}
`;
    await openFile(page, { name: "ours.yaml", text: own });
    await settled();
    await button("Add the line in hand").click();
    await settled();
    expect(await slideTitle(page)).toBe("<b>ours</b>");
    expect(await page.locator("main b, main i").count()).toBe(0);
    const three = await headlines(page);
    await page.reload();
    await settled();
    expect(await headlines(page)).toEqual(three);
    await button("Remove Relay contact with its slides").click();
    await settled();
    expect(await headlines(page)).not.toContain("Relay contact");
    await page.keyboard.press("Control+z");
    await settled();
    expect(await headlines(page)).toEqual(three);
    expect(wrong()).toEqual([]);
  }, 120_000);
});

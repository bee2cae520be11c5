import { describe, expect, test } from "vitest";
import { violations } from "../browser/support/accessible.ts";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { handedOut, openFile } from "../browser/support/files.ts";
import { chooseLine, headlines, slideCount, slideTitle } from "../browser/support/openers.ts";
import { withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("for the club", () => {
  const desk = openDesk();
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

  test("handout, bench test card and reset sheet are shown, saved, printed on one side each, cautions on top", async () => {
    const { page, button, settled, wrong } = await open("#v=1&line=14-crowbar-with-disconnect");
    const paper = await (await desk.context({ width: 900 })).newPage();
    for (const [sheet, heading] of [
      ["handout", "Handout: a fault on a 12 V line"],
      ["bench test card", "Bench test card"],
      ["reset sheet", "Reset sheet"],
    ]) {
      await page.getByRole("radio", { name: sheet, exact: true }).check();
      await button("Show the sheet").click();
      const frame = page.frameLocator(".club-sheet");
      await frame.getByText(heading, { exact: true }).waitFor();
      expect(await frame.locator("h1").innerText()).toBe("Crowbar with disconnect");
      const [box, first] = [
        await frame.locator(".cautions").boundingBox(),
        await frame.locator("ol").first().boundingBox(),
      ];
      expect(box?.y ?? 1e9).toBeLessThan(first?.y ?? 0);
      // All of it is in sight, and nothing but it: it neither scrolls inside nor stands in the frame of a longer one.
      const beside = () =>
        page.locator(".club-sheet").evaluate((each: HTMLIFrameElement) => {
          const { scrollHeight, offsetHeight } = each.contentDocument!.documentElement;
          return [scrollHeight - each.clientHeight > 2, each.clientHeight - offsetHeight > 2];
        });
      await expect.poll(beside, { message: sheet }).toEqual([false, false]);
      expect(await violations(page)).toEqual([]);
      const saved = await handedOut(page, () => button("Save it as a page").click());
      expect(saved.name).toBe(`crowbar-with-disconnect-${sheet.replaceAll(" ", "-")}.html`);
      await paper.setContent(saved.bytes.toString("utf8"));
      const pdf = await paper.pdf({ preferCSSPageSize: true, printBackground: true });
      expect(pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g), sheet).toHaveLength(1);
    }
    // The browser's own dialogue, of the sheet and not of the page.
    await page.evaluate(() => {
      const inside = document.querySelector<HTMLIFrameElement>(".club-sheet")!.contentWindow!;
      inside.print = () => document.body.setAttribute("data-printed", inside.document.title);
    });
    await button("Print it").click();
    expect(await page.locator("body").getAttribute("data-printed")).toBe("Reset sheet: Crowbar with disconnect");
    // A sheet of another scenario than the one in hand must not stand there.
    await chooseLine(page, /^Lost feedback without any protector/);
    await settled();
    expect(await page.locator(".club-sheet").isVisible()).toBe(false);
    await page.getByRole("radio", { name: "bench test card" }).check();
    await button("Show the sheet").click();
    await page.getByText("There is no protector in this line that could be tried on a bench.").waitFor();
    expect(wrong()).toEqual([]);
  }, 120_000);
});

describe.skipIf(withoutBrowser())("words of one's own for the club", () => {
  const desk = openDesk();

  test("what a slide cannot say stays with its slide, over other slides, another line and a reload", async () => {
    const visit = await desk.visit("club.html");
    const { page, wrong } = visit;
    const { button, settled } = benchOn(page);
    await settled();
    const before = await headlines(page);
    const field = page.getByRole("textbox", { name: "Headline" });
    const long = "too long ".repeat(20).trim();
    const told = page.getByText(/^This has 179 characters; allowed are 120\./);
    await field.fill(long);
    // A finger leaves the keyboard in the field.
    await button("On →").evaluate((press: HTMLButtonElement) => press.click());
    await settled();
    expect(await field.inputValue()).toBe(before[1]);
    expect(await told.count()).toBe(0);
    expect(await headlines(page)).toEqual(before);
    expect(await page.getByText("Says the proposed words: yours cannot be used.").count()).toBe(1);
    await button(/choose another line$/).click();
    const dialog = page.getByRole("dialog", { name: "Choose a line" });
    await dialog
      .getByRole("button", { name: /^Foldback supply/ })
      .first()
      .click();
    await dialog.waitFor({ state: "detached" });
    await settled();
    await button("← Back").click();
    await settled();
    expect(await field.inputValue()).toBe(long);
    expect(await told.count()).toBe(1);
    expect(await slideTitle(page)).toBe(before[0]);
    await page.reload();
    await settled();
    expect(await field.inputValue()).toBe(long);
    await field.fill("Ours");
    await page.keyboard.press("Enter");
    await settled();
    expect(await slideTitle(page)).toBe("Ours");
    expect(await told.count()).toBe(0);
    expect(wrong()).toEqual([]);
  }, 90_000);
});

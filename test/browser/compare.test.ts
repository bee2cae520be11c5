import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";

const ANSWER = "Which scheme";
const SMALL = "Every scheme on the same axes";
const OVERLAY = "All schemes in one picture";
const OWN = ["nothing", "clamp", "relay", "series transistor", "SCR without fuse", "small SCR"];

const names = (page: Page) =>
  page.getByRole("region", { name: "The same fault" }).getByRole("rowheader").allInnerTexts();
const listed = (page: Page) => page.locator(".scheme-list strong").allInnerTexts();

describe.skipIf(withoutBrowser())("schemes side by side", () => {
  const desk = openDesk();
  const open = async (search = "") => {
    const visit = await desk.visit(`compare.html${search}`);
    return { ...visit, ...benchOn(visit.page) };
  };

  test("a file's own variants: the best first, why the relay is too late, and in the list's order when asked for", async () => {
    const { page, menu, verdict, picture, settled, wrong } = await open();
    expect(await verdict(ANSWER)).toMatch(
      /^Load safe in 5 of 9, 2 with a hazard The load is safe in 5 of 9 schemes, .* series transistor comes first/,
    );
    expect((await listed(page)).slice(0, OWN.length)).toEqual(OWN);
    const sorted = await names(page);
    expect(sorted).toHaveLength(9);
    expect([sorted[0], sorted[8]]).toEqual(["series transistor", "relay"]);
    await expect
      .poll(() => page.getByText(/The relay opens 3\.77\sms later than the relay radio stands 20\sV/).count())
      .toBe(1);
    const [small, over] = [await picture(SMALL), await picture(OVERLAY)];
    await page.getByRole("radio", { name: "as in the list" }).check();
    await settled();
    expect(await names(page)).toEqual(["as it stands", ...(await listed(page))]);
    expect(await picture(SMALL)).not.toBe(small);
    expect(await picture(OVERLAY)).not.toBe(over);
    await menu("Set beside").selectOption("relay");
    await settled();
    expect(page.url()).toContain("view.order=list");
    await page.reload();
    await settled();
    expect(await menu("Set beside").inputValue()).toBe("relay");
    expect((await names(page))[0]).toBe("as it stands");
    expect(wrong()).toEqual([]);
  }, 120_000);
});

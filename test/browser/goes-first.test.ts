import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";

const TITLE = "What goes together";
const MATRIX = "Which fuse with which SCR and wire";
const CURVES = "What goes first with the chosen parts";

const list = (page: Page) => page.getByRole("combobox", { name: "Shown below", exact: true });

describe.skipIf(withoutBrowser())("what goes first", () => {
  const desk = openDesk();
  const open = async (search = "") => {
    const visit = await desk.visit(`goes-first.html${search}`);
    return { ...visit, ...benchOn(visit.page) };
  };

  test("the shipped station: a short list, the reason against its own fuse, and curves of the one chosen", async () => {
    const { page, verdict, picture, settled, wrong } = await open();
    expect(await verdict(TITLE)).toMatch(/^Yours does not fit 2 combinations .* blade fuse 20 A carries 15 A for good/);
    expect(await list(page).locator("option").allInnerTexts()).toEqual([
      "blade fuse 30 A + SCR 55 A + 4 mm²",
      "blade fuse 30 A + SCR 50 A + 4 mm²",
      "yours: blade fuse 20 A + SCR 55 A + 4 mm²",
    ]);
    expect((await picture(MATRIX)).length).toBeGreaterThan(5000);
    const first = await picture(CURVES);
    await list(page).selectOption("blade fuse 30 A + SCR 50 A + 4 mm²");
    await settled();
    expect(await picture(CURVES)).not.toBe(first);
    expect(page.url()).toContain("view.chosen=");
    expect(await page.getByText("Nearest limit: crowbar, current rise").count()).toBe(1);
    await page.reload();
    await settled();
    expect(await list(page).inputValue()).toBe("blade fuse 30 A + SCR 50 A + 4 mm²");
    expect(wrong()).toEqual([]);
  }, 90_000);
});

import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../../support/browser.ts";
import { contrastOf } from "./contrast.ts";
import { expectFit, expectStill, expectStopsSeen, expectStopsSeenBackwards, openedOnce } from "./looks.ts";
import { paperProblems } from "./paper.ts";
import { settled } from "./settled.ts";

/**
 * What every page has to stand besides: motion and colours that a reader chose, a wide window, the keyboard both ways, paper. The order is by what
 * the window is set to, so that each page comes to rest as seldom as can be.
 */
export function furtherPageTrials(names: readonly string[]): void {
  describe.skipIf(withoutBrowser()).each(names)("%s", trials);
}

function trials(name: string): void {
  const visit = openedOnce(name, { width: 1024 });
  const widen = async (width: number): Promise<void> => {
    await visit().page.setViewportSize({ width, height: 900 });
    await settled(visit().page);
  };

  test("opens without a complaint, and nothing jumps", async () => {
    expect(visit().wrong()).toEqual([]);
    await expectStill(visit());
  });

  test("stands still where motion is not wanted, and stays readable in forced colours", async () => {
    const { page } = visit();
    await page.emulateMedia({ reducedMotion: "reduce", forcedColors: "active" });
    await settled(page);
    const moving = await page.evaluate(() =>
      [...document.querySelectorAll("*")]
        .filter((each) => {
          const { animationDuration, transitionDuration } = getComputedStyle(each);
          return `${animationDuration},${transitionDuration}`.split(",").some((time) => Number.parseFloat(time) > 0.01);
        })
        .map((each) => `${each.tagName}.${each.className}`),
    );
    expect(moving).toEqual([]);
    const { poor } = await contrastOf(page, 3);
    expect(poor).toEqual([]);
    await page.emulateMedia({ reducedMotion: null, forcedColors: null });
  });

  // Before the keyboard has moved the page: what stays in sight lies over what is scrolled below it.
  test("fits a window of 1600 px: nothing sideways, nothing covered, nothing cut off", async () => {
    await widen(1600);
    await expectFit(visit());
  });

  test("shows where the keyboard is, at 1024 px", async () => {
    await widen(1024);
    await expectStopsSeen(visit());
  });

  test("shows where the keyboard is on the way back up, too, at 1280 px", async () => {
    await widen(1280);
    await expectStopsSeenBackwards(visit());
  });

  test("prints: no controls, no picture beyond the sheet, dark ink on white also from a dark screen", async () => {
    await visit().page.emulateMedia({ colorScheme: "dark" });
    await settled(visit().page);
    expect(await paperProblems(visit().page)).toEqual([]);
    const { poor } = await contrastOf(visit().page, 4.5);
    expect(poor).toEqual([]);
    const ground = await visit().page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    expect(["rgb(255, 255, 255)", "rgba(0, 0, 0, 0)"]).toContain(ground);
  });

  describe("on a telephone", () => {
    const phone = openedOnce(name, { width: 390, height: 844 });

    test("shows where the keyboard is on the way back up, too, at 390 px", () => expectStopsSeenBackwards(phone()));
  });
}

import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { everyShipped, onOneSideEach } from "../browser/support/printed.ts";
import { startBrowser, withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("sheets in a browser", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser?.close());

  test("card, reset sheet and handout of every shipped scenario print on one side each", async () => {
    const names = everyShipped();
    expect(names.length).toBeGreaterThan(20);
    await onOneSideEach(browser, names);
  });
});

import { describe, test } from "vitest";
import { openDesk } from "../browser/support/desk.ts";
import { everythingThatOpens } from "../browser/support/what-opens.ts";
import { withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("what opens over a page", () => {
  const desk = openDesk();

  /** Of a telephone see browser-more.test.ts. */
  test(
    "is for everybody on a laptop in the dark, one after the other",
    () => everythingThatOpens(desk, 1024, "dark"),
    60_000,
  );
});

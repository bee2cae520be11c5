import { describe, test } from "vitest";
import { openDesk } from "../browser/support/desk.ts";
import { wholeAfterTornSave } from "../browser/support/torn-save.ts";
import { withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("pages under attack", () => {
  const desk = openDesk();

  test(
    "loaded again in the middle of a save (before the writing): the last saved line is whole, the one in hand is there",
    () => wholeAfterTornSave(desk, "before"),
    60_000,
  );
});

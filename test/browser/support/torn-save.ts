import { expect } from "vitest";
import type { Desk } from "./desk.ts";
import { lineInHand } from "./files.ts";
import { openToSave } from "./openers.ts";

/** Loads the page again in the middle of the next save: before what is kept is written, or while it is. */
function tornSaves(): void {
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (...given: Parameters<typeof put>) {
    const { tear } = window as { tear?: "before" | "during" };
    if (this.name !== "lines" || tear === undefined) return put.apply(this, given);
    const begun = tear === "during" ? put.apply(this, given) : null;
    location.reload();
    return begun ?? put.apply(this, given);
  };
}

/** The last saved line is whole, the one in hand is there. */
export async function wholeAfterTornSave(desk: Desk, tear: "before" | "during"): Promise<void> {
  const { page, button, dialog, set, saveUnder, said, settled } = await openToSave(desk, { before: tornSaves });
  await set("Trip voltage", "15.4 V");
  await saveUnder("Roof");
  await said(/Saved as “Roof”/);
  await set("Trip voltage", "15.6 V");
  await page.evaluate((how) => Object.assign(window, { tear: how }), tear);
  const again = page.waitForEvent("load");
  await button("Save").click();
  await again;
  await settled();
  const inHand = await lineInHand(page);
  expect(inHand).toContain("trip voltage: 15.6 V");
  await button(/choose another line$/).click();
  await dialog("Choose a line").getByRole("button", { name: /^Roof/ }).click();
  await settled();
  const kept = await lineInHand(page);
  expect(kept).toMatch(/trip voltage: 15\.[46] V/);
  expect(kept.replace(/15\.[46] V/, "")).toBe(inHand.replace("15.6 V", ""));
}

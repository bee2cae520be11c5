import { describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("when the regulator fails: what is turned and chosen", () => {
  const desk = openDesk();
  const open = async (hash = "", options = {}) => {
    const visit = await desk.visit(`regulator-fails.html${hash}`, options);
    return { ...visit, ...benchOn(visit.page) };
  };

  test("every way of limiting and of protecting has its own answer", async () => {
    const { page, menu, verdict, settled, wrong } = await open("#v=1&line=02-hiccup-supply");
    const limit = menu("What the supply does at its limit");
    const walk = async (of: typeof limit) => {
      const told = new Map<string, string>();
      const values = await of
        .locator("option:not([disabled])")
        .evaluateAll((all) => all.map((each) => (each as HTMLOptionElement).value));
      for (const value of values) {
        await of.selectOption(value);
        await settled();
        expect(await of.inputValue()).toBe(value);
        const details = await page.getByRole("region", { name: "Verdict in detail" }).innerText();
        told.set(value, `${await verdict()} ${details}`);
      }
      return told;
    };
    const styles = await walk(limit);
    expect([...styles.keys()]).toEqual(["none", "constant current", "foldback", "hiccup", "latch off"]);
    expect(new Set(styles.values()).size, [...styles].join("\n")).toBe(styles.size);
    expect(styles.get("hiccup")).not.toMatch(/main fuse .* melted/);

    await page.getByRole("button", { name: /^Start over/ }).click();
    await settled();
    const protectors = await walk(menu("What protects the radio"));
    expect(protectors.size).toBe(7);
    expect(protectors.get("none")).toMatch(/^(?!Safe)/);
    expect(protectors.get("none")).not.toMatch(/crowbar fired/);
    expect(new Set(protectors.values()).size, [...protectors].join("\n")).toBe(protectors.size);
    expect(wrong()).toEqual([]);
  }, 60_000);
});

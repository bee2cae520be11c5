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

  test("on a phone, too, what was refused is told where it was turned, and the answer covers little of it", async () => {
    const { page, menu } = await open("", { width: 390, height: 844 });
    await page.locator("summary", { hasText: "The protector" }).scrollIntoViewIfNeeded();
    await menu("Main fuse").selectOption("blade fuse 1 A");
    const here = page.locator(".control", { has: menu("Main fuse") }).locator(".control-refused");
    await here.waitFor();
    await menu("Main fuse").scrollIntoViewIfNeeded();
    expect(await page.locator(".bench-verdict").evaluate((head) => head.clientHeight / innerHeight)).toBeLessThan(0.45);
    await expect.poll(() => here.evaluate((note) => note.getBoundingClientRect().bottom < innerHeight)).toBe(true);
  });

  test("a fuse that melts when the radio transmits is told, however safe the radio is", async () => {
    const { page, menu, verdict, settled } = await open();
    const note = page.locator(".transmit-note");
    expect((await note.innerText()).replace(/\s+/g, " ")).toMatch(
      /^Not for long .* 15 A, for hours: this one would tire\.$/,
    );
    await menu("Main fuse").selectOption("blade fuse 30 A");
    await settled();
    expect(await note.isVisible()).toBe(false);
    await menu("Main fuse").selectOption("blade fuse 5 A");
    await settled();
    expect(await verdict()).toMatch(/^Radio safe /);
    expect((await note.innerText()).replace(/\s+/g, " ")).toMatch(
      /^Would not hold This fuse would not hold on transmit \(21 A\): it melts from about [\d.]+ A on\.$/,
    );
  });

  test("without protection is one click away, beside the line as it stands", async () => {
    const { page, verdict, settled, wrong } = await open();
    const worth = page.getByRole("region", { name: "What the protection is worth" });
    expect(await worth.count()).toBe(0);
    const before = await verdict();
    await page.getByRole("checkbox", { name: /nothing protects/ }).check();
    await worth.waitFor();
    await settled();
    expect(await worth.innerText()).toMatch(
      /Without the crowbar, the relay radio would see [\d.]+\sV instead of 14\.7\sV/,
    );
    expect(await worth.locator("figure svg").count()).toBeGreaterThanOrEqual(2);
    // Two verdicts, each under what it is the verdict of; on paper, too.
    const titles = page.locator(".bench-verdict .whose, .worth h3");
    expect(await titles.allInnerTexts()).toEqual(["With the crowbar", "The same fault without the crowbar"]);
    const grounds = page.locator(".figure-picture svg > .ground");
    await page.emulateMedia({ media: "print" });
    for (const title of await titles.all()) expect(await title.isVisible()).toBe(true);
    // Paper is narrower than the window, so the pictures may be drawn anew; all of them are white once they are.
    const fills = async () => [
      ...new Set(await grounds.evaluateAll((all) => all.map((each) => getComputedStyle(each).fill))),
    ];
    await expect.poll(fills, { timeout: 5000 }).toEqual(["rgb(255, 255, 255)"]);
    await page.emulateMedia({ media: null });
    expect(await verdict()).toBe(before);
    await page.reload();
    await settled();
    expect(await worth.isVisible()).toBe(true);
    await page.getByRole("checkbox", { name: /nothing protects/ }).uncheck();
    expect(await titles.first().isVisible()).toBe(false);
    await expect.poll(() => worth.isVisible(), { timeout: 5000 }).toBe(false);
    expect(wrong()).toEqual([]);
  });
});

import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";
import { lineInHand } from "./support/files.ts";
import { hostile, saidAndLeftOut } from "./support/hostile-addresses.ts";

describe.skipIf(withoutBrowser())("addresses", () => {
  const desk = openDesk();

  test("a copied link opens the same line, text and view for somebody else", async () => {
    const context = await desk.context({ permissions: ["clipboard-read", "clipboard-write"] });
    const { page, wrong } = await desk.visit("regulator-fails.html", { context });
    const mine = benchOn(page);
    await mine.field("Trip voltage").fill("15.7 V");
    await mine.field("Trip voltage").press("Enter");
    await mine.menu("Main fuse").selectOption("blade fuse 10 A");
    const to = page.getByLabel("to", { exact: true });
    await to.fill("3 ms");
    await to.press("Enter");
    await mine.settled();
    await mine.button("Copy link").click();
    await mine.said(/^Link copied/);
    const address = await page.evaluate(() => navigator.clipboard.readText());
    expect(address.startsWith(`${desk.url}regulator-fails.html#v=1&`)).toBe(true);

    const other = await desk.visit(address.slice(desk.url.length));
    const theirs = benchOn(other.page);
    expect(await lineInHand(other.page)).toBe(await lineInHand(page));
    expect(await theirs.verdict()).toBe(await mine.verdict());
    expect(await theirs.picture("Close-up")).toBe(await mine.picture("Close-up"));
    expect(await other.page.getByLabel("to", { exact: true }).inputValue()).toBe("3 ms");
    expect([...wrong(), ...other.wrong()]).toEqual([]);
  });

  test("where copying is forbidden, the link is shown to be copied by hand", async () => {
    const { page, wrong } = await desk.visit("regulator-fails.html", {
      before: () => {
        Object.defineProperty(navigator, "clipboard", { value: undefined });
      },
    });
    await page.getByRole("button", { name: "Copy link", exact: true }).click();
    const dialog = page.getByRole("dialog", { name: "Link to this line" });
    expect(await dialog.getByLabel("Address").inputValue()).toContain("regulator-fails.html");
    await page.keyboard.press("Escape");
    await dialog.waitFor({ state: "detached" });
    expect(wrong()).toEqual([]);
  });

  test("back and forth in the browser's own history leaves and comes back to where one was", async () => {
    const { page, wrong } = await desk.visit("regulator-fails.html#v=1&line=12-relay-contact");
    const { verdict, settled } = benchOn(page);
    const contact = await verdict();
    await page.getByRole("link", { name: "An SCR smaller than the fuse" }).click();
    await settled();
    expect(await verdict()).not.toBe(contact);
    await page.goBack();
    await settled();
    expect(await verdict()).toBe(contact);
    expect(wrong()).toEqual([]);
  });

  /** The others stand in test/deep. */
  test.each(hostile.slice(0, 3))("%s: said, and the page comes as it is without", (_, hash) =>
    saidAndLeftOut(desk, hash),
  );

  test("a value that the line does not take is told with its place; no verdict hides it", async () => {
    const { page, wrong } = await desk.visit(
      "regulator-fails.html#v=1&line=01-shorted-pass-transistor&set.crowbar.trip+voltage=%3Cb%3E15%3C%2Fb%3E",
      { settle: false },
    );
    const told = () => page.locator(".bench-verdict").innerText();
    await expect.poll(told, { timeout: 10_000 }).toMatch(/trip voltage[\s\S]*<b>15<\/b>/);
    await page.getByRole("button", { name: /^Start over/ }).click();
    await benchOn(page).settled();
    expect(await benchOn(page).verdict()).toMatch(/^Radio safe/);
    expect(wrong()).toEqual([]);
  });
});

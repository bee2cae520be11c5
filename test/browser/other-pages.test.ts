import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";
import { lineInHand } from "./support/files.ts";

describe.skipIf(withoutBrowser())("the other pages", () => {
  const desk = openDesk();
  const open = async (path: string) => {
    const visit = await desk.visit(path);
    return { ...visit, ...benchOn(visit.page) };
  };

  test("battery: the creep, the limit on its label, the terminal that falls off", async () => {
    const { page, slider, picture, verdict, settled, wrong } = await open("battery.html");
    const clock = () => page.locator(".clock").innerText();
    const [creep, counted] = [await picture("From hours to microseconds"), await clock()];
    expect(counted).toMatch(/from the first creep to the trip/);
    await slider("Trip voltage").focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowLeft");
    await settled();
    expect(await picture("From hours to microseconds")).not.toBe(creep);
    const earlier = await clock();
    expect(earlier).not.toBe(counted);
    await slider("The battery’s own charge limit").focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight");
    await settled();
    expect(await clock()).not.toBe(earlier);
    const fallen = await verdict("Verdict on the terminal that falls off");
    await page.getByRole("checkbox", { name: /Without the series switch/ }).check();
    await settled();
    expect(await verdict("Verdict on the terminal that falls off")).not.toBe(fallen);
    expect(await page.getByRole("figure", { name: /current after the trip$/ }).count()).toBe(3);
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("the file: written in the page, told what is wrong and where, mended; the keyboard leaves the text", async () => {
    const { page, picture, verdict, settled, wrong } = await open("file.html");
    const text = page.getByRole("textbox", { name: "The scenario file" });
    const before = await picture("What the radio saw");
    const [first, original] = [await verdict(), await lineInHand(page)];
    // As a person does it: finds the place, and types over it.
    const write = async (to: string) => {
      // Only what is in sight is there; the place stands near the end.
      await text.click();
      await page.keyboard.press("Control+End");
      const row = text.locator(".cm-line").filter({ hasText: "trip voltage" });
      await row.click();
      // Twice: a long line is broken, and the first goes to the break.
      for (const key of ["End", "End", "Shift+Home", "Shift+Home"]) await page.keyboard.press(key);
      await page.keyboard.type(to);
      await settled();
    };
    await write("crowbar: {part: SCR 55 A, trip voltage: <b>15</b> A, sense filter: fast}");
    const problems = await page.locator(".file-problems").innerText();
    expect(problems).toMatch(/trip voltage/);
    expect(problems).toMatch(/\.yaml:20:\d+/);
    expect(problems).toContain("<b>15</b> A");
    // The last good picture stays.
    expect(await picture("What the radio saw")).toBe(before);
    await write("crowbar: {part: SCR 55 A, trip voltage: 17.5 V, sense filter: slow} # tried");
    expect(await page.locator(".file-problems").innerText()).toMatch(/sense filter/);
    await write("crowbar: {part: SCR 55 A, trip voltage: 17.5 V, sense filter: fast} # tried");
    expect(await picture("What the radio saw")).not.toBe(before);
    expect(await verdict()).not.toBe(first);
    const [mark, ...rest] = (await lineInHand(page)).split("\n");
    expect(mark).toMatch(/^# Changed from the line 01-shorted-pass-transistor: /);
    expect(rest.join("\n")).toBe(
      original.replace(/^crowbar: .*$/m, "crowbar: {part: SCR 55 A, trip voltage: 17.5 V, sense filter: fast} # tried"),
    );
    await text.focus();
    await page.keyboard.press("Tab");
    expect(await text.evaluate((element) => element.contains(document.activeElement))).toBe(false);
    await page.reload();
    await settled();
    expect(await text.innerText()).toContain("# tried");
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("start: a first answer, and a card for every page that leads there", async () => {
    const { page, verdict, picture, settled, wrong } = await open("index.html");
    expect(await verdict()).toMatch(/^Radio safe The relay radio never saw more than 14\.7 V/);
    expect((await picture("What the radio saw")).length).toBeGreaterThan(2000);
    const pages = await page
      .getByRole("navigation", { name: "Pages" })
      .getByRole("link")
      .evaluateAll((links) => links.map((link) => (link as HTMLAnchorElement).href));
    const cards = page.locator("main ul.cards").first().getByRole("link");
    const targets = await cards.evaluateAll((links) => links.map((link) => (link as HTMLAnchorElement).href));
    expect([page.url(), ...targets].sort()).toEqual([...pages].sort());
    const heading = await cards.nth(1).innerText();
    // The whole card answers, not only its words.
    await page
      .locator("main ul.cards > li")
      .nth(1)
      .click({ position: { x: 12, y: 12 } });
    await page.waitForURL(/hiccup/);
    await settled();
    expect(heading).toContain("hiccups");
    await page.goBack();
    await settled();
    await page.locator("main input[type=file]").setInputFiles({
      name: "hut.yaml",
      mimeType: "application/yaml",
      buffer: Buffer.from("title: [", "utf8"),
    });
    // What has mistakes opens where they are mended.
    await page.waitForURL(/file\.html/);
    await settled();
    expect(await page.getByRole("textbox", { name: "The scenario file" }).innerText()).toContain("title: [");
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("how to write a notebook: its own cells work, and its code can be shown", async () => {
    const { page, slider, picture, settled, wrong } = await open("writing.html");
    const volts = slider("Voltage on the line");
    const sentence = page.locator("#cell-3");
    const [before, drawn] = [await sentence.innerText(), await picture("What the radio saw")];
    await volts.focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight");
    await settled();
    expect(await sentence.innerText()).not.toBe(before);
    await slider("Trip voltage").focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight");
    await settled();
    expect(await picture("What the radio saw")).not.toBe(drawn);
    await page.getByRole("button", { name: "Show the code" }).click();
    await expect.poll(() => page.locator("pre.code").first().isVisible()).toBe(true);
    expect(wrong()).toEqual([]);
  });
});

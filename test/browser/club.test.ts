import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { unzipSync } from "fflate";
import { afterAll, describe, expect, test } from "vitest";
import { workshop } from "../cli/launch.ts";
import { watchedPage, withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";
import { handedOut } from "./support/files.ts";
import { chooseLine, headlines, slideCount, slideTitle } from "./support/openers.ts";

const { folder, close } = workshop();

const LAST = ["How it came out", "Which limit came nearest?", "Before the next use"];

describe.skipIf(withoutBrowser())("for the club", () => {
  const desk = openDesk();
  afterAll(close);
  const open = async (search = "", options = {}) => {
    const visit = await desk.visit(`club.html${search}`, options);
    return { ...visit, ...benchOn(visit.page) };
  };

  test("the talk of the line in hand is there at once and is stepped through by keyboard, states following", async () => {
    const { page, picture, settled, wrong } = await open();
    const all = await headlines(page);
    expect(all[0]).toBe("Shorted pass transistor");
    expect(all[2]).toMatch(/^The crowbar fires, 23\.\d µs after the fault$/);
    expect(all.slice(-3)).toEqual(LAST);
    expect(await slideCount(page)).toBe(`Slide 1 of ${all.length}`);
    await page.getByRole("button", { name: "On →" }).focus();
    const seen = [await picture("Slide")];
    for (const [i, headline] of all.entries()) {
      if (i > 0) {
        await page.keyboard.press("ArrowRight");
        await settled();
        seen.push(await picture("Slide"));
      }
      expect(await slideTitle(page)).toBe(headline);
    }
    // Drawn each for itself, with its own times and states.
    expect(new Set(seen).size).toBe(all.length);
    expect(seen[1]).toContain("transistor shorted");
    expect(seen[1]).toContain("blocking");
    expect(seen[2]).toContain("conducting");
    expect(await page.getByRole("button", { name: "On →" }).getAttribute("aria-disabled")).toBe("true");
    await page.keyboard.press("Home");
    await settled();
    expect(await slideCount(page)).toBe(`Slide 1 of ${all.length}`);
    await chooseLine(page, /^Foldback supply/);
    await settled();
    expect((await headlines(page))[0]).toBe("Foldback supply");
    expect(wrong()).toEqual([]);
  }, 90_000);

  test("slides are moved, taken away, added and named by keyboard; undo, a reload and a link bring them back", async () => {
    const { page, button, menu, settled, wrong } = await open();
    const before = await headlines(page);
    await button(`Move down: ${before[0]}`).focus();
    await page.keyboard.press("Enter");
    expect((await headlines(page)).slice(0, 2)).toEqual([before[1], before[0]]);
    expect(await page.evaluate(() => document.activeElement?.getAttribute("aria-label"))).toBe(
      `Move down: ${before[0]}`,
    );
    await button("Remove: Which limit came nearest?").focus();
    await page.keyboard.press("Enter");
    expect(await headlines(page)).not.toContain("Which limit came nearest?");
    await menu("Slide").selectOption({ label: "I²t through the SCR" });
    await button("Add behind the slide that is shown").click();
    await settled();
    const added = "How much of the SCR's surge was used up?";
    expect(await slideTitle(page)).toBe(added);
    await page.getByRole("textbox", { name: "Headline" }).fill("<img src=x onerror=alert(1)> & “ours”");
    await page.keyboard.press("Enter");
    await page.getByRole("textbox", { name: "One sentence" }).fill("Said\nby us.");
    await page.keyboard.press("Enter");
    await settled();
    const hostile = "<img src=x onerror=alert(1)> & “ours”";
    expect(await slideTitle(page)).toBe(hostile);
    expect(await headlines(page)).toContain(hostile);
    expect(await page.locator("main img").count()).toBe(0);
    const arranged = await headlines(page);

    await expect.poll(() => page.url()).toContain("Said+by+us");
    const link = page.url();
    await page.reload();
    await settled();
    expect(await headlines(page)).toEqual(arranged);
    expect(await slideTitle(page)).toBe(hostile);

    const other = await open(link.slice(link.indexOf("#")));
    expect(await headlines(other.page)).toEqual(arranged);
    await other.button("Begin the talk anew").click();
    await other.settled();
    expect(await headlines(other.page)).toEqual(before);
    await other.page.keyboard.press("Control+z");
    expect(await headlines(other.page)).toEqual(arranged);

    // An empty field brings the proposal back.
    await page.getByRole("textbox", { name: "Headline" }).fill("");
    await page.keyboard.press("Enter");
    await settled();
    expect(await slideTitle(page)).toBe(added);
    await page.getByRole("textbox", { name: "Headline" }).fill("in\u202evisible");
    await page.keyboard.press("Enter");
    expect(await page.getByText("This holds a character that cannot be seen.").count()).toBe(1);
    await page.keyboard.press("Escape");
    expect([...wrong(), ...other.wrong()]).toEqual([]);
  }, 120_000);

  test("an address that is broken says so, and the rest of the talk stands", async () => {
    const { page, wrong } = await open(
      "#v=1&line=04-foldback&view.lines=04-foldback,no-such-line&view.slides=1.fault,1.step-99,2.line,9.x&view.words=%7B%22",
    );
    expect(await headlines(page)).toEqual(["How it came out"]);
    const told = await page.locator(".club-lost").innerText();
    expect(told).toContain("One scenario of this talk cannot be read.");
    expect(told).toContain("“Foldback supply” has no slide “step-99”: it is left out.");
    expect(told).toContain("There is no slide “9.x”.");
    expect(wrong()).toEqual([]);
  });

  test("the talk as one file steps through without a network; the archive holds every slide twice at slide size", async () => {
    const { page, context, button, wrong } = await open();
    const slides = await headlines(page);
    const talk = await handedOut(page, () => button("Save the talk as one file").click());
    expect(talk.name).toBe("shorted-pass-transistor.html");
    const file = join(folder, talk.name);
    writeFileSync(file, talk.bytes);
    const away = await desk.context({ width: 1280, height: 760 });
    await away.setOffline(true);
    const { page: shown, complaints, foreign } = await watchedPage(away, "file:");
    const asked: string[] = [];
    shown.on("request", (request) => asked.push(request.url()));
    await shown.goto(pathToFileURL(file).href);
    for (const headline of [...slides, "Cautions"]) {
      expect(await shown.locator(".slide:visible").getAttribute("aria-label")).toBe(headline);
      await shown.keyboard.press("ArrowRight");
    }
    expect(asked).toHaveLength(1);
    expect([complaints, foreign]).toEqual([[], []]);

    const packed = await handedOut(page, () => button("Save all pictures (ZIP)").click());
    expect(packed.name).toBe("shorted-pass-transistor-pictures.zip");
    const files = unzipSync(packed.bytes);
    const names = Object.keys(files);
    expect(names.filter((name) => /^svg\/\d\d-[a-z0-9.-]+\.svg$/.test(name))).toHaveLength(slides.length + 1);
    expect(names.filter((name) => /^png\/\d\d-[a-z0-9.-]+\.png$/.test(name))).toHaveLength(slides.length + 1);
    expect(names).toContain(`svg/0${slides.length + 1}-cautions.svg`);
    for (const name of names.filter((each) => each.endsWith(".png"))) {
      const png = Buffer.from(files[name]);
      expect([png.readUInt32BE(16), png.readUInt32BE(20)], name).toEqual([1920, 1080]);
      // A picture, not an empty sheet.
      expect(png.length, name).toBeGreaterThan(20_000);
      const svg = Buffer.from(files[name.replaceAll("png", "svg")]).toString("utf8");
      const sizes = [...svg.matchAll(/font-size="([\d.]+)"/g)].map((found) => Number(found[1]));
      const scale = 1920 / Number(/viewBox="0 0 ([\d.]+)/.exec(svg)?.[1]);
      expect(Math.min(...sizes) * scale, name).toBeGreaterThanOrEqual(23.9);
    }
    expect(wrong()).toEqual([]);
    await context.close();
  }, 120_000);

  test("a telephone steps through as well", async () => {
    const { page, settled, wrong } = await open("", { width: 390, height: 800 });
    await page.getByRole("button", { name: "On →" }).click();
    await settled();
    expect(await slideTitle(page)).toBe("The fault strikes");
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(391);
    expect(wrong()).toEqual([]);
  });
});

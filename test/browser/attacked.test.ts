import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { runScenario } from "@railfault/sim";
import { handoutHtml, proposeTalk, talkHtml } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, test } from "vitest";
import { root } from "../ground/files.ts";
import { withoutBrowser } from "../support/browser.ts";
import { openDesk, type VisitOptions } from "./support/desk.ts";
import { handedOut, lineInHand, openFile, saveAs } from "./support/files.ts";
import { openToSave } from "./support/openers.ts";
import { wholeAfterTornSave } from "./support/torn-save.ts";

const MARKUP = "]]></title><img src=x onerror=struck()><script>struck()</script>&";
const shipped = readFileSync(join(root, "packages/sim/scenarios/04-foldback.yaml"), "utf8");
const hostile = shipped
  .replace(/^title: .*$/m, `title: "${MARKUP}"`)
  .replace(/name: [a-z ]+radio/, `name: "${MARKUP}"`)
  .replace(/^question: .*$/m, `question: "${MARKUP}"`);

/** Puts a line into what is kept behind the pages' back, as anything may that shares their origin. */
const keepBehind = (page: Page, records: readonly object[]): Promise<void> =>
  page.evaluate(
    (all) =>
      new Promise<void>((done, failed) => {
        const request = indexedDB.open("railfault");
        request.onerror = () => failed(request.error);
        request.onsuccess = () => {
          const transaction = request.result.transaction("lines", "readwrite");
          for (const record of all) transaction.objectStore("lines").put(record);
          transaction.oncomplete = () => {
            request.result.close();
            done();
          };
        };
      }),
    records,
  );

describe.skipIf(withoutBrowser())("pages under attack", () => {
  const desk = openDesk();
  const folder = mkdtempSync(join(tmpdir(), "railfault-attacked-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const open = (options: VisitOptions = {}) => openToSave(desk, options);

  /** Before the writing see test/deep. */
  test(
    "loaded again in the middle of a save (during the writing): the last saved line is whole, the one in hand is there",
    () => wholeAfterTornSave(desk, "during"),
    60_000,
  );

  test("two tabs save the same name: neither save is lost", async () => {
    const one = await open();
    await one.set("Trip voltage", "15.4 V");
    await one.saveUnder("Roof");
    await one.said(/Saved as “Roof”/);
    const two = await open({ context: one.context });
    await two.button(/choose another line$/).click();
    await two.dialog("Choose a line").getByRole("button", { name: /^Roof/ }).click();
    await two.settled();
    await two.set("Trip voltage", "15.2 V");
    await two.button("Save").click();
    await two.said(/Saved as “Roof”/);
    await one.set("Trip voltage", "15.7 V");
    await one.button("Save").click();
    await one.said(/Roof/);
    await one.page.waitForTimeout(300);
    const texts: string[] = await one.page.evaluate(
      () =>
        new Promise((done) => {
          const request = indexedDB.open("railfault");
          request.onsuccess = () => {
            const all = request.result.transaction("lines").objectStore("lines").getAll();
            all.onsuccess = () => done(all.result.map(({ text }: { text: string }) => text));
          };
        }),
    );
    const trips = texts.map((text) => /trip voltage: ([\d.]+)/.exec(text)?.[1]);
    expect(trips.sort()).toEqual(["15.2", "15.7"]);
    expect([...one.wrong(), ...two.wrong()]).toEqual([]);
  }, 60_000);

  test("damaged and hostile records in what is kept: told, shown as text, and what is sound still opens", async () => {
    const { page, set, saveUnder, said, button, dialog, settled, wrong } = await open();
    await set("Trip voltage", "15.4 V");
    await saveUnder("Roof");
    await said(/Saved as “Roof”/);
    await keepBehind(page, [
      { name: MARKUP, text: "title: x", changed_ms: 0, revision: 2 },
      { name: "No text", changed_ms: 0, revision: 3 },
      { name: "Numbers", text: 5, changed_ms: "soon", revision: -1 },
      { name: "Huge", text: "x".repeat(2_000_000), changed_ms: 0, revision: 4 },
      { name: "__proto__", text: "title: x", changed_ms: 0, revision: 5, constructor: { prototype: null } },
    ]);
    await page.reload();
    await settled();
    await button(/choose another line$/).click();
    const list = dialog("Choose a line");
    await list
      .getByText(/damaged and cannot be read/)
      .first()
      .waitFor();
    await list.getByRole("button", { name: /^Roof/ }).click();
    await settled();
    expect(await lineInHand(page)).toContain("trip voltage: 15.4 V");
    expect(await page.evaluate(() => document.querySelectorAll("main img, main script, dialog img").length)).toBe(0);
    expect(wrong()).toEqual([]);
  });

  test("a thread that breaks down in the middle of a run: said, and the next change is computed", async () => {
    const { page, set, volts } = await open();
    const workers = page.workers().length;
    expect(workers).toBeGreaterThan(0);
    for (const worker of page.workers())
      await worker
        .evaluate(() => {
          // The next question meets a thread that throws outside of any run.
          addEventListener(
            "message",
            (event) => {
              event.stopImmediatePropagation();
              throw new Error("out of memory");
            },
            { capture: true, once: true },
          );
        })
        .catch(() => {});
    const before = await volts();
    await set("Trip voltage", "15.5 V");
    expect(await page.locator("main").innerText()).toMatch(
      /The computation broke off.*out of memory.*starts anew with the next change/,
    );
    await set("Trip voltage", "16.4 V");
    expect(await volts()).toBeGreaterThan(before);
    expect(await page.locator("main").innerText()).not.toContain("broke off");
  });

  test("what leaves the page under hostile names runs nothing where it is opened by itself", async () => {
    const { page, context, settled } = await open();
    await openFile(page, { name: "x.yaml", text: hostile });
    await settled();
    const figure = page.getByRole("figure", { name: "What the radio saw", exact: true });
    const svg = await handedOut(page, () => saveAs(figure, /^SVG/));
    const result = runScenario(hostile, "x.yaml");
    if (result.kind === "refused") throw new Error("the hostile scenario is a sound one");
    const { document } = new JSDOM("").window;
    const parts = [{ file: `${MARKUP}.yaml`, answered: result }];
    const pages = {
      "picture.svg": svg.bytes,
      "handout.html": handoutHtml(result, { document }),
      "talk.html": talkHtml(parts, proposeTalk(parts), { document, title: MARKUP }),
    };
    expect(svg.name).toMatch(/^[\w.-]+\.svg$/);
    for (const [name, content] of Object.entries(pages)) {
      const file = join(folder, name);
      writeFileSync(file, content);
      const alone = await context.newPage();
      const struck: string[] = [];
      await alone.exposeFunction("struck", () => struck.push(name));
      alone.on("dialog", (box) => void box.dismiss());
      const asked: string[] = [];
      alone.on("request", (request) => asked.push(request.url()));
      await alone.goto(pathToFileURL(file).href);
      await alone.waitForTimeout(200);
      expect(await alone.evaluate(() => document.documentElement.textContent), name).toContain("onerror=struck()");
      expect(
        await alone.evaluate(() => document.querySelectorAll("img, a[href^=javascript], svg foreignObject").length),
        name,
      ).toBe(0);
      expect([struck, asked.length], name).toEqual([[], 1]);
      await alone.close();
    }
  });
});

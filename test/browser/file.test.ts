import { describe, expect, test } from "vitest";
import { shippedLine } from "../../packages/notebooks/src/line/shipped.ts";
import { withoutBrowser } from "../support/browser.ts";
import { openDesk } from "./support/desk.ts";
import { openFile } from "./support/files.ts";
import { openText } from "./support/openers.ts";
import { textOn } from "./support/text-on.ts";

const START = "01-shorted-pass-transistor";

describe.skipIf(withoutBrowser())("the file behind it", () => {
  const desk = openDesk();

  test("a value is changed in the text, and verdict and picture follow; undo brings both back", async () => {
    const { lines, paste, volts, verdict, picture, button, settled, wrong } = await openText(desk);
    const before = { lines: await lines(), verdict: await verdict(), seen: await picture("What the radio saw") };
    expect(before.lines.join("\n").trim()).toBe(shippedLine(START).text.trim());
    expect(before.verdict).toMatch(/^Radio safe /);
    const first = await volts();

    await paste(shippedLine(START).text.replace("15.0 V", "16.0 V"));
    await settled();
    expect((await lines()).join("\n")).toContain("trip voltage: 16.0 V");
    expect(await volts()).toBeGreaterThan(first);
    expect(await picture("What the radio saw")).not.toBe(before.seen);

    await button(/^Undo/).click();
    await settled();
    expect({ lines: await lines(), verdict: await verdict(), seen: await picture("What the radio saw") }).toEqual(
      before,
    );
    await button(/^Redo/).click();
    await settled();
    expect((await lines()).join("\n")).toContain("trip voltage: 16.0 V");
    expect(wrong()).toEqual([]);
  });

  test("mistakes are underlined, told and led to, all of them; the last good picture stays and says so", async () => {
    const { page, field, atEnd, undoneUntil, problems, belongs, picture, verdict, lines, settled, wrong } =
      await openText(desk);
    const before = { verdict: await verdict(), seen: await picture("What the radio saw") };
    await atEnd("main fuze: blade fuse 10 A\nambient: 13,8\n");
    // Half a value is a problem, too, where a busy machine pauses within it.
    await expect.poll(() => problems.nth(1).innerText(), { timeout: 10_000 }).toContain("13,8");
    await settled();
    expect(await problems.count()).toBe(2);
    for (const [at, said] of [
      [0, [":26:1", "There is no key `main fuze` here.", "did you mean `main fuse`?"]],
      [1, [":27:10", "13,8", "decimals are written with a point", "write 13.8"]],
    ] as const) {
      const told = await problems.nth(at).innerText();
      for (const words of said) expect(told).toContain(words);
    }
    expect(await field.locator(".cm-lintRange-error").allInnerTexts()).toEqual(["main fuze", "13,8"]);
    expect(await belongs.innerText()).toMatch(
      /^The text was not run; verdict and picture belong to an earlier text\. .*did you mean `main fuse`/,
    );
    expect({ verdict: await verdict(), seen: await picture("What the radio saw") }).toEqual(before);

    await problems.nth(0).getByRole("button").click();
    expect(await page.evaluate(() => getSelection()?.toString())).toBe("main fuze");
    await page.keyboard.type("# main fuse");
    await field.getByText("13,8").click();
    await page.keyboard.press("Control+a");
    await page.keyboard.press("ArrowRight");
    await undoneUntil((text) => text.includes("\nmain fuze: blade fuse 10 A"));
    await settled();
    expect(await problems.count()).toBe(2);
    const original = shippedLine(START).text.trim();
    await undoneUntil((text) => text === original);
    await settled();
    expect((await lines()).join("\n").trim()).toBe(original);
    expect(await problems.count()).toBe(0);
    await expect.poll(() => belongs.innerText()).toMatch(/of the text as it stands/);
    expect(wrong()).toEqual([]);
  });

  test("of a file that cannot be run no other line's verdict is shown", async () => {
    const { page, belongs, settled, wrong } = await openText(desk);
    await openFile(page, { name: "package.json", text: '{"name": "hut"}\n' });
    await expect
      .poll(() => belongs.innerText())
      .toMatch(/^The text was not run; there is no verdict on it\. .*What helps: /);
    expect(await page.getByText("Radio safe", { exact: true }).isVisible()).toBe(false);
    await page.getByRole("button", { name: /^Undo/ }).click();
    await settled();
    expect(await page.getByText("Radio safe", { exact: true }).isVisible()).toBe(true);
    expect(wrong()).toEqual([]);
  });

  test("Tab leaves the text, and the keys for the place of the cursor are told", async () => {
    const { page, field, atEnd, problems, where, settled } = await openText(desk);
    await atEnd("    lead: {length: 2 m, ");
    await expect.poll(() => where.innerText()).toContain("loads › entry 1 › lead");
    const told = page.getByRole("region", { name: "Keys and what they mean" });
    expect(await told.innerText()).toMatch(/gauge/);
    // What appears below the text on the way would be the next stop, and what is drawn anew there would take it away.
    await problems.first().waitFor();
    await settled();
    await page.keyboard.press("Tab");
    expect(await field.evaluate((element) => element.contains(document.activeElement))).toBe(false);
    await page.keyboard.press("Shift+Tab");
    expect(await field.evaluate((element) => element.contains(document.activeElement))).toBe(true);
  });

  test("what was written is found again after a reload, with its comments", async () => {
    const { page, context, atEnd, button, settled } = await openText(desk);
    await atEnd("# measured in May\n");
    await settled();
    await page.reload();
    await settled();
    expect((await textOn(page).lines()).join("\n")).toContain("# measured in May");
    expect((await textOn(page).lines()).join("\n")).toContain("# Ravenstep hut");
    const [download] = await Promise.all([page.waitForEvent("download"), button("Save as file").click()]);
    const stream = await download.createReadStream();
    const chunks: Buffer[] = [];
    for await (const chunk of stream) chunks.push(chunk as Buffer);
    expect(Buffer.concat(chunks).toString("utf8")).toBe(`${shippedLine(START).text}# measured in May\n`);
    expect(context.pages()).toHaveLength(1);
  });

  test("every value has its source, as many as the table says", async () => {
    const { page } = await openText(desk);
    const fold = page.locator("details", { hasText: "Every value and where it comes from" });
    const count = Number(await fold.locator(".count").innerText());
    await fold.locator("summary").click();
    const rows = fold.locator("tbody tr");
    await expect.poll(() => rows.count()).toBe(count);
    expect(count).toBeGreaterThan(50);
    const trip = rows.filter({ hasText: "crowbar: trip voltage" });
    const cells = ["15.0\u00a0V", "the file", "stands in the file", "given"];
    expect(await trip.locator("td").allInnerTexts()).toEqual(cells);
    const withoutSource = await rows.evaluateAll((all) =>
      all.filter((row) => row.children[3]?.textContent === "").map((row) => row.textContent),
    );
    expect(withoutSource).toEqual([]);
  });
});

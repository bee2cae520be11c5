import { readFileSync } from "node:fs";
import type { Download, Locator, Page } from "playwright-core";

/** A file that a page hands out when something is pressed: its name and its bytes. */
export async function handedOut(page: Page, press: () => Promise<void>): Promise<{ name: string; bytes: Buffer }> {
  const [download] = await Promise.all<[Promise<Download>, Promise<void>]>([page.waitForEvent("download"), press()]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

/** Presses an entry in a figure's list of things to save. */
export async function saveAs(figure: Locator, entry: RegExp): Promise<void> {
  const menu = figure.locator("details.menu");
  if ((await menu.getAttribute("open")) === null) await menu.locator("summary").click();
  await menu.getByRole("button", { name: entry }).click();
}

/** Opens a file through the list of lines. */
export async function openFile(page: Page, file: string | { name: string; text: string }): Promise<void> {
  await page.getByRole("button", { name: /choose another line$/ }).click();
  const dialog = page.getByRole("dialog", { name: "Choose a line" });
  await dialog.waitFor();
  await dialog
    .locator("input[type=file]")
    .setInputFiles(
      typeof file === "string"
        ? file
        : { name: file.name, mimeType: "application/yaml", buffer: Buffer.from(file.text, "utf8") },
    );
  await dialog.waitFor({ state: "detached" });
}

/** The line in hand as the file that the command reads. */
export async function lineInHand(page: Page): Promise<string> {
  const saved = await handedOut(page, () => page.getByRole("button", { name: "Save as file", exact: true }).click());
  return saved.bytes.toString("utf8");
}

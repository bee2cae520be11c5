import type { Page } from "playwright-core";

/** The text field and what stands around it. */
export function textOn(page: Page) {
  const field = page.getByRole("textbox", { name: "The scenario file" });
  /** A short text is drawn as a whole. */
  const lines = (): Promise<string[]> => field.locator(".cm-line").allInnerTexts();
  return {
    field,
    lines,
    /** In how many steps a word is undone is a matter of how fast it was typed. */
    async undoneUntil(isThere: (text: string) => boolean) {
      for (let i = 0; i < 40 && !isThere((await lines()).join("\n").trim()); i++)
        await page.keyboard.press("Control+z");
    },
    async atEnd(text: string) {
      await field.click();
      await page.keyboard.press("Control+End");
      await page.keyboard.type(text);
    },
    /** Puts the cursor behind the first of these words. */
    async behind(words: string) {
      await field.evaluate((element, wanted) => {
        (element as HTMLElement).focus();
        const walker = document.createTreeWalker(element, NodeFilter.SHOW_TEXT);
        for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
          const at = node.textContent?.indexOf(wanted) ?? -1;
          if (at >= 0) return getSelection()?.collapse(node, at + wanted.length);
        }
        throw new Error(`nothing reads ${wanted}`);
      }, words);
      await page.waitForTimeout(100);
    },
    /** Puts a whole text there, as pasting does. */
    async paste(text: string) {
      await field.click();
      await page.keyboard.press("Control+a");
      await page.evaluate(async (wanted) => {
        const data = new DataTransfer();
        data.setData("text/plain", wanted);
        document.activeElement?.dispatchEvent(
          new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }),
        );
      }, text);
    },
    problems: page.locator(".file-problems .issues li"),
    belongs: page.locator(".belongs"),
    where: page.locator(".keys-where"),
  };
}

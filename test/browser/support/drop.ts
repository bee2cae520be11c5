import type { Page } from "playwright-core";

/** Lets a file fall on the page. */
export async function drop(page: Page, name: string, text: string): Promise<void> {
  const held = await page.evaluateHandle(
    ({ name, text }) => {
      const data = new DataTransfer();
      data.items.add(new File([text], name));
      return data;
    },
    { name, text },
  );
  for (const kind of ["dragenter", "drop"]) await page.dispatchEvent("main", kind, { dataTransfer: held });
}

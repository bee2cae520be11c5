import axe from "axe-core";
import type { Page } from "playwright-core";

/** What axe-core finds wrong with a page as it stands, one sentence for each place. */
export async function violations(page: Page): Promise<readonly string[]> {
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const { run } = (window as unknown as { axe: typeof import("axe-core") }).axe;
    const found = await run(document, { resultTypes: ["violations"] });
    return found.violations.flatMap(({ id, nodes }) =>
      nodes.map(
        ({ target, failureSummary = "" }) => `${id} at ${target.join(" ")}: ${failureSummary.replace(/\s+/g, " ")}`,
      ),
    );
  });
}

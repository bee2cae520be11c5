import axe from "axe-core";
import type { Page } from "playwright-core";

/**
 * What axe-core finds wrong with a page as it stands, one sentence for each place.
 *
 * @param rules only these are looked at: where nothing but colours is another than at the last look, nothing else has to be looked for again
 */
export async function violations(page: Page, rules: readonly string[] | null = null): Promise<readonly string[]> {
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(axe.source);
  return page.evaluate(async (only) => {
    const { run } = (window as unknown as { axe: typeof import("axe-core") }).axe;
    const found = await run(document, {
      resultTypes: ["violations"],
      ...(only === null ? {} : { runOnly: [...only] }),
    });
    return found.violations.flatMap(({ id, nodes }) =>
      nodes.map(
        ({ target, failureSummary = "" }) => `${id} at ${target.join(" ")}: ${failureSummary.replace(/\s+/g, " ")}`,
      ),
    );
  }, rules);
}

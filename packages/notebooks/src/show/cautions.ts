import { el, freshId } from "../controls/index.ts";

/**
 * What a person must not forget before acting on a page. Stays when the page is printed.
 *
 * @example cautionsView(document, verdict.cautions)
 */
export function cautionsView(
  document: Document,
  cautions: readonly string[],
  heading = "Before you act on this",
): HTMLElement {
  const id = freshId("cautions");
  const items = cautions.map((caution) => el(document, "li", {}, caution));
  return el(
    document,
    "section",
    { class: "cautions", "aria-labelledby": id },
    el(document, "h2", { id }, heading),
    el(document, "ul", {}, ...items),
  );
}

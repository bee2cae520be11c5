import { csvTable, type Cell as TableCell } from "../../report/csv.ts";
import { percentTexts } from "../../report/percents.ts";
import { wrap } from "../../report/text-wrap.ts";
import { pathText } from "../../scenario/keys.ts";
import { valueText } from "../../scenario/spread/index.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { counted } from "../../verdict/words.ts";
import { RUN_FIGURES } from "../pool/figures.ts";
import { BREAKING_UNKNOWN, OUTCOMES, type Outcome } from "../pool/outcome.ts";
import type { Axis } from "./axis.ts";
import { PLANE } from "./plane.ts";
import type { Point, WhatIf } from "./study.ts";

/** How much of the plane, or of the range, ends in each way; the worst first. */
export function sharesOf({ cells, points, y }: WhatIf): { outcome: Outcome; share: number }[] {
  const found = OUTCOMES.map(() => 0);
  if (y === null) for (const { outcome } of points) found[OUTCOMES.indexOf(outcome)] += 1 / points.length;
  for (const { size, corners } of cells)
    for (const corner of corners) found[corner] += (size * size) / 4 / (PLANE * PLANE);
  return OUTCOMES.flatMap((outcome, k) => (found[k] === 0 ? [] : [{ outcome, share: found[k] }]));
}

const range = ({ label, low, high, unit, byDecades }: Axis): string =>
  `${label} from ${valueText(low, unit)} to ${valueText(high, unit)}${byDecades ? " by decades" : ""}`;

/** What is found, in a sentence. */
export function whatIfHeadline(study: WhatIf): string {
  const shares = sharesOf(study);
  const of = study.y === null ? "range" : "plane";
  const parts = percentTexts(shares.map(({ share }) => share));
  const says = shares.map(({ outcome }, k) => `${k === 0 ? `${parts[k]} of the ${of}` : parts[k]}: ${outcome}`);
  return shares.length === 1 ? `The whole ${of}: ${shares[0].outcome}.` : `${says.join("; ")}.`;
}

/** Where along a sweep the outcome changes: between which two values. */
function changesOf({ points, x }: WhatIf): { below: string; above: string; from: Outcome; to: Outcome }[] {
  return points.slice(1).flatMap((point, k) => {
    const before = points[k];
    if (before.outcome === point.outcome) return [];
    const [below, above] = [before, point].map((each) => valueText(each.x, x.unit));
    return [{ below, above, from: before.outcome, to: point.outcome }];
  });
}

/**
 * A what-if study as text.
 *
 * @param width characters a line; below 60 counts as 60
 */
export function renderWhatIf(study: WhatIf, width = 80): string {
  const { x, y, points, isComplete, title, broken } = study;
  const room = Math.max(60, width);
  const what = [x, ...(y === null ? [] : [y])].map(range).join("; ");
  const close = points.filter((point) => point.close).length;
  const changes = y === null ? changesOf(study) : [];
  const parts = [
    wrap(`What if: ${title}`, room),
    wrap(whatIfHeadline(study), room),
    wrap(`${what}. ${counted(points.length, "simulation")}.`, room),
    y === null
      ? changes
          .map(({ below, above, from, to }) =>
            wrap(`Between ${below} and ${above}: from ${from} to ${to}.`, room, "  - ", "    "),
          )
          .join("\n")
      : wrap(
          isComplete
            ? "Every boundary that the coarse lattice shows is drawn to a 64th of the sides; an island narrower than a 16th may be missed."
            : "The simulations did not suffice for every boundary: some are drawn coarser. --most asks for more.",
          room,
        ),
    close === 0 ? "" : wrap(`${close} of the points ${close === 1 ? "is" : "are"} too close to call.`, room),
    broken.length === 0
      ? ""
      : wrap(
          `${counted(broken.length, "point")} gave no verdict${broken.length === 1 ? "" : "; the first"}: ${broken[0].message}`,
          room,
        ),
    wrap(
      `${BREAKING_UNKNOWN} Any point is a scenario of its own: --at and --scenario write it, and \`railfault run\` tells its whole verdict.`,
      room,
    ),
    ["Be careful", ...CAUTIONS.map((line) => wrap(line, room, "  - ", "    "))].join("\n"),
  ];
  return `${parts.filter((part) => part !== "").join("\n\n")}\n`;
}

const column = ({ path, unit }: Axis): string => `${pathText(path)}${unit === "" ? "" : ` [${unit}]`}`;

/** Every simulation as a table: values in the units of the axes, how it ended, and every figure. */
export function whatIfCsv({ x, y, points }: WhatIf): Generator<string> {
  const header = [
    column(x),
    ...(y === null ? [] : [column(y)]),
    "outcome",
    "too_close",
    ...RUN_FIGURES.map((figure) => figure.column),
  ];
  return csvTable(header, points.map(rowOf));
}

function rowOf({ x, y, outcome, close, figures }: Point): TableCell[] {
  const numbers = figures.map((value) => (Number.isFinite(value) ? value : null));
  return [x, ...(y === null ? [] : [y]), outcome, close ? "yes" : "no", ...numbers];
}

/** Names the form of the JSON. */
export const WHATIF_FORMAT = "railfault-whatif 1";

/** A study as plain JSON. */
export function whatIfData(study: WhatIf) {
  const { file, text, x, y, points, cells, isComplete, broken } = study;
  return {
    scenario: { file, text },
    axes: [x, ...(y === null ? [] : [y])].map(({ path, ...axis }) => ({ path: pathText(path), ...axis })),
    headline: whatIfHeadline(study),
    shares: sharesOf(study),
    isComplete,
    points: points.map((point) => ({
      x: point.x,
      y: point.y,
      outcome: point.outcome,
      tooClose: point.close,
      figures: Object.fromEntries(
        RUN_FIGURES.map((figure, k) => [figure.column, Number.isFinite(point.figures[k]) ? point.figures[k] : null]),
      ),
    })),
    cells,
    broken,
  };
}

import { type Fit, valueSentence } from "@railfault/sim";
import { el } from "../../controls/index.ts";
import { verdictView } from "../../show/index.ts";
import { sentenceList, tableView, withMinus } from "./tables.ts";

/** Beside every interval: what it holds and what not. */
const LIMITS = [
  "Intervals are for 95 %. In 50 synthetic hiccup captures with six values moving at once they held the truth in 93 % of all cases.",
  "What happens between two samples is known to a sample: sample faster where an off time or a detection time matters.",
  "Where a misfit is told, intervals do not hold: add to the line what is missing, and fit again.",
  "A likeness is no proof: another line may look the same through few samples. A gain that is off makes voltages as wrong as it is; a meter at the same terminals tells. A clock that is off makes times as wrong as it is; a signal of known frequency tells.",
];

/** What a fit found: values with intervals, which go together, what the capture cannot tell, the verdict with these values. */
export function fittedView() {
  const values = tableView("Values found", ["Value", "Found, with its interval", "Standard error", "Told?"]);
  const together = tableView("Correlation", ["Value", "With", "Coefficient"]);
  const untold = sentenceList("What the capture cannot tell");
  const limits = sentenceList("What the intervals hold");
  const verdict = verdictView(document, { parts: "answer", label: "Verdict with these values" });
  const heading = el(document, "h3", {}, "The real fault with these values");
  const element = el(
    document,
    "div",
    { class: "capture-fitted", hidden: true },
    values.element,
    untold.element,
    limits.element,
    together.element,
    heading,
    verdict.element,
  );
  return {
    element,
    clear(): void {
      element.hidden = true;
    },
    show(fit: Fit): void {
      element.hidden = false;
      const { isAnother, answer, correlations } = fit;
      values.put(
        isAnother
          ? []
          : fit.values.map((value): [string, string, string, { tone: string; words: string }] => {
              const sentence = valueSentence(value);
              const said = sentence.slice(value.label.length + 2).replace(/\.$/, "");
              const error = Number.isFinite(value.error)
                ? `${Number(value.error.toPrecision(2))} ${value.unit}`.trim()
                : "–";
              return [value.label, said, error, TOLD[value.state]];
            }),
      );
      limits.put(isAnother ? [] : LIMITS);
      untold.put([
        ...fit.untold,
        ...fit.together.map(
          ({ a, b, correlation }) =>
            `${a} and ${b} go together (correlation ${withMinus(correlation.toFixed(3))}): the capture hardly tells one from the other.`,
        ),
      ]);
      together.put(
        fit.values.flatMap((a, i) =>
          fit.values
            .slice(i + 1)
            .map((b, j): [string, string, string] => [a.label, b.label, (correlations[i][i + 1 + j] ?? 0).toFixed(2)]),
        ),
      );
      const judged = answer?.kind === "answered" ? answer.verdict : null;
      heading.hidden = judged === null;
      verdict.element.hidden = judged === null;
      if (judged !== null) verdict.show(judged);
    },
  };
}

const TOLD = {
  found: { tone: "safe", words: "found" },
  "at bound": { tone: "withstood", words: "at a bound" },
  untold: { tone: "none", words: "not told" },
} as const;

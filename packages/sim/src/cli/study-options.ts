import type { Arguments, OptionSpec } from "./command.ts";
import { SCHEMES, SIZES } from "./figures.ts";

/** More threads than any machine has. */
export const MOST_THREADS = 256;

export const threadsOption: OptionSpec = {
  name: "threads",
  value: "K",
  about: "how many threads run at once; all cores unless told",
};

export const pictureOptions: readonly OptionSpec[] = [
  { name: "svg", value: "FILE", about: "write the figure as SVG" },
  { name: "png", value: "FILE", about: "write the figure as PNG, 1920 pixels wide (780 with --size phone)" },
  { name: "size", value: "SIZE", about: "of the figure: page (default), slide, phone", words: SIZES },
  { name: "scheme", value: "SCHEME", about: "colours of the figure: light (default) or dark", words: SCHEMES },
];

/** Options that only say how a figure looks want one. */
export function figureProblems(values: Arguments["values"], problems: string[]): void {
  const drawn = values.has("svg") || values.has("png");
  for (const option of ["size", "scheme"]) {
    if (values.has(option) && !drawn)
      problems.push(`--${option} says how --svg FILE or --png FILE looks; neither was given.`);
  }
}

export function pictureLook(values: Arguments["values"]) {
  return {
    size: SIZES.find((name) => name === values.get("size")) ?? "page",
    scheme: SCHEMES.find((name) => name === values.get("scheme")) ?? "light",
  };
}

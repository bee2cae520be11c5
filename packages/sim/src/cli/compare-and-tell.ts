import type { SizeName } from "../report/figure/types.ts";
import { svgText } from "../report/svg-text.ts";
import { formatIssues, isSchemeWord, variantLines, variantText } from "../scenario/index.ts";
import { multiplesData } from "../study/compare/figure-data.ts";
import { compareFigure } from "../study/compare/figures.ts";
import {
  CompareRun,
  type Comparison,
  comparisonCsv,
  comparisonData,
  comparisonMarkdown,
  renderComparison,
} from "../study/compare/index.ts";
import { UsageError } from "./command.ts";
import { drawn } from "./drawn.ts";
import type { Terminal } from "./terminal.ts";
import { version } from "./version.ts";
import { type Target, writeOutput } from "./write-output.ts";

/** What is left to do once the command line has been looked at. */
export interface CompareRequest {
  readonly file: string;
  readonly text: string;
  /** Null: those of the file, or all ready-made ones. */
  readonly schemes: readonly string[] | null;
  readonly targets: readonly (Target & { readonly kind: "svg" | "png" | "to" })[];
  readonly form: "text" | "json" | "csv" | "markdown";
  readonly figure: "multiples" | "overlay";
  /** The line to write as a file of its own. */
  readonly write: string | null;
  readonly size: SizeName;
  readonly scheme: "light" | "dark";
}

/** Compares, prints, writes; gives the exit status. */
export async function compareAndTell(request: CompareRequest, terminal: Terminal): Promise<number> {
  const { file, text, schemes, targets, form } = request;
  const record = targets.some(({ kind }) => kind !== "to");
  const written = request.write === null ? [] : [fileOf(request, request.write)];
  const job = new CompareRun(text, file, {
    ...(schemes === null ? {} : { schemes }),
    ...(record ? { record } : {}),
  });
  await carryOut(job, terminal);
  const comparison = job.result();
  if (comparison.kind === "refused") {
    terminal.sayText(formatIssues(comparison.issues));
    return 2;
  }
  if (comparison.issues.length > 0 && form !== "json") terminal.sayText(`${formatIssues(comparison.issues)}\n`);
  for (const piece of printed(comparison, request, terminal)) terminal.out(piece);
  for (const target of targets) {
    if (target.kind === "to") writeOutput(target, written);
    else {
      const svg = await picture(comparison, request);
      if (svg === null) {
        terminal.say(`${target.option}: no line has a verdict and waveforms, so there is nothing to draw.`);
        continue;
      }
      writeOutput(target, [await drawn(svg, target.kind, request.size)]);
    }
    terminal.say(`${target.option}: ${target.path} written`);
  }
  return statusOf(comparison);
}

/** In pieces, so that Ctrl-C is heard between them and ends the comparison with what it has. */
async function carryOut(job: CompareRun, terminal: Terminal): Promise<void> {
  const begin = performance.now();
  const interrupt = (): void => job.stop();
  process.once("SIGINT", interrupt);
  try {
    while (job.advance(20_000) === "running") {
      await new Promise((resume) => setImmediate(resume));
      const { done, of, name } = job.progress;
      if (performance.now() - begin > 2000) terminal.progress(`${done} of ${of} lines; ${name}`);
    }
  } finally {
    process.removeListener("SIGINT", interrupt);
  }
}

function* printed(comparison: Comparison, { form, file }: CompareRequest, { width }: Terminal): Generator<string> {
  if (form === "csv") yield* comparisonCsv(comparison);
  else if (form === "markdown") yield comparisonMarkdown(comparison);
  else if (form === "json")
    yield `${JSON.stringify(comparisonData(comparison, { file, version: version() }), null, 2)}\n`;
  else yield renderComparison(comparison, { width });
}

async function picture(comparison: Comparison, { figure, size, scheme }: CompareRequest): Promise<string | null> {
  if (multiplesData(comparison) === null) return null;
  return svgText(
    (document) => compareFigure(figure, comparison, { document, size, scheme }) ?? document.createElement("svg"),
  );
}

/** A line as a scenario file of its own. */
function fileOf({ text, file }: CompareRequest, name: string): string {
  const { variants, schemes } = variantLines(text, file, isSchemeWord(name) ? { schemes: [name] } : {});
  const all = [...variants, ...schemes];
  const found = all.find((line) => line.name === name);
  if (found !== undefined) return variantText(text, found);
  const known = variants.map((line) => `"${line.name}"`);
  throw new UsageError([
    `--write "${name.slice(0, 100)}": there is no such variant; allowed: ${[...known, "the word of a ready-made scheme"].join(", ")}.`,
  ]);
}

function statusOf({ rows, stopped }: Comparison): number {
  const judged = rows.filter((row) => row.kind === "judged");
  if (judged.length === 0 || stopped) return 3;
  return judged.some(({ exitStatus }) => exitStatus === 0) ? 0 : 1;
}

import type { Arguments, OptionSpec } from "./command.ts";
import { UsageError } from "./command.ts";
import { checkTargets, type Target } from "./write-output.ts";

/** Options of every command that makes a sheet of paper. */
export const SHEET_OPTIONS: readonly OptionSpec[] = [
  { name: "json", value: null, about: "print it as JSON instead of the text" },
  { name: "html", value: "FILE", about: "write it as a page that prints on one side of A4" },
];

/** Where a sheet's page is written; null: nowhere. */
export function sheetTarget({ names, values }: Arguments): Target | null {
  const path = values.get("html");
  const target = path === undefined ? null : { option: "--html", path };
  if (target !== null) checkTargets([target], names);
  return target;
}

/** What a talk writes: at least one of its files. */
export function talkTargets({ names, values }: Arguments): readonly (Target & { readonly kind: "html" | "zip" })[] {
  const targets = (["html", "zip"] as const).flatMap((kind) => {
    const path = values.get(kind);
    return path === undefined ? [] : [{ kind, option: `--${kind}`, path }];
  });
  if (targets.length === 0)
    throw new UsageError([
      "A talk is a file: --html FILE writes one that steps through, --zip FILE its pictures; neither was given.",
    ]);
  checkTargets(targets, names);
  return targets;
}

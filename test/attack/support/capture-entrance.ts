import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { formatIssues, judgeCapture, readCorrections, renderJudgement } from "@railfault/sim";
import { judgementCsv } from "../../../packages/sim/src/capture/judge/table.ts";
import { renderLayout } from "../../../packages/sim/src/capture/layout-text.ts";
import { read } from "../../capture/read.ts";
import { root } from "../../ground/files.ts";
import type { Entrance } from "./entrance.ts";
import { bytesOf, HOSTILE, injured } from "./mutate.ts";

const folder = join(root, "packages/sim/captures");

/** Small tables of every kind, and now and then the head of a shipped capture: what goes wrong goes wrong there. */
const small: readonly string[] = [
  "t,U\n0,5\n1,6\n2,7\n3,5\n4,6\n5,9\n",
  "time (ms);U (mV);I [A]\n0,5;13,8;1\n1;14;2\n1,5;15,1;3\n2;13;2\n2,5;12;1\n",
  "# Sample Interval: 2 us\nU/V\n13.8\n13.9\n14.2\n15.7\n12.1\n11.9\n",
  "time\tload_V\n2026-01-01 12:00:00.1\t13.8\n2026-01-01 12:00:00.2\tOL\n2026-01-01 12:00:00.3\t14.1\n",
  '"t","supply, main (V)"\n"0","13,8"\n"1","14"\n"2","9.91E37"\n"3","-9.9E+37"\n',
];
const tables: readonly string[] = [
  ...readdirSync(folder).map((name) => readFileSync(join(folder, name), "utf8").slice(0, 1500)),
  ...Array.from({ length: 20 }, () => small).flat(),
];

const MARKS = [
  ...", ; \t \r 0 1 9 . - + e E \" ' / ( ) [ ] : # _ in V A s".split(" "),
  ",,,",
  ";;",
  "OL",
  "-OL",
  "*****",
  "9.9E37",
  "9.91E37",
  "1e308",
  "-1e308",
  "1e-308",
  "1".repeat(25),
  "time_s",
  "U (V)",
  "Sample Interval,2,us\n",
  "Sampling rate: 1 MHz\n",
  "12:00:00.5",
  "2026-02-30T25:61:61",
  '"a\nb"',
  "\n\n",
  "0,0\n",
];
const PIECES = [...HOSTILE, ...MARKS, ...MARKS];

const limits = ["11.7…15.9 V", "15.9 V", "…15 V", "1 to 2 kV"];
const corrected = [
  "1, ms",
  "none",
  "t",
  "2: radio, V, 10×, inverted; 3: shunt, 100 A/V, deskew 12 ns",
  "2 us",
  "semicolon",
  "comma",
];

export const captureFile: Entrance = {
  name: "captured table",
  enter: (draw) => {
    const bytes = bytesOf(draw, injured(draw, tables, PIECES));
    const piece = draw.next() < 0.5 ? bytes.length : 1 + Math.floor(draw.next() * 700);
    const { status, capture, layout, understood, issues } = read(bytes, { file: "bench.csv", piece });
    let said = formatIssues(issues) + (layout === null ? "" : renderLayout(layout, understood, 80));
    if (status === "read" && capture !== null) {
      const judgement = judgeCapture(capture, draw.next() < 0.5 ? { low: 11, high: 15 } : { low: null, high: null });
      const table = [...judgementCsv(judgement)].join("").replaceAll("\r\n", "\n");
      said += renderJudgement(judgement, 80) + table;
      const numbers = table
        .split("\n")
        .slice(1)
        .map((row) => row.split(",").slice(-3).join());
      if (numbers.some((row) => /NaN|Infinity|undefined/.test(row)))
        throw new Error(`judged without a number: ${numbers.find((row) => /NaN|Infinity|undefined/.test(row))}`);
    } else if (!issues.some(({ severity }) => severity === "error")) throw new Error("refused without a reason");
    return { taken: status === "read", said };
  },
};

export const captureWords: Entrance = {
  name: "correction of a table",
  enter: (draw) => {
    const words = (corpus: readonly string[]) => (draw.next() < 0.5 ? {} : { word: injured(draw, corpus, PIECES) });
    const written = {
      ...one("limits", words(limits)),
      ...one("time", words(corrected)),
      ...one("channel", words(corrected)),
      ...one("interval", words(corrected)),
      ...one("delimiter", words(corrected)),
    };
    const { corrections, issues } = readCorrections(written);
    const { issues: more, understood, layout } = read("t,U,I\n0,5,1\n1,6,2\n2,7,3\n3,5,4\n", { corrections });
    const said = formatIssues([...issues, ...more]) + (layout === null ? "" : renderLayout(layout, understood, 80));
    return { taken: issues.length === 0, said };
  },
};

const one = (key: string, { word }: { readonly word?: string }): Record<string, string> =>
  word === undefined ? {} : { [key]: word };

import { renderPng } from "../report/png.ts";
import { runScenario } from "../report/run-scenario.ts";
import { wrap } from "../report/text-wrap.ts";
import { formatIssues } from "../scenario/index.ts";
import { proposeTalk, type TalkPart } from "../study/talk/slides.ts";
import { type TalkPicture, talkHtml, talkPictures } from "../study/talk/talk-html.ts";
import { zipFiles } from "../study/talk/zip.ts";
import type { Terminal } from "./terminal.ts";
import { type Target, writeOutput } from "./write-output.ts";

export interface TalkRequest {
  readonly texts: readonly { readonly file: string; readonly text: string }[];
  readonly targets: readonly (Target & { readonly kind: "html" | "zip" })[];
  readonly scheme: "light" | "dark";
}

/** Runs, lists the slides, writes; gives the exit status. */
export async function talkAndTell({ texts, targets, scheme }: TalkRequest, terminal: Terminal): Promise<number> {
  const results = texts.map(({ file, text }) => ({ file, result: runScenario(text, file) }));
  const issues = results.flatMap(({ result }) => (result.kind === "refused" ? result.issues : []));
  const parts = results.flatMap(({ file, result }): TalkPart[] =>
    result.kind === "refused" ? [] : [{ file, answered: result }],
  );
  if (parts.length < texts.length) {
    terminal.sayText(formatIssues(issues));
    return 2;
  }
  const slides = proposeTalk(parts);
  const lines = slides.map(({ headline, sentence }, i) =>
    wrap(`${headline}: ${sentence}`, terminal.width, `${String(i + 1).padStart(3)}. `, "     "),
  );
  terminal.out(`${lines.join("\n")}\n     The cautions come last, uncounted.\n`);
  const { JSDOM } = await import("jsdom");
  const { document } = new JSDOM("").window;
  for (const target of targets) {
    if (target.kind === "html") writeOutput(target, [talkHtml(parts, slides, { document, scheme })]);
    else writeOutput(target, [zipFiles(await picturesOf(talkPictures(parts, slides, { document, scheme }), terminal))]);
    terminal.say(`${target.option}: ${target.path} written`);
  }
  return parts.every(({ answered }) => answered.verdict.kind === "verdict") ? 0 : 3;
}

async function picturesOf(pictures: readonly TalkPicture[], terminal: Terminal) {
  const entries: { name: string; content: string | Uint8Array }[] = [];
  for (const [i, { name, svg }] of pictures.entries()) {
    terminal.progress(`picture ${i + 1} of ${pictures.length}`);
    // What is drawn for a slide has its pixels already.
    entries.push(
      { name: `svg/${name}.svg`, content: svg },
      { name: `png/${name}.png`, content: await renderPng(svg, 1) },
    );
  }
  return entries;
}

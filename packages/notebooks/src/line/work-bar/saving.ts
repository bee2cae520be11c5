import { exportAll, exportLine } from "../../kept/exchange.ts";
import { type Problem, problemText, sizeText } from "../../kept/problem.ts";
import type { Entry } from "../../kept/store/records.ts";
import type { Store } from "../../kept/store.ts";
import { LONGEST_NAME } from "../../kept/words.ts";
import { saveFile } from "../../show/index.ts";
import { askName, type Tried } from "./ask.ts";
import { fileText, shownTitle, whenText } from "./words.ts";
import type { Work } from "./work.ts";

/** Keeps the line in hand in the browser: under its name, or one that is asked for. */
export async function save(work: Work): Promise<void> {
  const { document, copies, line } = work;
  const store = await work.kept.store;
  const own = copies.now;
  if (own !== null) {
    const tried = await saveAs(work, store, own.entry.name, false);
    if (tried.kind === "problem") work.say(tried.text);
    if (tried.kind !== "taken") return;
  }
  const { state, title } = line.now;
  const wished = own?.entry.name ?? copies.latest?.entry.name ?? (state.line.kind === "own" ? state.line.name : title);
  await askName(document, {
    title: "Save this line",
    help: store.storage.kind === "memory" ? "Kept only until this page is closed." : "Kept in this browser.",
    proposal: tidied(wished),
    yes: "Save",
    replace: "Replace it",
    attempt: (name, replace) => saveAs(work, store, name, replace),
  });
}

async function saveAs(work: Work, store: Store, name: string, overwrite: boolean): Promise<Tried> {
  const { line, copies, notices, say } = work;
  const { text } = line.now;
  const basedOn = copies.now?.entry ?? copies.latest?.entry;
  const saved = await store.save(name, text, { overwrite, ...(basedOn === undefined ? {} : { basedOn }) });
  if (saved.kind === "exists") return { kind: "taken", text: takenText(name, saved.entry) };
  if (saved.kind === "problem") {
    noteProblem(work, saved.problem);
    return { kind: "problem", text: problemText(saved.problem) };
  }
  const { entry, aside } = saved;
  // Somebody may have gone on changing the line while it was being written.
  if (line.now.text === text) line.keptAs(entry.name);
  copies.is(entry, text);
  notices.put("save", null);
  const place = store.storage.kind === "memory" ? ", only until this page is closed" : "";
  say(`Saved as “${shownTitle(entry.name)}”${place}.`);
  if (aside !== null)
    notices.put("aside", {
      title: `Another tab had saved “${shownTitle(entry.name)}” meanwhile.`,
      text: `Your version stands under that name now. The other one is kept as “${shownTitle(aside.name)}”; nothing is lost.`,
      tone: "note",
    });
  return { kind: "done" };
}

/** What a name is wrong with is said beside the field; what stands in the way of saving at all, on the page. */
function noteProblem({ notices }: Work, problem: Problem): void {
  if (problem.where === "name") return;
  notices.put("save", {
    title: "The line was not saved.",
    text: "It is still in hand. “Save as file” keeps it on your disk.",
    problems: [problem],
  });
}

/** Why a name cannot be taken as it is. */
export function takenText(name: string, entry: Entry | null): string {
  const what = entry === null ? "" : ` (${whenText(entry.changed_ms)}, ${sizeText(entry.bytes)})`;
  return `“${shownTitle(name.trim())}” is there already${what}. Choose another name.`;
}

/** A name out of a title: what a name must not hold is left out. */
function tidied(title: string): string {
  return Array.from(title.replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu, "").trim())
    .slice(0, LONGEST_NAME)
    .join("");
}

/** Hands a text out as the file that the command reads. */
export function saveAsFile({ document, notices, say }: Work, name: string, text: string): void {
  const saved = exportLine({ name, text }, (blob, fileName) => saveFile(document, { name: fileName, blob }));
  if (saved.kind === "exported") say(`Saved as ${saved.fileName}.`);
  else notices.put("export", { title: "No file was written.", problems: [saved.problem] });
}

/** Hands out all kept lines as one ZIP of such files. */
export async function saveAllAsFile({ document, kept, notices, say }: Work): Promise<void> {
  const store = await kept.store;
  const { entries, problems } = await store.list();
  const read = await Promise.all(entries.map(({ name }) => store.read(name)));
  const lines = read.flatMap((one) => (one.kind === "read" ? [{ ...one.entry, text: fileText(one.text) }] : []));
  const unread = read.flatMap((one) => (one.kind === "problem" ? [one.problem] : []));
  const download = (blob: Blob, fileName: string): void => saveFile(document, { name: fileName, blob });
  const saved = exportAll(lines, download, Date.now());
  const found = [...problems, ...unread, ...(saved.kind === "exported" ? saved.problems : [saved.problem])];
  if (saved.kind === "exported") say(`Saved ${lines.length} as ${saved.fileName}.`);
  if (found.length > 0)
    notices.put("export", {
      title: saved.kind === "exported" ? "Some lines are not in the file." : "No file was written.",
      problems: found,
    });
}

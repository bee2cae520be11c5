import { FitMemory, parseScenario } from "@railfault/sim";
import { encodeAddress } from "../../kept/address.ts";
import { type Imported, importDropped, importFile, type OpenedFile } from "../../kept/exchange.ts";
import { type Problem, shown } from "../../kept/problem.ts";
import { shippedLine } from "../shipped.ts";
import type { NoticeLink } from "./notice.ts";
import { counted, shownTitle } from "./words.ts";
import type { Work } from "./work.ts";

/** Takes a line that comes with the pages in hand. */
export function openShipped({ line, say }: Work, name: string): void {
  line.open({ kind: "shipped", name });
  say(`Opened “${shippedLine(name).title}”.`);
}

/** Takes a kept line in hand; where it cannot be read, the present one stays. */
export async function openKept({ line, kept, copies, notices, say }: Work, name: string): Promise<boolean> {
  const read = await (await kept.store).read(name);
  if (read.kind === "problem") {
    notices.put("open", notOpened(name, [read.problem]));
    return false;
  }
  line.open({ kind: "own", name: read.entry.name, text: read.text });
  copies.is(read.entry, read.text);
  notices.put("open", null);
  say(`Opened “${shownTitle(name)}”.`);
  return true;
}

/** Takes a file in hand that was chosen; else says why not, and the present line stays. */
export async function openFile(work: Work, file: OpenedFile): Promise<void> {
  take(work, await importFile(file), file.name);
}

/** Takes what was dropped in hand. */
export async function openDropped(work: Work, dropped: Pick<DataTransfer, "files">): Promise<void> {
  // A drop's list is emptied once the event is over.
  const files = [...dropped.files];
  take(work, await importDropped({ files }), files[0]?.name ?? "What was dropped");
}

function take(work: Work, imported: Imported, fileName: string): void {
  const { line, notices, say } = work;
  if (imported.kind === "refused") {
    notices.put("open", notOpened(fileName, [imported.problem]));
    return;
  }
  const { name, text } = imported;
  const { scenario, issues } = parseScenario(text, shown(imported.fileName), new FitMemory());
  const errors = counted(issues.filter(({ severity }) => severity === "error").length, "problem");
  if (scenario === null && !work.anyText) {
    notices.put("open", {
      ...notOpened(fileName, []),
      text: `There ${errors.startsWith("1 ") ? "is" : "are"} ${errors} in it.`,
      issues,
      links: mendOn(work, name, text),
    });
    return;
  }
  line.open({ kind: "own", name, text });
  notices.put("open", null);
  say(`Opened ${shown(fileName)}${scenario === null ? `: ${errors} in it, so it was not run` : ""}.`);
}

/** A way to the page on which such a text can be mended, when an address can carry it there. */
function mendOn({ textPage }: Work, name: string, text: string): readonly NoticeLink[] {
  const encoded = encodeAddress({ line: { kind: "own", name, text }, changes: [], view: {} });
  if (encoded.kind !== "address") return [];
  return [{ label: "Mend it on “The file behind it”", href: `${textPage}${encoded.hash}` }];
}

function notOpened(name: string, problems: readonly Problem[]) {
  return { title: `${shown(name)} was not opened; the line in hand stays.`, problems };
}

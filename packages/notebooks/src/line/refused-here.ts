import type { Issue } from "@railfault/sim";
import { el, setText } from "../controls/index.ts";
import type { Line } from "./line.ts";
import type { SchemeRun } from "./runs.ts";

/** Why a line was not run, as the sentences that stand beside the control that was turned; null where nothing is wrong with it. */
function whyRefused(issues: readonly Issue[]): string | null {
  const first = issues.find(({ severity }) => severity === "error");
  if (first === undefined) return null;
  return first.hint === null ? first.message : `${first.message} What helps: ${first.hint.replace(/\.?$/, ".")}`;
}

/**
 * Says why a line was refused at the control whose turning did it. Whoever is down there sees neither the answer nor the list of problems.
 *
 * @example const here = refusedHere(document, line); runs.follow((map) => here.show(map.get("line")));
 */
export function refusedHere(document: Document, line: Line) {
  const note = el(document, "p", { class: "control-problem control-refused" });
  let { text } = line.now;
  let turned: Element | null = null;
  let within = false;
  const endFollowing = line.follow((now) => {
    if (now.text === text) return;
    text = now.text;
    turned = null;
    // A control tells of itself while the line is changed by it; undo and links come without one.
    within = true;
    queueMicrotask(() => {
      within = false;
    });
  });
  const heard = ({ target }: Event): void => {
    if (within) turned = (target as Element).closest(".control");
  };
  document.addEventListener("input", heard);
  return {
    show(run: Pick<SchemeRun, "status" | "issues"> | undefined): void {
      if (run === undefined || run.status === "running") return;
      const why = run.status === "refused" ? whyRefused(run.issues) : null;
      if (why === null) note.remove();
      else if (turned !== null) {
        setText(note, why);
        if (note.parentElement !== turned) turned.append(note);
      } else if (note.textContent !== why) note.remove();
    },
    leave(): void {
      endFollowing();
      document.removeEventListener("input", heard);
      note.remove();
    },
  };
}

import { el } from "../../controls/index.ts";
import { openDropped } from "./opening.ts";
import type { Work } from "./work.ts";

/**
 * A file may be dropped anywhere on the page; while it is held over it, a sign says so. Gives what ends that.
 * Heard before anything else on the page, since an editor would write the file's text into itself.
 */
export function takeDrops(work: Work): () => void {
  const { document } = work;
  const hint = el(
    document,
    "div",
    { class: "drop-hint", popover: "manual", "aria-hidden": "true" },
    el(document, "p", {}, work.otherFiles?.hint ?? "Drop the file: it is opened as the line in hand."),
  );
  document.body.append(hint);
  let depth = 0;
  let shown = false;
  const show = (over: boolean): void => {
    if (over === shown) return;
    shown = over;
    hint.classList.toggle("over", over);
    // In the top layer it stands above an open dialog too.
    if (over) hint.showPopover?.();
    else hint.hidePopover?.();
  };
  const over = (event: DragEvent): void => {
    if (!holdsFiles(event)) return;
    event.preventDefault();
    if (event.type === "dragenter") depth += 1;
    show(true);
  };
  const left = (event: DragEvent): void => {
    if (!holdsFiles(event)) return;
    depth = Math.max(0, depth - 1);
    if (depth === 0) show(false);
  };
  const dropped = (event: DragEvent): void => {
    if (!holdsFiles(event) || event.dataTransfer === null) return;
    event.preventDefault();
    event.stopPropagation();
    depth = 0;
    show(false);
    for (const dialog of document.querySelectorAll<HTMLDialogElement>("dialog.work-dialog[open]")) dialog.close();
    const [file] = event.dataTransfer.files;
    if (file !== undefined && work.otherFiles?.take(file) === true) {
      work.notices.put("open", null);
      return;
    }
    void openDropped(work, event.dataTransfer);
  };
  const listeners = { dragenter: over, dragover: over, dragleave: left, drop: dropped } as const;
  for (const [type, listener] of Object.entries(listeners))
    document.addEventListener(type, listener as EventListener, true);
  return () => {
    for (const [type, listener] of Object.entries(listeners))
      document.removeEventListener(type, listener as EventListener, true);
    hint.remove();
  };
}

/** Texts and links that are dragged are none of ours. */
function holdsFiles({ dataTransfer }: DragEvent): boolean {
  return [...(dataTransfer?.types ?? [])].includes("Files");
}

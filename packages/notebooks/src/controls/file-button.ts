import { announce, asControl, type Control, freshId, hush } from "./control.ts";
import { el } from "./el.ts";

export interface FileButtonOptions {
  readonly label: string;
  /** As the attribute `accept`: `.yaml,.yml`. It guides the file dialog only; what is dropped may be anything. */
  readonly accept?: string;
  readonly help?: string;
}

/**
 * A file from the person's disk, chosen in a dialog or dropped here. The page checks size and content.
 *
 * @returns an element whose `value` is the File, or null; `input` is dispatched also when the same file is chosen again
 * @example
 * const own = fileButton(document, { label: "Open a scenario file", accept: ".yaml,.yml" });
 * own.addEventListener("input", async () => show(await own.value.text()));
 */
export function fileButton(document: Document, options: FileButtonOptions): Control<File | null, never> {
  const id = freshId("file");
  const input = el(document, "input", { type: "file", id, accept: options.accept ?? null });
  const help = el(document, "span", { class: "control-help", id: `${id}-help` }, options.help ?? "or drop it here");
  input.setAttribute("aria-describedby", `${id}-help`);
  const area = el(
    document,
    "div",
    { class: "control-drop" },
    el(document, "label", { for: id }, options.label),
    help,
    input,
  );
  const root = el(document, "div", { class: "control control-file" }, area);
  let file: File | null = null;

  const take = (files: FileList | null | undefined): void => {
    const first = files?.[0];
    if (first === undefined) return;
    file = first;
    announce(root, "input", "change");
    // Else choosing the same file once more, now mended, would tell nobody.
    input.value = "";
  };
  hush(input);
  input.addEventListener("change", () => take(input.files));
  for (const type of ["dragenter", "dragover"]) {
    root.addEventListener(type, (event) => {
      event.preventDefault();
      root.classList.add("over");
    });
  }
  root.addEventListener("dragleave", () => root.classList.remove("over"));
  root.addEventListener("drop", (event) => {
    event.preventDefault();
    root.classList.remove("over");
    take(event.dataTransfer?.files);
  });

  return asControl<File | null, never>(root, {
    get: () => file,
    set: (value) => {
      file = value;
    },
    update: () => {},
  });
}

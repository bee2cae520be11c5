/** What is asked of a pressed key: a `KeyboardEvent` has it all. */
export interface PressedKey {
  readonly key: string;
  readonly code: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
  readonly isComposing: boolean;
  readonly defaultPrevented: boolean;
  readonly target: EventTarget | null;
  composedPath?(): EventTarget[];
  preventDefault(): void;
}

/**
 * A listener for `keydown`: Ctrl+Z or Cmd+Z undoes; Ctrl+Shift+Z, Cmd+Shift+Z and Ctrl+Y redo. Fields in which text is
 * written keep these keys for themselves.
 *
 * @example addEventListener("keydown", historyKeys(history));
 */
export function historyKeys(history: { undo(): void; redo(): void }): (event: PressedKey) => void {
  return (event) => {
    const { ctrlKey, metaKey, shiftKey, altKey } = event;
    if (event.defaultPrevented || event.isComposing || altKey || ctrlKey === metaKey) return;
    const letter = letterOf(event);
    const redo = (letter === "z" && shiftKey) || (letter === "y" && ctrlKey && !shiftKey);
    if (!redo && letter !== "z") return;
    if (writesText(event.composedPath?.()[0] ?? event.target)) return;
    // Also with nothing to undo: a browser would undo in a text field somewhere else on the page.
    event.preventDefault();
    if (redo) history.redo();
    else history.undo();
  };
}

/** The Latin letter of a key: by what it writes, or by its place where it writes no Latin letter. */
function letterOf({ key, code }: PressedKey): string {
  return /^[a-z]$/i.test(key) ? key.toLowerCase() : code.replace(/^Key/, "").toLowerCase();
}

/** Inputs in which nothing is written: their keys undo changes of the page. */
const SILENT = new Set(["range", "checkbox", "radio", "button", "submit", "reset", "color", "file", "image"]);

function writesText(target: EventTarget | null): boolean {
  if (target === null) return false;
  const { tagName, type, isContentEditable } = target as {
    tagName?: string;
    type?: string;
    isContentEditable?: boolean;
  };
  if (isContentEditable === true || tagName === "TEXTAREA") return true;
  return tagName === "INPUT" && !SILENT.has(type ?? "text");
}

// How a value that is no element, and an error, are shown: quietly, and always as text.

/** A value as text in a place of its own; nothing for `undefined`. */
export function inspect(value: unknown): HTMLElement {
  const shown = document.createElement("pre");
  shown.className = "shown";
  shown.hidden = value === undefined;
  shown.textContent = describe(value);
  return shown;
}

/** An error where the cell would have shown its result. */
export function inspectError(error: unknown): HTMLElement {
  const box = document.createElement("div");
  box.className = "cell-error";
  const opening = document.createElement("strong");
  opening.textContent = "This part of the page failed. ";
  box.append(opening, messageOf(error));
  return box;
}

/** The notebook library asks which parts of a shown value are open; ours have none. */
export function getExpanded(): undefined {
  return undefined;
}

/** What an error says, with a full stop. */
export function messageOf(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

const longest = 4000;

/** A value as text: a string as it is, numbers and the like as written, data as indented JSON. */
export function describe(value: unknown): string {
  if (typeof value !== "object" || value === null) return String(value);
  const seen = new Set<unknown>();
  const text = JSON.stringify(
    value,
    (_, part: unknown) => {
      if (typeof part === "function") return `function ${part.name}`;
      if (typeof part !== "object" || part === null) return typeof part === "bigint" ? String(part) : part;
      if (seen.has(part)) return "(seen above)";
      seen.add(part);
      if (ArrayBuffer.isView(part)) return Array.from(part as unknown as ArrayLike<number>);
      if (part instanceof Map) return Object.fromEntries(part);
      if (part instanceof Set) return [...part];
      return part;
    },
    2,
  );
  return text.length > longest ? `${text.slice(0, longest)} …` : text;
}

/** The notebook library maps the pictures of its own formats; ours come through the build. */
export function mapAssets(): void {}

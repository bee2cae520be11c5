// What every cell may use without importing it.
import { input, type Live, Mutable, observe, type Valued } from "./live.ts";

/** The names that a cell finds. `width` and `dark` are live: a cell that uses one runs again when it changes. */
export interface Builtins {
  /** Shows a value in the cell's place: an element as it is, anything else as text. Gives the value back. */
  readonly display: <T>(value: T) => T;
  /** Shows a control and gives its live value: `const volts = view(range({…}))`. */
  readonly view: <T>(control: Valued<T>) => Live<T>;
  /** Settles when the cell is about to run again or is gone: `invalidation.then(() => observer.disconnect())`. */
  readonly invalidation: Promise<void>;
  /** Waits until the cell's place is in sight: `await visibility()`. */
  readonly visibility: () => Promise<void>;
  readonly Generators: { readonly observe: typeof observe; readonly input: typeof input };
  readonly Mutable: typeof Mutable;
  /** Width of the page's main column in pixels. */
  readonly width: number;
  /** True where the page is dark, by the reader's choice or the device's. */
  readonly dark: boolean;
}

/** Their names, for the build's type check. */
export const builtinNames: readonly (keyof Builtins)[] = [
  "display",
  "view",
  "invalidation",
  "visibility",
  "Generators",
  "Mutable",
  "width",
  "dark",
];

/** Definitions for the runtime; what depends on a single cell (`display`, `view` and the like) it brings itself. */
export function builtins(document: Document): Record<string, unknown> {
  return {
    Generators: () => ({ observe, input }),
    Mutable: () => Mutable,
    width: () => liveWidth(document),
    dark: () => liveDark(document),
  };
}

function liveWidth(document: Document): Live<number> {
  const main = document.querySelector("main") ?? document.body;
  return observe<number>((tell) => {
    const { paddingInlineStart, paddingInlineEnd } = getComputedStyle(main);
    let last = main.clientWidth - Number.parseFloat(paddingInlineStart) - Number.parseFloat(paddingInlineEnd);
    tell(last);
    const observer = new ResizeObserver(([entry]) => {
      const width = entry?.contentRect.width ?? last;
      if (width === last) return;
      last = width;
      tell(width);
    });
    observer.observe(main);
    return () => observer.disconnect();
  });
}

function liveDark(document: Document): Live<boolean> {
  const device = matchMedia("(prefers-color-scheme: dark)");
  const root = document.documentElement;
  const isDark = () => (root.dataset.scheme ? root.dataset.scheme === "dark" : device.matches);
  return observe<boolean>((tell) => {
    let last = isDark();
    tell(last);
    const changed = () => {
      if (isDark() === last) return;
      last = !last;
      tell(last);
    };
    const observer = new MutationObserver(changed);
    observer.observe(root, { attributes: true, attributeFilter: ["data-scheme"] });
    device.addEventListener("change", changed);
    return () => {
      observer.disconnect();
      device.removeEventListener("change", changed);
    };
  });
}

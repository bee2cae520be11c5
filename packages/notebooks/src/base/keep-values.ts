// While a notebook is written: a slider stays where it was when its cell is replaced or the page is loaded again.
import type { Keeper } from "./page.ts";

const entry = "railfault.kept-values";

/** Remembers the values of controls by cell and by their order in it, in `storage`. */
export function keepValues(storage: Storage, path: string): Keeper {
  const key = `${entry} ${path}`;
  const values = new Map<string, unknown>(read(storage, key));
  return {
    wrap(cell, view) {
      let count = 0;
      return (element) => {
        const control = element as Element & { value: unknown };
        const name = `${cell}.${count++}`;
        const kept = values.get(name);
        if (values.has(name) && typeof kept === typeof control.value) control.value = kept;
        element.addEventListener("input", () => {
          if (typeof control.value === "object") return;
          values.set(name, control.value);
          storage.setItem(key, JSON.stringify([...values]));
        });
        return view(element);
      };
    },
  };
}

function read(storage: Storage, key: string): [string, unknown][] {
  try {
    return JSON.parse(storage.getItem(key) ?? "[]") as [string, unknown][];
  } catch {
    return [];
  }
}

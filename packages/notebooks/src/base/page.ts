// The page's runtime: puts cells into their places and, while a notebook is written, replaces those that have changed.

import { define } from "observable:define";
import { Runtime } from "observable:engine";
import type { DefineState, Definition } from "@observablehq/notebook-kit/runtime";
import { builtins } from "./builtins.ts";
import { codeObserver, proseObserver } from "./observer.ts";

/** A cell of code, as the build writes it. */
export interface CodeCell {
  readonly id: number;
  readonly kind: "ts";
  /** Changes when the cell does. */
  readonly key: string;
  /** Its text for those who ask for it; in a built page it stands in the page already. */
  readonly text?: string;
  readonly body: (...inputs: never[]) => unknown;
  readonly inputs: readonly string[];
  readonly outputs: readonly string[];
  readonly autodisplay: boolean;
}

/** A cell of prose. */
export interface ProseCell {
  readonly id: number;
  readonly kind: "md";
  readonly key: string;
  readonly text?: string;
  readonly values: readonly { readonly body: (...inputs: never[]) => unknown; readonly inputs: readonly string[] }[];
  /** Its prose; in a built page it stands in the page already. */
  readonly html?: string;
}

/** What remembers the values of controls while cells are replaced. */
export interface Keeper {
  /** Called in place of `view`: gives the element its kept value and remembers later ones. */
  wrap(cell: number, view: (element: Element) => unknown): (element: Element) => unknown;
}

interface Placed {
  readonly key: string;
  readonly states: readonly DefineState[];
}

/** A page whose cells are running. */
export interface Page {
  /** Defines the cells that are new or have changed, and takes away those that are gone. */
  show(cells: readonly (CodeCell | ProseCell)[]): void;
}

/** Starts the runtime for a document in which each cell has its container. */
export function openPage(document: Document, keeper?: Keeper): Page {
  const main = new Runtime(builtins(document)).module();
  const placed = new Map<number, Placed>();
  const place = (root: HTMLElement, definition: Definition, observer: unknown): DefineState => {
    const state = { root: root as HTMLDivElement, expanded: [], variables: [] };
    define(main, state, definition, observer as never);
    return state;
  };
  const definitionOf = (cell: CodeCell): Definition => {
    const { id, body, inputs, outputs, autodisplay } = cell;
    const at = inputs.indexOf("view");
    const kept = (...values: unknown[]): unknown => {
      values[at] = keeper?.wrap(id, values[at] as (element: Element) => unknown);
      return body(...(values as never[]));
    };
    const definition = at >= 0 && keeper ? kept : body;
    return { id, body: definition as never, inputs: [...inputs], outputs: [...outputs], autodisplay };
  };
  const defineCell = (cell: CodeCell | ProseCell, root: HTMLElement): DefineState[] => {
    if (cell.kind === "ts") return [place(root, definitionOf(cell), codeObserver)];
    if (cell.html !== undefined) root.innerHTML = cell.html;
    return [...root.querySelectorAll<HTMLElement>("[data-value]")].map((target) => {
      const { body, inputs } = cell.values[Number(target.dataset.value)]!;
      return place(target, { id: cell.id, body: body as never, inputs: [...inputs], autodisplay: true }, proseObserver);
    });
  };
  const remove = (id: number): void => {
    for (const { variables } of placed.get(id)?.states ?? []) for (const variable of variables) variable.delete();
    placed.delete(id);
  };
  return {
    show(cells) {
      const ids = new Set(cells.map(({ id }) => id));
      const changed = cells.filter(({ id, key }) => placed.get(id)?.key !== key);
      // First all that goes, then all that comes: a name may have moved from one cell to another.
      for (const id of [...placed.keys()].filter((each) => !ids.has(each))) {
        remove(id);
        document.getElementById(`cell-${id}`)?.replaceChildren();
      }
      for (const { id } of changed) remove(id);
      for (const cell of changed) {
        const root = document.getElementById(`cell-${cell.id}`);
        const code = document.querySelector(`[data-code="${cell.id}"]`);
        if (code && cell.text !== undefined) code.textContent = cell.text;
        if (root) placed.set(cell.id, { key: cell.key, states: defineCell(cell, root) });
      }
    },
  };
}

import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { JSDOM } from "jsdom";
import type { Problem } from "../../../packages/notebooks/src/kept/problem.ts";
import type { PageState } from "../../../packages/notebooks/src/kept/state.ts";
import { type KeepingOptions, type KeptLine, keepLine } from "../../../packages/notebooks/src/line/keeping.ts";
import { type WorkBar, workBar } from "../../../packages/notebooks/src/line/work-bar/index.ts";

export type Window = JSDOM["window"] & typeof globalThis;

const shipped = (name: string): PageState => ({ line: { kind: "shipped", name }, changes: [], view: {} });

/** The page's line in the tests that care for no other. */
export const FALLBACK: PageState = { ...shipped("04-foldback"), view: { zoom: "all" } };

export interface DeskOptions {
  readonly hash?: string;
  readonly factory?: IDBFactory | undefined;
  readonly url?: string;
}

/** A window with what browsers have and jsdom has not: dialogs, a database, addresses for files. */
export function windowOf({
  hash = "",
  factory = new IDBFactory(),
  url = "https://hut.example/page.html",
}: DeskOptions = {}) {
  const { window } = new JSDOM("<!doctype html><html lang='en'><title>t</title><body><main></main></body></html>", {
    url: `${url}${hash}`,
    pretendToBeVisual: true,
  });
  const saved: { readonly name: string; readonly blob: Blob }[] = [];
  const blobs = new Map<string, Blob>();
  const { HTMLDialogElement: Dialog, HTMLAnchorElement: Anchor } = window;
  Dialog.prototype.showModal = function showModal(this: HTMLDialogElement) {
    this.open = true;
    this.querySelector<HTMLElement>("button, input")?.focus();
  };
  Dialog.prototype.close = function close(this: HTMLDialogElement) {
    if (!this.open) return;
    this.open = false;
    this.dispatchEvent(new window.Event("close"));
  };
  // What measures type by drawing it has to do without.
  window.HTMLCanvasElement.prototype.getContext = () => null;
  Object.assign(window.URL, {
    createObjectURL: (blob: Blob) => {
      const address = `blob:${blobs.size}`;
      blobs.set(address, blob);
      return address;
    },
    revokeObjectURL: () => {},
  });
  Anchor.prototype.click = function click(this: HTMLAnchorElement) {
    const blob = blobs.get(this.href);
    if (blob !== undefined) saved.push({ name: this.download, blob });
  };
  Object.defineProperty(window, "indexedDB", { value: factory, configurable: true });
  return { window: window as unknown as Window, saved, factory };
}

export interface Desk {
  readonly window: Window;
  readonly document: Document;
  readonly kept: KeptLine;
  readonly bar: WorkBar;
  readonly said: string[];
  readonly saved: { readonly name: string; readonly blob: Blob }[];
  readonly problems: (readonly Problem[])[];
  readonly factory: IDBFactory | undefined;
}

/** A page with a work bar, as a person finds it. */
export async function desk(options: DeskOptions = {}, bar: { readonly anyText?: boolean } = {}): Promise<Desk> {
  const { window, saved, factory } = windowOf(options);
  const said: string[] = [];
  const problems: (readonly Problem[])[] = [];
  const held: { bar: WorkBar | null } = { bar: null };
  const kept = await keepLine({
    window,
    page: "desk",
    fallback: FALLBACK,
    onProblems: (found) => {
      problems.push(found);
      held.bar?.problems(found);
    },
  } satisfies KeepingOptions);
  const { document } = window;
  held.bar = workBar(document, { line: kept.line, kept, say: (message) => said.push(message), ...bar });
  held.bar.problems(problems.at(-1) ?? []);
  document.querySelector("main")?.append(held.bar.element);
  await kept.store;
  await settled();
  return { window, document, kept, bar: held.bar, said, saved, problems, factory };
}

/** Lets storage and promises come to rest. */
export async function settled(): Promise<void> {
  for (let turn = 0; turn < 12; turn += 1) await new Promise((resolve) => setTimeout(resolve, 1));
}

/** The button of this accessible name, whole or its beginning. */
export function buttonOf(root: ParentNode, name: string | RegExp): HTMLButtonElement {
  const all = [...root.querySelectorAll<HTMLButtonElement>("button, summary")];
  const called = (each: HTMLElement) => each.getAttribute("aria-label") ?? each.textContent ?? "";
  const found = all.find((each) => (typeof name === "string" ? called(each) === name : name.test(called(each))));
  if (found === undefined) throw new Error(`no button ${name}: ${all.map(called).join(" | ")}`);
  return found;
}

/** The topmost dialog. */
export function dialogOf(document: Document): HTMLDialogElement {
  const found = [...document.querySelectorAll<HTMLDialogElement>("dialog[open]")].at(-1);
  if (found === undefined) throw new Error("no dialog is open");
  return found;
}

/** Presses a button and waits for what comes of it. */
export async function press(root: ParentNode, name: string | RegExp): Promise<void> {
  const button = buttonOf(root, name);
  button.focus();
  button.click();
  await settled();
}

/** Types a name into the open dialog and sends it. */
export async function answer(document: Document, name: string): Promise<void> {
  const dialog = dialogOf(document);
  const input = dialog.querySelector("input") as HTMLInputElement;
  input.value = name;
  input.dispatchEvent(new (document.defaultView as Window).Event("input", { bubbles: true }));
  dialog.querySelector("form")?.requestSubmit();
  await settled();
}

export { IDBFactory };

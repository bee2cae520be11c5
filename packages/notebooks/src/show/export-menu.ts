import { choice, el } from "../controls/index.ts";
import { copyPicture, copyText } from "./clipboard.ts";
import { fileName, pngOf, saveFile, svgFile } from "./export.ts";
import { closesLikeMenu } from "./menu.ts";
import type { Drawing } from "./picture.ts";
import { schemeOf } from "./scheme.ts";

export interface Exportable {
  /** Draws the picture at a named size; null while there is nothing to draw. */
  picture(options: Pick<Drawing, "scheme" | "size">): SVGSVGElement | null;
  /** Becomes the file's name. */
  title(): string;
  /** The data as CSV, in pieces; null where there are none. */
  csv(): Iterable<string> | null;
}

interface Item {
  readonly label: string;
  readonly note: string;
  readonly data?: boolean;
  readonly done: string;
  run(): Promise<void> | void;
}

/**
 * “Save picture”: SVG, PNG, slides, data, clipboard. What was done or went wrong is said in the menu.
 *
 * @example figure.append(exportMenu(document, { picture, title, csv }))
 */
export function exportMenu(document: Document, what: Exportable): HTMLElement {
  const said = el(document, "p", { class: "menu-said", role: "status" });
  const scheme = choice(document, {
    label: "Ground",
    value: "light",
    options: [
      { value: "light", label: "light, for paper" },
      { value: "page", label: "as on this page" },
    ],
  });
  const drawn = (size: "page" | "slide"): SVGSVGElement => {
    const picture = what.picture({ size, scheme: scheme.value === "light" ? "light" : schemeOf(document) });
    if (picture === null) throw new Error("There is no picture yet.");
    return picture;
  };
  const save = (blob: Blob, ending: string, tail = ""): void =>
    saveFile(document, { name: fileName(`${what.title()}${tail}`, ending), blob });
  const svg = (size: "page" | "slide"): Blob => new Blob([svgFile(drawn(size))], { type: "image/svg+xml" });
  const csv = (): string[] => {
    const pieces = what.csv();
    if (pieces === null) throw new Error("There are no data yet.");
    return [...pieces];
  };
  const items: readonly Item[] = [
    { label: "SVG", note: "sharp at any size", done: "Saved.", run: () => save(svg("page"), "svg") },
    {
      label: "PNG",
      note: "960 px wide",
      done: "Saved.",
      run: async () => save(await pngOf(document, drawn("page"), 1), "png"),
    },
    {
      label: "PNG, twice as fine",
      note: "1920 px wide",
      done: "Saved.",
      run: async () => save(await pngOf(document, drawn("page"), 2), "png", " 2x"),
    },
    {
      label: "Slide, PNG",
      note: "1920 × 1080",
      done: "Saved.",
      run: async () => save(await pngOf(document, drawn("slide"), 1), "png", " slide"),
    },
    { label: "Slide, SVG", note: "1920 × 1080", done: "Saved.", run: () => save(svg("slide"), "svg", " slide") },
    {
      label: "Copy picture",
      note: "clipboard",
      done: "Copied.",
      run: () => copyPicture(document, pngOf(document, drawn("page"), 2)),
    },
    {
      label: "Data as CSV",
      note: "with units",
      data: true,
      done: "Saved.",
      run: () => save(new Blob(csv(), { type: "text/csv" }), "csv"),
    },
    {
      label: "Copy data",
      note: "clipboard",
      data: true,
      done: "Copied.",
      run: () => copyText(document, csv().join("")),
    },
  ];
  const buttons = items.map((item) => {
    const button = el(
      document,
      "button",
      { type: "button" },
      item.label,
      el(document, "span", { class: "note" }, item.note),
    );
    button.addEventListener("click", async () => {
      said.textContent = "Working …";
      try {
        await item.run();
        said.textContent = item.done;
      } catch (error) {
        said.textContent = error instanceof Error ? error.message : String(error);
      }
    });
    return { item, button };
  });
  const list = el(document, "div", { class: "menu-list" }, scheme, ...buttons.map(({ button }) => button), said);
  const summary = el(document, "summary", { class: "button" }, "Save picture");
  const menu = el(document, "details", { class: "menu" }, summary, list);
  menu.addEventListener("toggle", () => {
    said.textContent = "";
    for (const { item, button } of buttons) button.hidden = item.data === true && what.csv() === null;
  });
  closesLikeMenu(menu);
  return menu;
}

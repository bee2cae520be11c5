import { button, el } from "../../controls/index.ts";
import { encodeAddress } from "../../kept/address.ts";
import { exportLine } from "../../kept/exchange.ts";
import type { OpenedLine } from "../../line/open.ts";
import { saveFile } from "../../show/index.ts";

/** Pages that a line is taken to. */
export const linePages = [
  ["regulator-fails.html", "The regulator fails"],
  ["hiccup.html", "Hiccup"],
  ["battery.html", "Battery on the line"],
  ["trip.html", "Where to trip"],
  ["goes-first.html", "What goes first"],
  ["compare.html", "Side by side"],
  ["how-sure.html", "How sure"],
  ["file.html", "The file"],
  ["club.html", "For the club"],
] as const;

/** A fitted line taken elsewhere: in hand here, as a file, to another page. */
export function takingView(opened: OpenedLine) {
  const element = el(document, "section", { class: "capture-taking", "aria-label": "Take it on", hidden: true });
  return {
    element,
    show(text: string | null, name: string): void {
      element.hidden = text === null;
      if (text === null) return;
      const encoded = encodeAddress({ line: { kind: "own", name, text }, changes: [], view: {} });
      const links =
        encoded.kind === "address"
          ? el(
              document,
              "ul",
              { class: "capture-pages" },
              ...linePages.map(([page, title]) =>
                el(document, "li", {}, el(document, "a", { href: `./${page}${encoded.hash}` }, title)),
              ),
            )
          : el(
              document,
              "p",
              { class: "aside" },
              "This line is too long for an address: take it in hand, save it, and choose it on the other page.",
            );
      element.replaceChildren(
        el(document, "h3", {}, "Take it on"),
        el(
          document,
          "p",
          {},
          "The line with these values, every remark kept, its intervals as tolerances. Above all stands which capture they come from.",
        ),
        el(
          document,
          "div",
          { class: "row" },
          button(document, {
            label: "Take it in hand",
            kind: "main",
            press: () => {
              opened.line.open({ kind: "own", name, text });
              opened.say(`“${name}” is the line in hand. Undo comes back.`);
            },
          }),
          button(document, {
            label: "Save the fitted line as file",
            press: () => {
              const saved = exportLine({ name, text }, (blob, file) => saveFile(document, { name: file, blob }));
              opened.say(saved.kind === "exported" ? `Saved as ${saved.fileName}.` : saved.problem.message);
            },
          }),
        ),
        el(document, "p", {}, "Open it on another page:"),
        links,
      );
    },
  };
}

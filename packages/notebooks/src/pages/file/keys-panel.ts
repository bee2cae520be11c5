import { el, setText } from "../../controls/index.ts";
import { FormatHelp, type KeyHelp } from "./keys-here.ts";
import { placeAt, type TextPlace } from "./place-at.ts";

export interface KeysPanel {
  readonly element: HTMLElement;
  /** Tells of the place of the cursor, soon after the last call. */
  readonly show: (text: string, offset: number) => void;
}

/** A cursor that runs over lines asks for nothing yet, ms. */
const RESTS_MS = 80;

/** What may be written where the cursor stands: keys with what they mean, and the words or values that they take. */
export function keysPanel(): KeysPanel {
  const format = new FormatHelp();
  const where = el(document, "p", { class: "keys-where" });
  const current = el(document, "div", { class: "keys-current" });
  const list = el(document, "dl", { class: "keys-list" });
  const scroll = el(
    document,
    "div",
    { class: "keys-scroll", tabindex: 0, role: "region", "aria-label": "Keys and what they mean" },
    current,
    list,
  );
  const element = el(
    document,
    "section",
    { class: "keys-here", "aria-label": "Keys you may use here" },
    el(document, "h2", {}, "Keys you may use here"),
    where,
    scroll,
  );
  let timer: ReturnType<typeof setTimeout> | undefined;
  let shown = "";

  const draw = ({ map, key }: TextPlace): void => {
    const now = JSON.stringify([map, key]);
    if (now === shown) return;
    shown = now;
    const found = format.keysAt(map);
    const own = found.find((each) => each.key === key);
    setText(where, whereWords(map, key, found.length));
    current.replaceChildren(...(own === undefined ? [] : [currentKey(own)]));
    list.replaceChildren(...found.filter((each) => each !== own).flatMap(rowOf));
    scroll.scrollTop = 0;
  };

  return {
    element,
    show(text, offset) {
      clearTimeout(timer);
      timer = setTimeout(() => draw(placeAt(text, offset)), RESTS_MS);
    },
  };
}

function whereWords(map: TextPlace["map"], key: string | null, count: number): string {
  const place = map.length === 0 ? "in the file itself" : `in ${map.map(stepWords).join(" › ")}`;
  const at = key === null ? "The cursor stands" : `The cursor is at “${short(key)}”`;
  return count === 0 ? `${at} ${place}: nothing that the format knows.` : `${at} ${place}.`;
}

const stepWords = (step: string | number): string => (typeof step === "number" ? `entry ${step + 1}` : short(step));

const short = (text: string): string => (text.length > 40 ? `${text.slice(0, 40)}…` : text);

function currentKey(help: KeyHelp): HTMLElement {
  const names = help.allowed.map((word) => el(document, "li", {}, el(document, "code", {}, word)));
  return el(
    document,
    "div",
    {},
    el(document, "h3", {}, el(document, "code", {}, help.key)),
    el(document, "p", {}, sentence(help.about), takes(help, 0)),
    names.length === 0 ? null : el(document, "ul", { class: "keys-words" }, ...names),
  );
}

function rowOf(help: KeyHelp): HTMLElement[] {
  const name = el(document, "dt", {}, el(document, "code", {}, help.key));
  if (help.required) name.append(el(document, "span", { class: "keys-must" }, "needed"));
  return [name, el(document, "dd", {}, sentence(help.about), takes(help, 4))];
}

/** What it takes, as a sentence; with more words than `most` only their number. */
function takes({ allowed, example, holds }: KeyHelp, most: number): string {
  const parts: string[] = [];
  if (allowed.length > 0)
    parts.push(
      allowed.length <= most ? allowed.join(" | ") : most === 0 ? "one of these words" : `${allowed.length} names`,
    );
  if (example !== null) parts.push(`a value such as ${example}`);
  if (holds === "keys") parts.push("keys of its own");
  if (holds === "list") parts.push("a list");
  return parts.length === 0 ? "" : ` Takes ${parts.join(", or ")}.`;
}

function sentence(about: string): string {
  if (about === "") return "";
  return `${about[0].toUpperCase()}${about.slice(1)}.`;
}

// What the frame of a page does: light or dark, and the code for those who ask.

import { unpacked } from "./unpacked.ts";

const schemeKey = "railfault.scheme";

/** Gives the frame's controls their work. */
export function startFrame(document: Document): void {
  const scheme = document.querySelector<HTMLSelectElement>("#scheme");
  if (scheme) chooseScheme(document, scheme);
  const showCode = document.querySelector<HTMLButtonElement>("#show-code");
  if (showCode) offerCode(document, showCode);
  openFoldsOnPaper(document);
  for (const link of document.querySelectorAll<HTMLAnchorElement>(".on-this-page a")) goWithin(document, link);
}

/** What was assumed, and why it came so, cannot be opened on paper. */
function openFoldsOnPaper(document: Document): void {
  let opened: HTMLDetailsElement[] = [];
  const window = document.defaultView;
  window?.addEventListener("beforeprint", () => {
    opened = [...document.querySelectorAll<HTMLDetailsElement>(".verdict-more > details:not([open])")];
    for (const details of opened) details.open = true;
  });
  window?.addEventListener("afterprint", () => {
    for (const details of opened) details.open = false;
    opened = [];
  });
}

/** The address holds the reader's line: a mark of a place would push it out, and a reload would lose it. */
function goWithin(document: Document, link: HTMLAnchorElement): void {
  link.addEventListener("click", (event) => {
    const part = document.getElementById(decodeURIComponent(link.hash.slice(1)));
    if (part === null || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    part.scrollIntoView();
    part.tabIndex = -1;
    part.focus({ preventScroll: true });
  });
}

function chooseScheme(document: Document, select: HTMLSelectElement): void {
  const root = document.documentElement;
  select.value = root.dataset.scheme ?? "";
  select.addEventListener("change", () => {
    if (select.value === "") delete root.dataset.scheme;
    else root.dataset.scheme = select.value;
    try {
      localStorage.setItem(schemeKey, select.value);
    } catch {
      // Storage is forbidden: the choice lasts as long as the page.
    }
  });
}

/** In the built site the cells' texts are packed until somebody asks for them. */
async function unpackCode(document: Document): Promise<void> {
  const main = document.querySelector("main");
  const packed = main?.dataset.codes;
  if (!main || packed === undefined) return;
  const texts = JSON.parse(await (await unpacked(packed)).text()) as Readonly<Record<string, string>>;
  for (const code of document.querySelectorAll<HTMLElement>("pre[data-code]"))
    code.textContent = texts[code.dataset.code ?? ""] ?? code.textContent;
  delete main.dataset.codes;
}

function offerCode(document: Document, button: HTMLButtonElement): void {
  const codes = () => [...document.querySelectorAll<HTMLElement>("pre[data-code]")];
  button.addEventListener("click", async () => {
    await unpackCode(document);
    const shown = codes().some(({ hidden }) => hidden);
    for (const code of codes()) code.hidden = !shown;
    button.textContent = shown ? "Hide the code" : "Show the code";
  });
}

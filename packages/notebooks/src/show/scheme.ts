export type Scheme = "light" | "dark";

/** What the page shows now: the person's choice (`data-scheme` on the root), else the system's. */
export function schemeOf(document: Document): Scheme {
  const chosen = document.documentElement.dataset.scheme;
  if (chosen === "light" || chosen === "dark") return chosen;
  return query(document)?.matches === true ? "dark" : "light";
}

/** Calls back on every switch; gives the way to stop it. */
export function watchScheme(document: Document, changed: (scheme: Scheme) => void): () => void {
  let last = schemeOf(document);
  const look = (): void => {
    const now = schemeOf(document);
    if (now === last) return;
    last = now;
    changed(now);
  };
  const { MutationObserver: Observer } = document.defaultView ?? globalThis;
  const observer = new Observer(look);
  observer.observe(document.documentElement, { attributes: true, attributeFilter: ["data-scheme"] });
  const system = query(document);
  system?.addEventListener("change", look);
  return () => {
    observer.disconnect();
    system?.removeEventListener("change", look);
  };
}

function query(document: Document): MediaQueryList | null {
  return document.defaultView?.matchMedia?.("(prefers-color-scheme: dark)") ?? null;
}

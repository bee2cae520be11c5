const KEY = "railfault tab";

/** A word that tells this tab from others, also after a reload; a new one each time where the browser keeps nothing. */
export function tabWord(window: Window & typeof globalThis): string {
  const fresh = window.crypto.randomUUID?.() ?? String(window.crypto.getRandomValues(new Uint32Array(2)).join("-"));
  try {
    const kept = window.sessionStorage.getItem(KEY);
    if (kept !== null) return kept;
    window.sessionStorage.setItem(KEY, fresh);
  } catch {
    // Storage is blocked: the store says so, and this tab needs no word then.
  }
  return fresh;
}

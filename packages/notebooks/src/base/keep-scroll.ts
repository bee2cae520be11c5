// While a notebook is written: after the page was loaded again it stands where it stood, also when its figures come late.
const entry = "railfault.kept-scroll";
const patience = 3000;

/** Remembers how far the page is scrolled and goes there again as soon as the page is long enough. */
export function keepScroll(storage: Storage, path: string): void {
  const key = `${entry} ${path}`;
  const wanted = Number(storage.getItem(key) ?? "0");
  addEventListener("pagehide", () => storage.setItem(key, String(scrollY)));
  if (!(wanted > 0)) return;
  const observer = new ResizeObserver(() => {
    scrollTo({ top: wanted, behavior: "instant" });
    if (Math.abs(scrollY - wanted) < 1) observer.disconnect();
  });
  observer.observe(document.body);
  const stop = () => observer.disconnect();
  setTimeout(stop, patience);
  for (const event of ["wheel", "pointerdown", "keydown"]) addEventListener(event, stop, { once: true });
}

/**
 * What steps through a talk: keys, buttons, the address' fragment. The cautions at the end stand in every talk and are counted in no list of its slides. A constant text, so that its hash is one too and a page needs nothing to
 * work it out; a test holds both together.
 */
export const TALK_SCRIPT = `(() => {
  const slides = [...document.querySelectorAll(".slide")];
  const count = document.querySelector("output");
  const [back, on] = document.querySelectorAll("nav button");
  let at = 0;
  const show = (index) => {
    at = Math.max(0, Math.min(slides.length - 1, index));
    slides.forEach((slide, i) => { slide.hidden = i !== at; });
    const cautions = at === slides.length - 1;
    count.textContent = cautions ? "Cautions" : (at + 1) + " of " + (slides.length - 1);
    back.disabled = at === 0;
    on.disabled = at === slides.length - 1;
    history.replaceState(null, "", "#" + (at + 1));
    document.title = slides[at].getAttribute("aria-label");
  };
  const keys = {
    ArrowRight: 1, ArrowDown: 1, PageDown: 1, " ": 1, Enter: 1,
    ArrowLeft: -1, ArrowUp: -1, PageUp: -1, Backspace: -1,
    Home: -Infinity, End: Infinity,
  };
  addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const onButton = event.target instanceof HTMLButtonElement && (event.key === " " || event.key === "Enter");
    if (event.key === "f" && document.fullscreenEnabled) {
      if (document.fullscreenElement) document.exitFullscreen();
      else document.documentElement.requestFullscreen();
    }
    if (onButton || !(event.key in keys)) return;
    event.preventDefault();
    show(at + keys[event.key]);
  });
  back.addEventListener("click", () => show(at - 1));
  on.addEventListener("click", () => show(at + 1));
  addEventListener("hashchange", () => show(Number(location.hash.slice(1)) - 1 || 0));
  document.documentElement.classList.add("stepping");
  show(Number(location.hash.slice(1)) - 1 || 0);
})();`;

/** SHA-256 of the script, as a policy names it. */
export const TALK_SCRIPT_HASH = "sha256-z4A5AZItl6galmiAXMR7M1hmoBN8BkNFqPZ0Ex6ayEo=";

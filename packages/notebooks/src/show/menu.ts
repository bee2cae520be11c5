/** Escape, a press elsewhere and the focus moving away close an opened list, as menus do. */
export function closesLikeMenu(menu: HTMLDetailsElement): void {
  const document = menu.ownerDocument;
  menu.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !menu.open) return;
    event.stopPropagation();
    menu.open = false;
    menu.querySelector("summary")?.focus();
  });
  menu.addEventListener("focusout", (event) => {
    if (
      event.relatedTarget instanceof (document.defaultView ?? globalThis).Node &&
      !menu.contains(event.relatedTarget)
    ) {
      menu.open = false;
    }
  });
  const outside = (event: Event): void => {
    if (!menu.contains(event.target as Node)) menu.open = false;
  };
  menu.addEventListener("toggle", () => {
    if (menu.open) document.addEventListener("pointerdown", outside);
    else document.removeEventListener("pointerdown", outside);
  });
}

import { askablePaths, describeValue } from "@railfault/sim";
import { el, textField, toggle } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";

type Offered = { readonly written: string; readonly label: string; readonly stands: string };

/** How a path of a scenario is written: `sources[0].limit.off time`. */
const written = (path: readonly (string | number)[]): string =>
  path.map((step, k) => (typeof step === "number" ? `[${step}]` : `${k === 0 ? "" : "."}${step}`)).join("");

function offeredOn({ parsed }: LineNow): readonly Offered[] {
  return askablePaths(parsed).flatMap((path) => {
    const value = describeValue(parsed, path);
    return value === null ? [] : [{ written: written(path), label: value.label, stands: value.text }];
  });
}

/** Which values may move, as the address keeps it: `crowbar.trip voltage = 14…16 V; sources[0].limit.off time`. */
export function freeValues(start: string, changed: (written: string) => void) {
  const chosen = new Map(
    start
      .split(";")
      .map((each) => each.trim())
      .filter((each) => each !== "")
      .map((each) => {
        const [path = "", bounds = ""] = each.split("=").map((part) => part.trim());
        return [path, bounds] as const;
      }),
  );
  const list = el(document, "div", { class: "capture-free", role: "group", "aria-label": "Values that may move" });
  const text = (): string[] => [...chosen].map(([path, bounds]) => (bounds === "" ? path : `${path} = ${bounds}`));
  let listed: readonly Offered[] = [];
  return {
    element: list,
    /** Those that this line has. */
    get now(): string[] {
      const there = new Set(listed.map((each) => each.written));
      return [...chosen]
        .filter(([path]) => there.has(path))
        .map(([path, bounds]) => (bounds === "" ? path : `${path} = ${bounds}`));
    },
    show(line: LineNow): void {
      const next = offeredOn(line);
      if (JSON.stringify(next) === JSON.stringify(listed)) return;
      listed = next;
      list.replaceChildren(
        ...next.map(({ written: path, label, stands }) => {
          const pick = toggle(document, { label: `${label} (${stands})`, value: chosen.has(path) });
          const bounds = textField(document, {
            label: `Bounds: ${label}`,
            value: chosen.get(path) ?? "",
            help: "from…to with the unit. Empty: from a third to three times.",
          });
          bounds.hidden = !chosen.has(path);
          pick.addEventListener("input", () => {
            bounds.hidden = !pick.value;
            if (pick.value) chosen.set(path, bounds.value);
            else chosen.delete(path);
            changed(text().join("; "));
          });
          bounds.addEventListener("input", () => {
            chosen.set(path, bounds.value);
            changed(text().join("; "));
          });
          return el(document, "div", { class: "capture-free-value" }, pick, bounds);
        }),
      );
    },
  };
}

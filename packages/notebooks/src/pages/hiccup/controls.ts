import { describeValue, findPart, partNames } from "@railfault/sim";
import { choice } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import { spans } from "./styles.ts";
import { ofSupply } from "./supply.ts";

/** A family of fuses that is on sale in steps; a fuse of another family is offered beside it where the line has one. */
export const bladeFuses: readonly string[] = partNames("fuse").filter((name) => name.startsWith("blade fuse"));

/** The class of the main fuse; null where there is none, or one without a class. */
export function fuseClass(now: LineNow): string | null {
  const name =
    describeValue(now.parsed, ["main fuse", "part"])?.value ?? describeValue(now.parsed, ["main fuse"])?.value;
  return typeof name === "string" && findPart("fuse", name) !== null ? name : null;
}

/** The controls of the page, in the order in which they are asked about. */
export function hiccupControls(opened: OpenedLine): readonly HTMLElement[] {
  const fuse = opened.choice({
    label: "Main fuse",
    as: "menu",
    options: bladeFuses.map((name) => ({ value: name, label: name, changes: [[["main fuse"], name]] as const })),
    current: fuseClass,
    otherwise: "as in the line’s file",
  });
  const limit = opened.range({
    label: "Current limit",
    help: "All styles but the last limit here.",
    path: ofSupply("limit", "current"),
    dimension: "current",
    min: 5,
    max: 100,
    step: 0.5,
  });
  const trip = opened.range({
    label: "Trip point",
    path: ["crowbar", "trip voltage"],
    dimension: "voltage",
    min: 14,
    max: 18,
    step: 0.1,
  });
  const detection = opened.range({
    label: "Detection time",
    help: "Overloaded for so long, hiccup and latch-off stop.",
    path: ofSupply("limit", "detection time"),
    dimension: "time",
    min: 1e-4,
    max: 2,
  });
  const off = opened.range({
    label: "Off time",
    help: "The hiccup’s pause before it tries again.",
    path: ofSupply("limit", "off time"),
    dimension: "time",
    min: 0.05,
    max: 5,
  });
  return [fuse, limit, trip, detection, off];
}

/** How much of the time after the fault the pictures show. */
export function spanChoice(opened: OpenedLine): HTMLElement {
  const options = [
    { value: "100 ms", label: "first 100 ms" },
    { value: "1 s", label: "first second" },
    { value: "10 s", label: "ten seconds" },
  ];
  const known = (now: LineNow): string => {
    const { span = "" } = now.state.view;
    return span in spans ? span : "1 s";
  };
  const control = choice(document, { label: "The pictures show the", options, value: known(opened.line.now) });
  control.addEventListener("input", () => opened.look({ span: control.value }));
  opened.line.follow((now) => {
    control.value = known(now);
  });
  return control;
}

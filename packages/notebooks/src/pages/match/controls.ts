import { choice } from "../../controls/index.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { Group } from "../regulator-fails/group.ts";

const LOADS = ["2 A", "5 A", "8 A", "10 A", "12 A", "15 A", "18 A", "21 A", "25 A", "29 A", "35 A"];
const DROPS = ["0.2 V", "0.3 V", "0.5 V", "0.7 V", "1 V"];

/** What the line must carry every day, and how warm it is there; the first two are looked at, they do not change the line. */
export function serviceControls(opened: OpenedLine): Group {
  const looked = (
    key: string,
    label: string,
    help: string,
    otherwise: string,
    values: readonly string[],
  ): HTMLElement => {
    const known = (text: string): string => (values.includes(text) ? text : "");
    const options = [{ value: "", label: otherwise }, ...values.map((value) => ({ value, label: value }))];
    const control = choice(document, { label, help, as: "menu", options, value: known(opened.view(key)) });
    control.addEventListener("input", () => opened.look({ [key]: control.value }));
    opened.line.follow(() => {
      control.value = known(opened.view(key));
    });
    return control;
  };
  const load = looked(
    "load",
    "Largest current in service",
    "A fuse carries three quarters of its rating for good.",
    "what the loads draw on transmit",
    LOADS,
  );
  const drop = looked(
    "drop",
    "Voltage that may be lost",
    "Between source and load, while it draws that.",
    "down to the load’s minimum",
    DROPS,
  );
  const ambient = opened.range({
    label: "Ambient temperature",
    path: ["ambient"],
    dimension: "temperature",
    min: -20,
    max: 70,
    step: 5,
  });
  return { title: "In service", controls: [load, drop, ambient] };
}

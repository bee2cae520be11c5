import {
  comparePlan,
  compareSchemes,
  comparisonCsv,
  comparisonData,
  comparisonMarkdown,
  FitMemory,
  renderComparison,
} from "@railfault/sim";
import { beforeAll, describe, expect, test } from "vitest";
import { compared, shippedText } from "./lines.ts";

let station: ReturnType<typeof compared>;
beforeAll(() => {
  station = compared(shippedText("01-shorted-pass-transistor"));
});

describe("names that are asked for", () => {
  test("unknown, twice or none: all at once, with what is known", () => {
    const plan = comparePlan(shippedText("28-schemes-side-by-side"), "28.yaml", {
      schemes: ["nothin", "relay", "relay"],
    });
    expect(plan.kind).toBe("refused");
    const errors = plan.issues.filter(({ severity }) => severity === "error");
    expect(errors.map(({ code }) => code)).toEqual(["unknown-scheme", "named-twice"]);
    expect(errors[0].hint).toBe("did you mean `nothing`?");
    expect(comparePlan(shippedText("01-shorted-pass-transistor"), "01.yaml", { schemes: [] }).kind).toBe("refused");
  });

  test("a file that cannot be read is refused with its own problems", () => {
    const found = compareSchemes("run for: 1 s\n", "hut.yaml");
    expect(found.kind).toBe("refused");
    expect(found.issues.map(({ code }) => code)).toContain("missing");
  });
});

test("a line with a failing part that a scheme cannot be built on names the reason", () => {
  const found = compared(shippedText("09-panel-and-battery"), { schemes: ["own OVP", "nothing"] });
  for (const { why } of found.leftOut) expect(why).toMatch(/\.$/);
  expect(found.rows.length + found.leftOut.length).toBe(3);
});

test("variants of a part that the line has not are left out with one sentence, and refuse nothing", () => {
  const text = shippedText("28-schemes-side-by-side")
    .replace(/^crowbar: .*$/m, "crowbar: none")
    .replace("  - nothing\n", "");
  const found = compared(text);
  const out = ["small SCR", "filtered against the transmitter", "SCR kept on"];
  expect(found.leftOut.map(({ name }) => name)).toEqual(expect.arrayContaining(out));
  for (const name of out)
    expect(found.leftOut.find((each) => each.name === name)?.why).toBe("It needs a crowbar, and the line has none.");
  expect(found.rows.map(({ name }) => name)).toEqual(expect.arrayContaining(["as it stands", "clamp", "relay"]));
});

describe("variants that make no line of their own", () => {
  const station = shippedText("01-shorted-pass-transistor");
  const planned = (variants: string, leaveOut = true) => {
    const plan = comparePlan(`${station}variants:\n${variants}`, "01.yaml", { leaveOut, memory: new FitMemory() });
    if (plan.kind === "refused") return plan.issues.map(({ message }) => message);
    return plan.leftOut.map(({ name, why }) => `${name}: ${why}`);
  };

  test("one that changes nothing, and one that comes to the same as another", () => {
    const same = planned(
      "  - {name: same, main fuse: blade fuse 20 A}\n  - nothing\n  - {name: bare, crowbar: none}\n",
    );
    expect(same).toEqual(["same: It comes to the line as it stands.", "bare: It comes to the same as `nothing`."]);
  });

  test("one that cannot be built is refused, or left out with the reason where that is asked for", () => {
    const wrong = "  - {name: wrong, crowbar: {trip voltage: 10 V}}\n  - nothing\n";
    const why = "The crowbar would fire in normal service, at the latest when little is drawn.";
    expect(planned(wrong, false)).toEqual([`In the variant \`wrong\`: ${why}`]);
    expect(planned(wrong)).toEqual([`wrong: It cannot be built on this line. ${why}`]);
  });

  test("one whose value cannot be read leaves the file unread, and says why, whatever is asked for", () => {
    const unread = "  - {name: unread, crowbar: {trip voltage: 15 ohm}}\n  - nothing\n";
    for (const leaveOut of [true, false])
      expect(planned(unread, leaveOut).join()).toContain("a voltage is wanted here");
  });
});

describe("tables", () => {
  test("the text, Markdown, CSV and JSON tell every line and no undefined", () => {
    const csv = [...comparisonCsv(station)].join("");
    const json = JSON.stringify(comparisonData(station, { file: "01.yaml", version: "0" }));
    for (const text of [renderComparison(station), comparisonMarkdown(station), csv, json]) {
      for (const { name } of station.rows) expect(text).toContain(name);
      expect(text).not.toMatch(/undefined|NaN|\[object/);
    }
    expect(csv.trim().split("\r\n")).toHaveLength(1 + station.rows.length);
    const widths = new Set(
      csv
        .trim()
        .split("\r\n")
        .map((line) => line.replace(/"[^"]*"/g, "").split(",").length),
    );
    expect(widths.size).toBe(1);
    for (const line of renderComparison(station, { width: 80 }).split("\n"))
      expect(line.length).toBeLessThanOrEqual(80);
  });
});

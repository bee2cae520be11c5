import { changeText } from "@railfault/sim";
import { describe, expect, test } from "vitest";

const FILE = `title: hut
variants:
  # What is asked.
  - nothing # bare
  # The one in the shed.
  - name: relay at 15 V
    # Measured twice.
    series switch: {off voltage: 15 V}  # cold
  - clamp
# The line's own loads.
loads: []
`;
const RELAY = "{name: relay at 15 V, series switch: {off voltage: 15 V}}";

describe("a list put in the place of itself", () => {
  test("entries that stay bring their lines and remarks along, whatever their order", () => {
    expect(changeText(FILE, ["variants"], `[clamp, ${RELAY}, nothing]`)).toBe(`title: hut
variants:
  - clamp
  # The one in the shed.
  - name: relay at 15 V
    # Measured twice.
    series switch: {off voltage: 15 V}  # cold
  # What is asked.
  - nothing # bare
# The line's own loads.
loads: []
`);
  });

  test("new entries are written, old ones that are not wanted go with their remarks", () => {
    expect(changeText(FILE, ["variants"], "[{name: mine, clamp: none}, nothing]")).toBe(`title: hut
variants:
  - {name: mine, clamp: none}
  # What is asked.
  - nothing # bare
# The line's own loads.
loads: []
`);
  });

  test("a remark above the first entry alone heads the list, and Windows line ends and a last line without one stay so", () => {
    const plain = "variants:\r\n  # all of them\r\n  - relay\r\n  - clamp # cheap";
    expect(changeText(plain, ["variants"], "[clamp, relay]")).toBe(
      "variants:\r\n  # all of them\r\n  - clamp # cheap\r\n  - relay",
    );
  });

  test("where no entry stays, or the list stands in brackets, it is written anew", () => {
    expect(changeText("variants:\n  - relay\n", ["variants"], "[clamp]")).toBe("variants: [clamp]\n");
    expect(changeText("variants: [relay, clamp]\n", ["variants"], "[clamp, relay]")).toBe("variants: [clamp, relay]\n");
  });
});

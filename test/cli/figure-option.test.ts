import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { NONE, railfault, station, unwrapped, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const protectedLine = file("protected.yaml", station());
const bare = file("bare.yaml", station({ protector: NONE }));

describe("--figure", () => {
  test.each([
    ["headroom", "Small station: headroom"],
    ["time-current", "Small station: what goes first?"],
    ["surge", "Small station: surge through the SCR"],
    ["fault", "Small station"],
  ])("%s draws that figure", (name, title) => {
    const svg = join(folder, `${name}.svg`);
    const { status, stderr } = railfault("run", protectedLine, "--figure", name, "--svg", svg);
    expect([status, stderr]).toEqual([0, `--svg: ${svg} written\n`]);
    expect(readFileSync(svg, "utf8")).toContain(`>${title}</title>`);
  });

  test("says why there is none, keeps the verdict's exit status and writes nothing", () => {
    const svg = join(folder, "none.svg");
    const { status, stderr } = railfault("run", bare, "--figure", "surge", "--svg", svg);
    expect(status).toBe(railfault("run", bare).status);
    expect(stderr).toBe("--svg: no SCR fired in this run, so there is no surge to draw\n");
    expect(existsSync(svg)).toBe(false);
  });

  test("is refused without a file to draw into, and with a word it does not know", () => {
    const alone = railfault("run", protectedLine, "--figure", "surge");
    expect([alone.status, alone.stdout]).toEqual([2, ""]);
    expect(unwrapped(alone.stderr)).toContain(
      "--figure says what --svg FILE, --png FILE or --figure-csv FILE shows; none of them was given.",
    );
    const wrong = railfault("run", protectedLine, "--figure", "headrom", "--svg", join(folder, "a.svg"));
    expect(wrong.status).toBe(2);
    expect(unwrapped(wrong.stderr)).toContain('received "headrom", did you mean headroom?');
  });
});

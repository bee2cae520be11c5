import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { palette } from "../../packages/sim/src/report/figure/palette.ts";
import { pixelsOf } from "../figures/png-pixels.ts";
import { NONE, railfault, shipped, station, unwrapped, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const protectedLine = file("protected.yaml", station());
const bare = file("bare.yaml", station({ protector: NONE }));

const radio = shipped("07-lost-feedback-unprotected.yaml");

describe("--figure", () => {
  test.each([
    ["headroom", protectedLine, "headroom", "part,quantity,found_with_unit,rating_with_unit,headroom_ratio,result"],
    ["time-current", protectedLine, "what goes first?", "what,kind,current_A,time_s,longest_time_s"],
    ["surge", protectedLine, "surge through the SCR", "what,window_s,I2t_A2s,allowed_A2s"],
    [
      "fault",
      protectedLine,
      "",
      "time_s,time_after_fault_s,relay_radio_V,protected_side_V,bench_supply_V,bench_supply_lead_A,SCR_A",
    ],
    ["currents", protectedLine, "what flowed?", "time_s,time_after_fault_s,bench_supply_lead_A,SCR_A"],
    ["states", protectedLine, "who did what?", "device,state,from_s,to_s,from_after_fault_s,to_after_fault_s"],
    ["heat", protectedLine, "how hot?", "time_s,time_after_fault_s,SCR_junction_degC,main_fuse_melt_share"],
    ["withstand", radio, "how long above which voltage?", "load,kind,above_V,longest_time_s"],
  ])("%s draws that figure, and --figure-csv writes its columns with units", async (name, input, title, header) => {
    const [svg, csv] = ["svg", "csv"].map((ending) => join(folder, `${name}.${ending}`));
    const { status, stderr } = await railfault("run", input, "--figure", name, "--svg", svg, "--figure-csv", csv);
    expect([status, stderr]).toEqual([
      input === radio ? 1 : 0,
      `--svg: ${svg} written\n--figure-csv: ${csv} written\n`,
    ]);
    const line = input === radio ? "Lost feedback without any protector" : "Small station";
    expect(readFileSync(svg, "utf8")).toContain(`>${line}${title === "" ? "" : `: ${title}`}</title>`);
    const rows = readFileSync(csv, "utf8").split("\r\n");
    expect(rows[0]).toBe(header);
    expect(rows.length).toBeGreaterThan(3);
  });

  test("says why there is none, keeps the verdict's exit status and writes nothing", async () => {
    const svg = join(folder, "none.svg");
    const { status, stderr } = await railfault("run", bare, "--figure", "surge", "--svg", svg);
    expect(status).toBe((await railfault("run", bare)).status);
    expect(stderr).toBe("--svg: no SCR fired in this run, so there is no surge to draw\n");
    expect(existsSync(svg)).toBe(false);
  });

  test("is refused without a file to draw into, and with a word it does not know", async () => {
    const alone = await railfault("run", protectedLine, "--figure", "surge");
    expect([alone.status, alone.stdout]).toEqual([2, ""]);
    expect(unwrapped(alone.stderr)).toContain(
      "--figure says what --svg FILE, --png FILE or --figure-csv FILE shows; none of them was given.",
    );
    const wrong = await railfault("run", protectedLine, "--figure", "headrom", "--svg", join(folder, "a.svg"));
    expect(wrong.status).toBe(2);
    expect(unwrapped(wrong.stderr)).toContain('received "headrom", did you mean headroom?');
  });
});

describe("--size and --scheme", () => {
  test("a slide is 1920 × 1080 with type of 24 pixels and more, in its colours", async () => {
    const [svg, png] = ["slide.svg", "slide.png"].map((name) => join(folder, name));
    const words = ["--figure", "heat", "--size", "slide", "--scheme", "dark", "--svg", svg, "--png", png];
    expect((await railfault("run", protectedLine, ...words)).status).toBe(0);
    const text = readFileSync(svg, "utf8");
    expect(text).toMatch(
      /^<svg xmlns="http:\/\/www.w3.org\/2000\/svg" width="1920" height="1080" viewBox="0 0 960 540"/,
    );
    expect(text).toContain(`color="${palette("dark").ink}"`);
    const sizes = [...text.matchAll(/font-size="([\d.]+)"/g)].map(([, size]) => 2 * Number(size));
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(24);
    const { width, height } = pixelsOf(readFileSync(png));
    expect([width, height]).toEqual([1920, 1080]);
  });

  test("are refused without a picture, and with a word they do not know", async () => {
    const { status, stderr } = await railfault("run", protectedLine, "--size", "slide", "--scheme", "dim");
    expect(status).toBe(2);
    expect(unwrapped(stderr)).toContain('--scheme is light, dark; received "dim"');
    const alone = await railfault("run", protectedLine, "--size", "slide");
    expect(unwrapped(alone.stderr)).toContain("--size says how --svg FILE or --png FILE looks; neither was given.");
  });
});

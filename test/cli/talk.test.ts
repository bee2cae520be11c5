import { readFileSync } from "node:fs";
import { join } from "node:path";
import { unzipSync } from "fflate";
import { afterAll, describe, expect, test } from "vitest";
import { railfault, shipped, unwrapped, workshop } from "./launch.ts";

const { folder, close } = workshop();
afterAll(close);
const station = shipped("01-shorted-pass-transistor.yaml");
const at = (name: string): string => join(folder, name);

describe("card", () => {
  test("prints the card, writes the page", async () => {
    const { status, stdout, stderr } = await railfault("card", station, "--html", at("card.html"));
    expect(status).toBe(0);
    expect(unwrapped(stdout)).toContain("protector 13.79 V 15.00 V (14.52 V to 15.49 V) 1.00 V");
    expect(stderr).toContain("card.html written");
    expect(readFileSync(at("card.html"), "utf8")).toContain("Bench test card");
  });

  test("gives JSON, and says why there is none", async () => {
    const { stdout } = await railfault("card", station, "--json");
    expect(JSON.parse(stdout)).toMatchObject({
      format: "railfault bench card 1",
      kind: "card",
      card: { dummy: { resistance: 47 } },
    });
    const none = await railfault("card", shipped("22-supplys-own-scr.yaml"));
    expect(none.status).toBe(2);
    expect(unwrapped(none.stderr)).toContain("There is no protector in this line that could be tried on a bench.");
  });
});

test("reset prints the sheet, writes the page, gives JSON", async () => {
  const { status, stdout } = await railfault("reset", station, "--html", at("reset.html"));
  expect(status).toBe(0);
  expect(unwrapped(stdout)).toMatch(/1\. Switch every source off, .*3\. Find the fault before replacing the fuse\./);
  expect(readFileSync(at("reset.html"), "utf8")).toContain("What was used up");
  expect(JSON.parse((await railfault("reset", station, "--json")).stdout)).toMatchObject({ kind: "sheet" });
});

test("handout writes the page, and asks where to", async () => {
  expect((await railfault("handout", station, "--html", at("handout.html"))).status).toBe(0);
  const html = readFileSync(at("handout.html"), "utf8");
  expect(html.match(/<svg/g)?.length).toBeGreaterThanOrEqual(2);
  const { status, stderr } = await railfault("handout", station);
  expect(status).toBe(2);
  expect(stderr).toContain("--html FILE says where to write it");
});

describe("talk", () => {
  test("lists the slides, writes the page and the pictures", async () => {
    const { status, stdout } = await railfault("talk", station, "--html", at("talk.html"), "--zip", at("talk.zip"));
    expect(status).toBe(0);
    expect(stdout).toMatch(/^ {2}3\. The crowbar fires, 23\.7 µs after the fault: /m);
    expect(readFileSync(at("talk.html"), "utf8")).toContain("script-src &#39;".replace("&#39;", "'"));
    const files = unzipSync(readFileSync(at("talk.zip")));
    const names = Object.keys(files);
    // Seven slides, and the cautions, which the file does not count either.
    expect(stdout.match(/^ +\d+\. /gm)).toHaveLength(7);
    expect(stdout).toMatch(/\n {5}The cautions come last, uncounted\.\n$/);
    expect(names.filter((name) => name.endsWith(".svg"))).toHaveLength(8);
    expect(names.filter((name) => name.endsWith("08-cautions.svg"))).toHaveLength(1);
    const png = files[names.find((name) => name.endsWith(".png")) ?? ""];
    // Width and height stand in the first chunk of a PNG file.
    expect([png.slice(1, 4), png.slice(16, 24)].map((bytes) => [...bytes])).toEqual([
      [0x50, 0x4e, 0x47],
      [0, 0, 0x07, 0x80, 0, 0, 0x04, 0x38],
    ]);
  }, 30_000);

  test("refuses to make nothing, to write over a scenario, and any file with errors", async () => {
    const nothing = await railfault("talk", station);
    expect([nothing.status, unwrapped(nothing.stderr)]).toEqual([2, expect.stringContaining("neither was given")]);
    expect((await railfault("talk", station, shipped("02-hiccup-supply.yaml"), "--html", station)).status).toBe(2);
    const gone = await railfault("talk", station, at("gone.yaml"), "--html", at("x.html"));
    expect(gone.status).toBe(2);
    expect(gone.stderr).toContain("gone.yaml");
  });
});

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { railfault, shipped, station, unwrapped, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const line = shipped("28-schemes-side-by-side.yaml");

test("prints the table, what each costs and what sets it apart, and writes the figure", async () => {
  const svg = join(folder, "schemes.svg");
  const { status, stdout, stderr } = await railfault("compare", line, "--svg", svg);
  expect(status).toBe(0);
  expect(stderr).toContain(`--svg: ${svg} written`);
  const text = unwrapped(stdout);
  for (const words of [
    "The load is safe in 5 of 9 schemes, 2 of them with a hazard left;",
    "The same fault, the best first",
    "repair the station supply; replace the blade fuse 20 A; comes back: after a repair",
    "In normal service",
    "later than the relay radio stands 20 V",
    "Hundreds of amperes",
  ])
    expect(text).toContain(words);
  const picture = readFileSync(svg, "utf8");
  for (const name of ["series transistor", "small SCR", "filtered against the transmitter"])
    expect(picture).toContain(name);
}, 60_000);

test("a file without variants meets the ready-made schemes that are named; other forms hold the same lines", async () => {
  const own = file("own.yaml", station());
  const json = JSON.parse((await railfault("compare", own, "--schemes", "nothing, relay", "--json")).stdout);
  expect(json.format).toBe("railfault-compare 1");
  expect(json.rows.map(({ name }: { name: string }) => name)).toEqual(["as it stands", "nothing", "relay"]);
  const csv = (await railfault("compare", own, "--schemes", "nothing, relay", "--csv")).stdout;
  expect(
    csv
      .split("\r\n")
      .slice(1, 4)
      .map((row) => row.split(",")[0]),
  ).toEqual(["as it stands", "nothing", "relay"]);
  const markdown = (await railfault("compare", own, "--schemes", "nothing", "--markdown")).stdout;
  expect(markdown).toMatch(/^# Small station: schemes side by side\n/);
  expect(markdown).toContain("| as it stands | safe |");
}, 60_000);

test("writes a line as a scenario file of its own, which the command runs", async () => {
  const relay = join(folder, "relay.yaml");
  const { status } = await railfault("compare", line, "--schemes", "relay", "--write", "relay", "--to", relay);
  expect(status).toBe(0);
  const text = readFileSync(relay, "utf8");
  expect(text).toContain("# By hand:");
  expect(text).not.toContain("variants:");
  expect((await railfault("run", relay)).status).toBe(1);
}, 60_000);

test("says all that is wrong, and runs nothing then", async () => {
  const misuse = await railfault("compare", line, "--json", "--csv", "--size", "slide", "--write", "relay");
  expect(misuse.status).toBe(2);
  for (const words of ["exclude each other", "--size says how", "--write NAME and --to FILE belong together"])
    expect(misuse.stderr).toContain(words);
  const unknown = await railfault("compare", line, "--schemes", "relais, nothing, nothing");
  expect(unknown.status).toBe(2);
  expect(unknown.stderr).toContain("did you mean `relay`?");
  expect(unknown.stderr).toContain("was named twice");
  const own = station();
  const bad = file("bad.yaml", `${own}variants:\n  - {name: a, crowbar: {trip: 3 V}}\n  - {name: a, clamp: none}\n`);
  const first = own.split("\n").length + 1;
  const refused = await railfault("compare", bad);
  expect(refused.status).toBe(2);
  expect(refused.stderr).toContain(`bad.yaml:${first}:25: error: There is no key \`trip\` here`);
  expect(refused.stderr).toContain("is already that of variants[0]");
  expect((await railfault("compare", bad, "--write", "b", "--to", join(folder, "b.yaml"))).status).toBe(2);
}, 60_000);

test("ends with 1 where no line keeps the load safe", async () => {
  const { status } = await railfault(
    "compare",
    file("lost.yaml", station({ protector: "crowbar: none" })),
    "--schemes",
    "relay",
  );
  expect(status).toBe(1);
}, 60_000);

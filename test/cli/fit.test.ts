import { readFileSync } from "node:fs";
import { join } from "node:path";
import { parseScenario } from "@railfault/sim";
import { afterAll, expect, test } from "vitest";
import { captureFolder } from "../../packages/sim/scripts/demo-captures.ts";
import { railfault, shipped, unwrapped, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const out = (name: string): string => join(folder, name);
const line = shipped("02-hiccup-supply.yaml");
const capture = join(captureFolder, "hiccup-supply-synthetic-semicolon.csv");
const FREE = "crowbar.trip voltage=14.2..16 V, sources[0].limit.off time";

test("the shipped capture: values, scenario, picture, table; the real ones lie in their intervals", async () => {
  const files = ["--out", out("fitted.yaml"), "--svg", out("fit.svg"), "--csv", out("events.csv")];
  const { status, stdout } = await railfault("fit", line, capture, "--free", FREE, ...files);
  expect(status).toBe(0);
  const said = unwrapped(stdout);
  expect(said).toContain("2 of 2 values found; what is left is noise.");
  expect(said).toContain("radio falls: the crowbar fires");
  const { spreads, issues } = parseScenario(readFileSync(out("fitted.yaml"), "utf8"), "fitted.yaml");
  expect(issues.filter(({ severity }) => severity === "error")).toEqual([]);
  // The capture was made from a trip voltage of 15 V and an off time of 300 ms.
  for (const [k, truth] of [15, 300].entries()) {
    expect(spreads[k]!.low).toBeLessThan(truth);
    expect(spreads[k]!.high).toBeGreaterThan(truth);
  }
  expect(readFileSync(out("fit.svg"), "utf8")).toContain("Captured and simulated: Hiccup supply");
  expect(readFileSync(out("events.csv"), "utf8")).toMatch(
    /^channel,event,captured_s,plus_minus_s,simulated_s,difference_s\r\n/,
  );
}, 120_000);

test("as JSON, with the whole scenario and no curves", async () => {
  const { status, stdout } = await railfault("fit", line, capture, "--free", "crowbar.trip voltage", "--json");
  const told = JSON.parse(stdout);
  expect(status).toBe(0);
  expect(told).toMatchObject({ format: "railfault-fit 1", status: "fitted", exitStatus: 0, isAnother: false });
  expect(told.scenario.text).toContain("# Fitted to the capture");
  expect(told.channels[0]).not.toHaveProperty("captured");
}, 120_000);

test("without --free: laid on the run as it stands, nothing moves", async () => {
  const { status, stdout } = await railfault("fit", line, capture, "--csv", out("laid.csv"));
  expect(status).toBe(0);
  const said = unwrapped(stdout);
  expect(said).toContain("The run as it stands and the capture differ by no more than noise.");
  expect(said).toContain("What happened when");
  expect(said).not.toContain("Values, with intervals");
  expect(readFileSync(out("laid.csv"), "utf8").split("\r\n").length).toBeGreaterThan(6);
}, 60_000);

test.each([
  [[line, capture, "--out", "fitted.yaml"], "--free VALUES says which may move"],
  [[line, capture, "--free", "crowbar.trip voltage", "--zero", "3"], "--zero takes a share from 0 to 0.2"],
  [[line, capture, "--free", "crowbar.trip voltage", "--scheme", "dark"], "--scheme says how --svg FILE"],
  [[line, capture, "--free", "crowbar.trip volt, ambient.x"], "did you mean `crowbar.trip voltage`?"],
  [[line, "none.csv", "--free", "crowbar.trip voltage"], "none.csv"],
] as const)("bad use: %j", async (words, said) => {
  const { status, stderr } = await railfault("fit", ...words);
  expect(status).toBe(2);
  expect(unwrapped(stderr)).toContain(said);
});

test("a broken scenario and a file that is no table are told together", async () => {
  const { status, stderr } = await railfault(
    "fit",
    file("a.yaml", "sources: 3\n"),
    file("b.csv", "no table\n"),
    "--free",
    "x",
  );
  expect(status).toBe(2);
  expect(stderr).toContain("a.yaml");
  expect(stderr).toContain("b.csv");
});

const STEPS = Array.from(
  { length: 40 },
  (_, k) => `${(k * 1e-3).toFixed(3)},${k % 2 === 0 ? "1.376" : "1.384"},${k % 3 === 0 ? "0.001" : "0.000"}`,
);
const scope = (): string => file("scope.csv", ["t (s),CH1 (V),CH2 (V)", ...STEPS, ""].join("\r\n"));

test("the factor of a probe and of a clamp are told as with `capture`, and count before anything is laid", async () => {
  const shows = ["--channels", "CH1 = relay_radio_V, CH2 = crowbar_A"];
  const plain = await railfault("fit", line, scope(), ...shows);
  expect(plain.status).toBe(2);
  expect(unwrapped(plain.stderr)).toContain('with a clamp of 10 mV/A: --channel "2: CH1, V; 3: CH2, V, 100 A/V"');
  const { status, stdout } = await railfault(
    "fit",
    line,
    scope(),
    ...shows,
    "--channel",
    "2: CH1, 10×; 3: CH2, 10 mV/A",
  );
  expect(status).toBe(0);
  expect(unwrapped(stdout)).toContain("The run as it stands and the capture differ by no more than noise.");
  const bad = await railfault("fit", line, scope(), "--channel", "2: CH1, shunt 0 mohm");
  expect(bad.status).toBe(2);
  expect(bad.stderr).toContain("The resistance of a shunt is more than nothing.");
}, 60_000);

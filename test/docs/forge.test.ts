import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { parse } from "yaml";
import { root } from "../ground/files.ts";

interface Workflow {
  readonly jobs: Record<string, { readonly steps: readonly { readonly run?: string; readonly with?: object }[] }>;
}

const { jobs } = parse(readFileSync(join(root, ".github/workflows/ci.yml"), "utf8")) as Workflow;
const steps = Object.values(jobs).flatMap((job) => job.steps);

test("a public forge runs what .ci/run runs", () => {
  expect(jobs.checks?.steps.map(({ run }) => run)).toContain(".ci/run");
  expect(readFileSync(join(root, ".ci/run"), "utf8")).toContain("npm test");
});

test("it names only commands and tests that exist, on the Node that the project asks for", () => {
  const { scripts, engines } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {
    scripts: Record<string, string>;
    engines: { node: string };
  };
  for (const { run = "" } of steps) {
    const script = /^npm run (\S+)/.exec(run)?.[1];
    if (script !== undefined) expect(Object.keys(scripts)).toContain(script);
    for (const [path] of run.matchAll(/\S+\/\S+/g)) expect(existsSync(join(root, path)), path).toBe(true);
  }
  const versions = steps.flatMap((step) => ("node-version" in (step.with ?? {}) ? [step.with] : []));
  expect(versions.length).toBe(Object.keys(jobs).length);
  for (const version of versions)
    expect(engines.node).toContain(String((version as { "node-version": number })["node-version"]));
});

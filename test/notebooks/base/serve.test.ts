import { spawn } from "node:child_process";
import { join } from "node:path";
import { expect, test } from "vitest";
import { root } from "../../ground/files.ts";

/** Runs `npm start` with these options, as npm does; `until` sees its output and may end it. */
function start(args: readonly string[], until: (output: string, end: () => void) => void) {
  return new Promise<{ status: number | null; output: string }>((resolve) => {
    const child = spawn(process.execPath, [join(root, ".ci/task.mjs"), "start", ...args], {
      stdio: ["ignore", "pipe", "ignore"],
    });
    let output = "";
    child.stdout.on("data", (data) => {
      output += data;
      until(output, () => child.kill("SIGINT"));
    });
    child.once("close", (status) => resolve({ status, output }));
  });
}

const reachable = (address: string) =>
  fetch(address).then(
    ({ status }) => status === 200,
    () => false,
  );

test.skipIf(process.platform === "win32")(
  "npm start prints the verdict, serves the notebooks, and Ctrl-C ends everything",
  async () => {
    const answers: Promise<boolean>[] = [];
    const { status, output } = await start(["--no-open"], (text, end) => {
      const [, address] = /^Notebooks: (http:\/\/127\.0\.0\.1:\d+\/)/m.exec(text) ?? [];
      if (address === undefined || answers.length > 0) return;
      answers.push(reachable(`${address}index.html`));
      void answers[0]?.then(end);
    });
    expect(output).toContain("The relay radio never saw more than 14.7 V");
    expect(await answers[0]).toBe(true);
    expect(status).toBe(0);
    const [, address = ""] = /^Notebooks: (\S+)/m.exec(output) ?? [];
    expect(await reachable(address)).toBe(false);
  },
  60_000,
);

test("npm start -- --once ends after the verdict", async () => {
  const { status, output } = await start(["--once"], () => {});
  expect(status).toBe(0);
  expect(output).toContain("Own line:");
  expect(output).not.toContain("Notebooks:");
}, 60_000);

test("an option that does not exist is refused before any work", async () => {
  expect(await start(["--loud"], () => {})).toEqual({ status: 2, output: "" });
});

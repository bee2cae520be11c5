import { type SpawnSyncReturns, spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { root } from "../ground/files.ts";
import { SPREADS, scattered } from "../study/spread/scattered.ts";
import { launcher, NONE, railfault, shipped, station, WEAK, workshop } from "./launch.ts";

// What only a process shows. Everything else that the command says and does is looked at in the tests' own process.

const { folder, file, close } = workshop();
afterAll(close);
const small = file("small.yaml", station());

interface Surroundings {
  /** What the process loads before the command. */
  readonly before?: string;
  readonly cwd?: string;
  readonly env?: Record<string, string>;
}

function launched(words: readonly string[], { before, cwd, env }: Surroundings = {}): SpawnSyncReturns<string> {
  const imports = before === undefined ? [] : ["--import", `data:text/javascript,${encodeURIComponent(before)}`];
  return spawnSync(process.execPath, [...imports, launcher, ...words], {
    encoding: "utf8",
    ...(cwd === undefined ? {} : { cwd }),
    env: { ...process.env, NO_COLOR: "", FORCE_COLOR: "", ...env },
  });
}

describe("exit status and streams are those that the command gives in process", () => {
  test.each<[status: number, what: string, words: string[]]>([
    [0, "a verdict", ["run", small]],
    [1, "an endangered radio", ["run", file("bare.yaml", station({ protector: NONE })), "--json"]],
    [2, "a refused file", ["run", join(root, "test/scenario/broken/01-units.yaml")]],
    [2, "wrong words", ["rum"]],
    [3, "no verdict", ["run", shipped("02-hiccup-supply.yaml"), "--tolerance", "1e-3"]],
    [4, "something else that is hurt", ["run", file("weak.yaml", station({ protector: WEAK }))]],
  ])(
    "%i: %s",
    async (status, _, words) => {
      const { status: left, stdout, stderr } = launched(words);
      expect(left).toBe(status);
      const inProcess = await railfault(...words);
      // How long it took is never the same.
      const untimed = (text: string): string => text.replace(/"(\w*[sS]econds|wallTime)": [\d.e-]+/g, '"$1": 0');
      expect({ stdout: untimed(stdout), stderr }).toEqual({
        stdout: untimed(inProcess.stdout),
        stderr: inProcess.stderr,
      });
      expect(inProcess.status).toBe(status);
    },
    60_000,
  );

  test("3: a mistake of the program is no verdict, and tells where it happened to whoever asks", () => {
    const before = `performance.now = () => { throw new Error("on purpose"); };`;
    const { status, stdout, stderr } = launched(["run", small], { before, env: { RAILFAULT_DEBUG: "1" } });
    expect([status, stdout]).toEqual([3, ""]);
    expect(stderr).toContain("this is a mistake of the program: on purpose");
    expect(stderr).toMatch(/ at .*run-and-tell\.ts:\d+/);
  });

  test("3: so is a thread that dies while it is started", () => {
    const before = `import { isMainThread } from "node:worker_threads";
      if (!isMainThread) setTimeout(() => { throw new Error("on purpose"); }, 0);`;
    const words = ["tolerances", file("scattered.yaml", scattered(SPREADS)), "--samples", "8", "--threads", "1"];
    const { status, stdout, stderr } = launched(words, { before });
    expect([status, stdout]).toEqual([3, ""]);
    expect(stderr).toContain("this is a mistake of the program: on purpose");
  });
});

test("Ctrl-C ends a study with what it has", () => {
  // A signal to itself as soon as somebody listens: no clock decides.
  const before = `const once = process.once;
    process.once = function (name, ...rest) {
      const result = once.call(this, name, ...rest);
      if (name === "SIGINT") process.kill(process.pid, name);
      return result;
    };`;
  const kept = join(folder, "kept.json");
  const words = ["match", shipped("01-shorted-pass-transistor.yaml"), "--keep", kept];
  const { status, signal, stdout } = launched(words, { before });
  expect([status, signal]).toEqual([4, null]);
  expect(stdout).toContain("Stopped early");
  expect(JSON.parse(readFileSync(kept, "utf8"))).toMatchObject({ format: "railfault match 1" });
});

test("the folder where the user stands counts for names of files, and for nothing else", () => {
  const stand = join(folder, "stand");
  mkdirSync(stand);
  file("stand/hut.yaml", station());
  file("stand/tsconfig.json", "{ this is none");
  file("stand/package.json", '{"type": "commonjs"}');
  const { status, stderr } = launched(["run", "hut.yaml", "--until", "2 ms", "--csv", "hut.csv"], { cwd: stand });
  expect([status, stderr]).toEqual([0, "--csv: hut.csv written\n"]);
  expect(existsSync(join(stand, "hut.csv"))).toBe(true);
});

test("colours stay away where the output is no terminal, whatever kind of terminal the environment tells of", () => {
  const env = { TERM: "xterm-256color", COLORTERM: "truecolor", FORCE_COLOR: "1" };
  const words = ["run", small, "--until", "2 ms"];
  expect(launched(words, { env }).stdout).not.toContain("\u001b");
  expect(launched([...words, "--colour"], { env }).stdout).toContain("\u001b[");
});

test.skipIf(process.platform === "win32")("a reader who goes away early does no harm", () => {
  const script = `("$0" "$1" parts; echo "status $?" >&2) | head -n 1`;
  const { stdout, stderr } = spawnSync("sh", ["-c", script, process.execPath, launcher], { encoding: "utf8" });
  expect(stdout).toBe("SUPPLY\n");
  expect(stderr).toBe("status 0\n");
});

test.skipIf(!existsSync("/dev/full"))("a result that nobody could read is no verdict", () => {
  const script = `"$0" "$1" run "$2" > /dev/full`;
  const { status, stderr } = spawnSync("sh", ["-c", script, process.execPath, launcher, small], { encoding: "utf8" });
  expect(stderr).toContain("the result cannot be written");
  expect(status).toBe(3);
});

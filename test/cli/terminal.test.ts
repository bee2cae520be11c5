import { EventEmitter } from "node:events";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { processTerminal } from "../../packages/sim/src/cli/terminal.ts";

/** A stream that keeps what is written. */
class Stream extends EventEmitter {
  text = "";
  isTTY = false;
  columns = 80;
  write(text: string): boolean {
    this.text += text;
    return true;
  }
}

let out: Stream;
let err: Stream;
let exitCode: typeof process.exitCode;

beforeEach(() => {
  [out, err] = [new Stream(), new Stream()];
  exitCode = process.exitCode;
  vi.spyOn(process, "stdout", "get").mockReturnValue(out as unknown as typeof process.stdout);
  vi.spyOn(process, "stderr", "get").mockReturnValue(err as unknown as typeof process.stderr);
});

afterEach(() => {
  vi.restoreAllMocks();
  vi.unstubAllEnvs();
  process.exitCode = exitCode;
});

test("results go to one stream and messages to the other, each a line, its control characters visible", () => {
  const terminal = processTerminal();
  terminal.out("result\n");
  terminal.say("no \u001b[31mred");
  terminal.sayText("as it is\n");
  expect(out.text).toBe("result\n");
  expect(err.text).not.toContain("\u001b");
  expect(err.text).toMatch(/^no .*red\nas it is\n$/);
});

describe("characters a line", () => {
  test.each([
    ["a file or a pipe", false, 200, 80],
    ["a narrow terminal", true, 40, 60],
    ["a terminal between the two", true, 97, 97],
    ["a wide terminal", true, 200, 110],
  ])("%s", (_, isTTY, columns, width) => {
    Object.assign(out, { isTTY, columns });
    expect(processTerminal().width).toBe(width);
  });
});

describe("colours", () => {
  test.each([
    ["welcome on a terminal", true, "", "xterm", true],
    ["not in a file", false, "", "xterm", false],
    ["not where the user wants none", true, "1", "xterm", false],
    ["not on a terminal that has none", true, "", "dumb", false],
  ])("%s", (_, isTTY, noColour, term, colour) => {
    vi.stubEnv("NO_COLOR", noColour);
    vi.stubEnv("TERM", term);
    out.isTTY = isTTY;
    expect(processTerminal().colour).toBe(colour);
  });

  test("welcome where nothing is said of them", () => {
    vi.stubEnv("NO_COLOR", undefined);
    vi.stubEnv("TERM", "xterm");
    out.isTTY = true;
    expect(processTerminal().colour).toBe(true);
  });
});

describe("progress", () => {
  test("is shown on a terminal and wiped by the next message, once", () => {
    err.isTTY = true;
    const terminal = processTerminal();
    terminal.progress("1 of 9");
    terminal.progress("2 of 9");
    terminal.say("done");
    terminal.say("again");
    expect(err.text).toBe("1 of 9\r\u001b[K2 of 9\r\u001b[Kdone\nagain\n");
  });

  test("is not written into a file", () => {
    processTerminal().progress("1 of 9");
    expect(err.text).toBe("");
  });
});

describe("a reader who goes away", () => {
  const failure = (code: string): Error => Object.assign(new Error(`write ${code}`), { code });
  /** What the process would end with; `process` itself goes on. */
  const ending = (): (() => void) => {
    let atExit = (): void => {};
    vi.spyOn(process, "once").mockImplementation((event, listener) => {
      if (event === "exit") atExit = listener as () => void;
      return process;
    });
    return () => atExit();
  };

  test("early ends the output, not the work, and is no failure", () => {
    const exit = ending();
    const terminal = processTerminal();
    out.emit("error", failure("EPIPE"));
    terminal.out("more\n");
    terminal.say("still here");
    exit();
    expect([out.text, err.text]).toEqual(["", "still here\n"]);
    expect(process.exitCode).toBe(exitCode);
  });

  test("results that cannot be written: said once, and the exit status is that of no verdict", () => {
    const exit = ending();
    processTerminal();
    out.emit("error", failure("ENOSPC"));
    exit();
    expect(err.text).toBe("railfault: the result cannot be written: write ENOSPC\n");
    expect(process.exitCode).toBe(3);
  });

  test("messages that cannot be written are told nowhere, and the results still come", () => {
    const exit = ending();
    const terminal = processTerminal();
    err.emit("error", failure("EIO"));
    terminal.say("lost");
    terminal.out("result\n");
    exit();
    expect([out.text, err.text]).toEqual(["result\n", ""]);
    expect(process.exitCode).toBe(3);
  });
});

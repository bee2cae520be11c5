import { visible } from "../scenario/text/characters.ts";

/** Where a command writes, and what it may know of the place. */
export interface Terminal {
  /** Results. */
  out(text: string): void;
  /** Messages: a whole line without its end; control characters are made visible. */
  say(line: string): void;
  /** Text that is clean already, for instance formatted issues. */
  sayText(text: string): void;
  /** Shows how far a long work is, on a terminal only; the next message wipes it. */
  progress(text: string): void;
  /** Characters a line. */
  readonly width: number;
  /** Whether colours are welcome where nobody asked for or against them. */
  readonly colour: boolean;
}

/** Of what a terminal stands on. */
export interface Place extends Pick<Terminal, "progress" | "width" | "colour"> {
  /** Takes results. */
  out(text: string): void;
  /** Takes messages. */
  err(text: string): void;
}

/** A terminal that says into the streams of a place what its user shall see. */
export function terminalAt({ out, err, ...known }: Place): Terminal {
  return { ...known, out, say: (line) => err(`${visible(line)}\n`), sayText: err };
}

const NARROWEST = 60;
const WIDEST = 110;

/** The terminal of this process. A reader who goes away early (`| head`) ends the output, not the work. */
export function processTerminal(): Terminal {
  const { stdout, stderr, env } = process;
  const gone = new Set<NodeJS.WriteStream>();
  let shown = false;
  for (const stream of [stdout, stderr]) {
    stream.on("error", (error: NodeJS.ErrnoException) => {
      gone.add(stream);
      if (error.code === "EPIPE") return;
      // Whatever the verdict was, nobody has it.
      process.once("exit", () => {
        process.exitCode = 3;
      });
      if (stream === stdout) write(stderr, `railfault: the result cannot be written: ${error.message}\n`);
    });
  }
  const write = (stream: NodeJS.WriteStream, text: string): void => {
    if (shown) stderr.write("\r\u001b[K");
    shown = false;
    if (!gone.has(stream)) stream.write(text);
  };
  return terminalAt({
    out: (text) => write(stdout, text),
    err: (text) => write(stderr, text),
    progress: (text) => {
      if (stderr.isTTY !== true) return;
      write(stderr, text);
      shown = true;
    },
    width: stdout.isTTY ? Math.min(WIDEST, Math.max(NARROWEST, stdout.columns)) : 80,
    colour: stdout.isTTY === true && (env.NO_COLOR ?? "") === "" && env.TERM !== "dumb",
  });
}

import { visible } from "../scenario/text/characters.ts";

/** Where a command writes, and what it may know of the place. */
export interface Terminal {
  /** Results. */
  out(text: string): void;
  /** Messages: a whole line without its end; control characters are made visible. */
  say(line: string): void;
  /** Text that is clean already, for instance formatted issues. */
  sayText(text: string): void;
  /** Characters a line. */
  readonly width: number;
  /** Whether colours are welcome where nobody asked for or against them. */
  readonly colour: boolean;
}

const NARROWEST = 60;
const WIDEST = 110;

/** The terminal of this process. A reader who goes away early (`| head`) ends the output, not the work. */
export function processTerminal(): Terminal {
  const { stdout, stderr, env } = process;
  const gone = new Set<NodeJS.WriteStream>();
  for (const stream of [stdout, stderr]) {
    stream.on("error", (error: NodeJS.ErrnoException) => {
      if (error.code !== "EPIPE") throw error;
      gone.add(stream);
    });
  }
  const write = (stream: NodeJS.WriteStream, text: string): void => {
    if (!gone.has(stream)) stream.write(text);
  };
  return {
    out: (text) => write(stdout, text),
    say: (line) => write(stderr, `${visible(line)}\n`),
    sayText: (text) => write(stderr, text),
    width: stdout.isTTY ? Math.min(WIDEST, Math.max(NARROWEST, stdout.columns)) : 80,
    colour: stdout.isTTY === true && (env.NO_COLOR ?? "") === "" && env.TERM !== "dumb",
  };
}

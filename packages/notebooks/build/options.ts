/** What `npm start` was asked for. */
export interface StartOptions {
  /** The verdict alone; nothing is served. */
  readonly once: boolean;
  /** The first port to try; where it is taken, the next free one is used, unless it was asked for. */
  readonly port: number;
  readonly strictPort: boolean;
  /** Whether a browser is opened where there is one. */
  readonly open: boolean;
}

export const startUsage = "npm start [-- [--once] [--port N] [--no-open]]";
const defaultPort = 4812;

/** Reads the options, or says what is wrong with them. */
export function readStartOptions(args: readonly string[]): StartOptions | { readonly problem: string } {
  const flags = new Set<string>();
  let port: number | null = null;
  for (let index = 0; index < args.length; index++) {
    const [, name = "", attached] = /^([^=]*)(?:=(.*))?$/s.exec(args[index]!) ?? [];
    if (name === "--port") {
      const text = attached ?? args[++index] ?? "";
      port = Number(text);
      if (!/^\d{1,5}$/.test(text) || port < 1 || port > 65535)
        return { problem: `--port takes a whole number from 1 to 65535, not "${text}"` };
    } else if (["--once", "--no-open"].includes(name) && attached === undefined) flags.add(name);
    else return { problem: `there is no option ${args[index]}` };
  }
  const once = flags.has("--once");
  if (once && (port !== null || flags.has("--no-open")))
    return { problem: "--once serves nothing: --port and --no-open have no meaning beside it" };
  return { once, port: port ?? defaultPort, strictPort: port !== null, open: !flags.has("--no-open") };
}

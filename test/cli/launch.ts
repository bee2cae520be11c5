import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { execute } from "../../packages/sim/src/cli/execute.ts";
import { terminalAt } from "../../packages/sim/src/cli/terminal.ts";
import { root } from "../ground/files.ts";

export const launcher = join(root, "packages/sim/bin/railfault.mjs");
export const shipped = (name: string): string => join(root, "packages/sim/scenarios", name);

interface Said {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** What the command says and does, in this process: loading it for each call anew would be most of the work. */
export async function railfault(...words: string[]): Promise<Said> {
  const said = { stdout: "", stderr: "" };
  const terminal = terminalAt({
    out: (text) => {
      said.stdout += text;
    },
    err: (text) => {
      said.stderr += text;
    },
    progress: () => {},
    width: 80,
    colour: false,
  });
  const status = await execute(words, terminal);
  return { status, ...said };
}

/** Printed text without its line breaks, to look for sentences in it. */
export const unwrapped = (text: string): string => text.replace(/\s+/g, " ");

/** A folder that goes away with the tests of a file, and a way to put files there. */
export function workshop(): {
  folder: string;
  file(name: string, content: string | Uint8Array): string;
  close(): void;
} {
  const folder = mkdtempSync(join(tmpdir(), "railfault-cli-"));
  return {
    folder,
    file: (name, content) => {
      const path = join(folder, name);
      writeFileSync(path, content);
      return path;
    },
    close: () => rmSync(folder, { recursive: true, force: true }),
  };
}

interface Choice {
  readonly protector?: string;
  readonly lead?: string;
  readonly runFor?: string;
}

/** A small station: a linear supply whose pass transistor shorts, a fuse, a protector, a radio. */
export function station({ protector = STRONG, lead = "1 m", runFor = "0.3 s" }: Choice = {}): string {
  return `title: Small station
ambient: 20 °C
fault at: 1 ms
run for: ${runFor}
sources:
  - name: bench supply
    part: linear supply 20 A
    fault: {kind: shorted pass transistor, pass resistance: 50 mohm}
    lead: {length: 1.5 m, area: 4 mm2, contacts: 4, fuse holders: 1}
main fuse: blade fuse 20 A
${protector}
loads:
  - name: relay radio
    part: 100 W radio
    lead: {length: ${lead}, gauge: 12 AWG, spacing: 3.5 mm}
`;
}

const STRONG = "crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast}";
/** Its surge ratings lie far below the reservoir's dump. */
export const WEAK = "crowbar: {part: SCR 8 A, trip voltage: 15.0 V, sense filter: fast}";
export const NONE = "crowbar: none";

import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { root } from "../ground/source.ts";

export const launcher = join(root, "packages/sim/bin/railfault.mjs");
export const shipped = (name: string): string => join(root, "packages/sim/scenarios", name);

/** Runs the real command in a process of its own. */
export function railfault(...words: string[]): { status: number | null; stdout: string; stderr: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [launcher, ...words], {
    encoding: "utf8",
    maxBuffer: 256 << 20,
    env: { ...process.env, NO_COLOR: "", FORCE_COLOR: "" },
  });
  return { status, stdout, stderr };
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

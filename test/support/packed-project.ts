import { execFile, execFileSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, realpathSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { promisify } from "node:util";
import { pack } from "../../packages/sim/scripts/pack.ts";
import { root } from "../ground/files.ts";

const start = promisify(execFile);
const sim = join(root, "packages/sim");

interface PackedProject {
  /** An empty project in which the package is installed. */
  readonly folder: string;
  readonly archive: string;
  /** What was packed, before it was. */
  readonly published: string;
  /** Runs Node there; gives what it wrote. */
  node(...args: readonly string[]): Promise<string>;
  /** Runs the compiler there with everything strict, libraries' own types included. */
  compile(...files: readonly string[]): Promise<string>;
}

/**
 * Packs the library and installs the archive into an empty project outside of the checkout. What the package depends on is linked from the
 * checkout, exactly what its manifest names and no more, so that no network is needed.
 */
export async function packedProject(): Promise<PackedProject> {
  const top = mkdtempSync(join(tmpdir(), "railfault-package-"));
  const { archive, folder: published } = await pack(join(top, "published"), top);
  const folder = join(top, "project");
  const installed = join(folder, "node_modules/@railfault/sim");
  mkdirSync(installed, { recursive: true });
  execFileSync("tar", ["-xzf", archive, "-C", installed, "--strip-components=1"]);
  const { dependencies } = JSON.parse(readFileSync(join(installed, "package.json"), "utf8")) as {
    dependencies: Record<string, string>;
  };
  for (const name of Object.keys(dependencies)) link(join(sim, "node_modules", name), folder, name);
  // What somebody who works with Node and TypeScript has.
  for (const name of ["@types/node", "@types/jsdom"]) link(join(sim, "node_modules", name), folder, name);
  writeFileSync(join(folder, "package.json"), '{ "name": "empty", "private": true, "type": "module" }\n');
  const scenarios = join(sim, "scenarios");
  for (const [from, to] of [
    [join(scenarios, "01-shorted-pass-transistor.yaml"), "hut.yaml"],
    [join(scenarios, "02-hiccup-supply.yaml"), "hiccup.yaml"],
    [join(scenarios, "27-scattered-parts.yaml"), "scattered.yaml"],
    [join(scenarios, "28-schemes-side-by-side.yaml"), "schemes.yaml"],
    [join(sim, "captures/hiccup-supply-synthetic-comma.csv"), "bench.csv"],
    [join(sim, "captures/shorted-pass-transistor-synthetic-comma.csv"), "line.csv"],
  ] as const)
    cpSync(from, join(folder, to));
  return {
    folder,
    archive,
    published,
    node: async (...args) => (await start(process.execPath, args, { cwd: folder, maxBuffer: 64 << 20 })).stdout,
    compile: async (...files) => {
      writeFileSync(join(folder, "tsconfig.json"), JSON.stringify({ compilerOptions, files }));
      try {
        return (await start(process.execPath, [join(root, "node_modules/typescript/lib/tsc.js")], { cwd: folder }))
          .stdout;
      } catch (error) {
        return String((error as { stdout?: string }).stdout ?? error);
      }
    },
  };
}

const compilerOptions = {
  strict: true,
  exactOptionalPropertyTypes: true,
  skipLibCheck: false,
  target: "ES2023",
  lib: ["ES2023", "DOM"],
  module: "nodenext",
  types: ["node"],
  rewriteRelativeImportExtensions: true,
  outDir: "made",
};

function link(from: string, project: string, name: string): void {
  const to = join(project, "node_modules", name);
  mkdirSync(dirname(to), { recursive: true });
  symlinkSync(realpathSync(from), to, "junction");
}

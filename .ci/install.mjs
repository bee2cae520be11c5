// Installs the workspace when it is missing or when the lockfile has changed since.
import { createHash } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { run } from "./process.mjs";

export const root = join(import.meta.dirname, "..");

export const packageManager = "pnpm@12.21.0";
const stamp = join(root, "node_modules/.installed-lockfile");
/** None of the simulator's own exit statuses (0 to 4), which would be taken for a verdict. */
const installFailed = 69;

// A hash and not a date: a checkout gives files any date.
function wanted() {
  const lockfile = readFileSync(join(root, "pnpm-lock.yaml"));
  const hash = createHash("sha256").update(lockfile).digest("hex");
  return `${hash} ${process.platform}-${process.arch}\n`;
}

/** Leaves this process with a message when the packages cannot be installed. */
export async function install() {
  const stampText = wanted();
  if (existsSync(stamp) && readFileSync(stamp, "utf8") === stampText) return;
  console.error(`Installing packages (npx ${packageManager}) …`);
  const status = await run("npx", ["--yes", packageManager, "install", "--frozen-lockfile"], {
    cwd: root,
    // Standard output belongs to the command that is about to run.
    stdio: ["ignore", 2, 2],
    // Never ask before an old node_modules is replaced.
    env: { ...process.env, CI: "true" },
    shell: process.platform === "win32",
  });
  if (status !== 0) {
    console.error(
      `Installing failed with status ${status}. A first run needs the package registry; see the lines above.`,
    );
    process.exit(installFailed);
  }
  writeFileSync(stamp, stampText);
}

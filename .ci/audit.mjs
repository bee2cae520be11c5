// Known weaknesses of what runs with ours, where a service tells them. Where none answers, a line says so and nothing fails.
import { spawnSync } from "node:child_process";
import { packageManager, root } from "./install.mjs";

const asked = spawnSync("npx", ["--yes", packageManager, "audit", "--prod", "--json"], {
  cwd: root,
  encoding: "utf8",
  shell: process.platform === "win32",
  timeout: 120_000,
});

/** What the service answered, or null. */
function answer() {
  try {
    const { advisories, metadata } = JSON.parse(asked.stdout);
    return metadata?.vulnerabilities === undefined ? null : Object.values(advisories ?? {});
  } catch {
    return null;
  }
}

const found = answer();
if (found === null) {
  const why = (asked.stderr || asked.stdout || asked.error?.message || "").trim().split("\n")[0];
  console.log(`SKIPPED: dependency audit (no audit service answers${why ? `: ${why.slice(0, 200)}` : ""}).`);
} else {
  for (const { module_name, severity, title, vulnerable_versions } of found)
    console.log(`${severity}: ${module_name} ${vulnerable_versions}: ${title}`);
  console.log(`${found.length} known weaknesses in what runs with ours.`);
  process.exitCode = found.length === 0 ? 0 : 1;
}

import { spawn } from "node:child_process";

/** The program that opens an address here, or null where nobody would see it. */
export function opener(platform: NodeJS.Platform, env: NodeJS.ProcessEnv, terminal: boolean): string[] | null {
  if (!terminal || env.CI) return null;
  if (platform === "darwin") return ["open"];
  if (platform === "win32") return ["cmd", "/c", "start", ""];
  return env.DISPLAY || env.WAYLAND_DISPLAY ? ["xdg-open"] : null;
}

/** Opens an address in the person's browser. Never fails: the address was printed anyway. */
export function openBrowser(address: string): void {
  const [program, ...args] = opener(process.platform, process.env, process.stdout.isTTY === true) ?? [];
  if (!program) return;
  // On its own: the browser belongs to the person and stays when the server ends.
  const child = spawn(program, [...args, address], { stdio: "ignore", detached: true });
  child.on("error", () => {});
  child.unref();
}

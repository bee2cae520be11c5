// Child processes that end when this one is told to end, with everything they started.
import { spawn } from "node:child_process";
import { constants } from "node:os";

const grouped = process.platform !== "win32";
const graceMilliseconds = 3000;
const running = new Set();

function signal(child, name) {
  try {
    // A negative id reaches the whole group: npm, its shell and what they started.
    if (grouped) process.kill(-child.pid, name);
    else child.kill(name);
  } catch {
    // Already gone.
  }
}

function endAll(name) {
  for (const child of running) signal(child, name);
  const deadline = Date.now() + graceMilliseconds;
  const finish = () => {
    if (running.size > 0 && Date.now() < deadline) return;
    for (const child of running) signal(child, "SIGKILL");
    process.exit(128 + constants.signals[name]);
  };
  setInterval(finish, 20);
}

let watching = false;
function watchSignals() {
  if (watching) return;
  watching = true;
  for (const name of ["SIGINT", "SIGTERM", "SIGHUP"]) process.once(name, () => endAll(name));
}

/**
 * Runs a program to its end and gives its exit status; 127 where it cannot be started.
 * `options` are those of `child_process.spawn`; streams are shared unless they say otherwise.
 */
export function run(program, args, options = {}) {
  watchSignals();
  return new Promise((resolve) => {
    const child = spawn(program, args, { stdio: "inherit", ...options, detached: grouped });
    running.add(child);
    child.on("error", (error) => {
      running.delete(child);
      console.error(`${program}: ${error.message}`);
      resolve(127);
    });
    child.on("close", (code, name) => {
      // Whatever the program left behind ends with it.
      signal(child, "SIGKILL");
      running.delete(child);
      resolve(code ?? 128 + constants.signals[name]);
    });
  });
}

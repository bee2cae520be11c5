// Child processes that end when this one is told to end, with everything they started.
import { spawn } from "node:child_process";
import { constants } from "node:os";

const grouped = process.platform !== "win32";
const graceMilliseconds = 3000;
const endingSignals = ["SIGINT", "SIGTERM", "SIGHUP"];
const running = new Set();
let ending = false;

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
  // A second Ctrl-C means now.
  const deadline = ending ? 0 : Date.now() + graceMilliseconds;
  ending = true;
  for (const child of running) signal(child, name);
  const finish = () => {
    if (running.size > 0 && Date.now() < deadline) return;
    for (const child of running) signal(child, "SIGKILL");
    process.exit(128 + constants.signals[name]);
  };
  setInterval(finish, 20);
}

// Only while a child runs: a handler left behind would make Ctrl-C wait for a computation in this very process.
function watchSignals(starting = false) {
  const watch = starting || running.size > 0 || ending;
  for (const name of endingSignals) {
    process.removeListener(name, endAll);
    if (watch) process.on(name, endAll);
  }
}

/**
 * Runs a program to its end and gives its exit status; 127 where it cannot be started.
 * `options` are those of `child_process.spawn`; streams are shared unless they say otherwise.
 */
export function run(program, args, options = {}) {
  return new Promise((resolve) => {
    // Before it starts: a signal that comes while it is being started must find the handler.
    watchSignals(true);
    const child = spawn(program, args, { stdio: "inherit", ...options, detached: grouped });
    running.add(child);
    const finish = (status) => {
      running.delete(child);
      watchSignals();
      // While everything is being ended nobody shall start the next program.
      if (!ending) resolve(status);
    };
    child.on("error", (error) => {
      console.error(`${program}: ${error.message}`);
      finish(127);
    });
    child.on("close", (code, name) => {
      // Whatever the program left behind ends with it.
      signal(child, "SIGKILL");
      finish(code ?? 128 + constants.signals[name]);
    });
  });
}

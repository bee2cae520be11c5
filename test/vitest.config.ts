import { join } from "node:path";
import { defineConfig } from "vitest/config";

/** The long checks (`npm run test:deep`) live apart so that the daily run stays short. */
const deep = process.env.RAILFAULT_DEEP === "1";

/** What is measured by the clock wants the machine for itself: it comes last, a file at a time. */
const byTheClock = ["test/browser/speed.test.ts", "test/browser/capture-speed.test.ts"];

const common = {
  root: join(import.meta.dirname, ".."),
  testTimeout: deep ? 600_000 : 30_000,
  // Modules hold no state (a test in test/ground sees to it), so the files of a process share what one of them has loaded, compiled code included.
  isolate: false,
  // A test without an assertion proves nothing.
  expect: { requireAssertions: true },
};

export default defineConfig({
  root: common.root,
  test: {
    allowOnly: false,
    // A file for each of the two processors that the checks are meant for; the runner itself does little.
    maxWorkers: 2,
    projects: deep
      ? [{ test: { ...common, name: "deep", include: ["test/deep/**/*.test.ts"] } }]
      : [
          {
            test: {
              ...common,
              name: "tests",
              include: ["test/**/*.test.ts"],
              exclude: ["test/deep/**", ...byTheClock],
            },
          },
          {
            test: {
              ...common,
              name: "by the clock",
              include: byTheClock,
              maxWorkers: 1,
              sequence: { groupOrder: 1 },
            },
          },
        ],
  },
});

import { join } from "node:path";
import { defineConfig } from "vitest/config";

/** The long checks (`npm run test:deep`) live apart so that the daily run stays short. */
const deep = process.env.RAILFAULT_DEEP === "1";

export default defineConfig({
  root: join(import.meta.dirname, ".."),
  test: {
    include: deep ? ["test/deep/**/*.test.ts"] : ["test/**/*.test.ts"],
    exclude: deep ? [] : ["test/deep/**"],
    testTimeout: deep ? 600_000 : 30_000,
    // A test without an assertion proves nothing.
    expect: { requireAssertions: true },
    allowOnly: false,
  },
});

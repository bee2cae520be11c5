import { join } from "node:path";
import { defineConfig } from "vitest/config";

/** Only the tests that a mutation run asks for, named in RAILFAULT_TESTS: each mutant is tried against them. */
export default defineConfig({
  root: join(import.meta.dirname, "../.."),
  test: {
    include: (process.env.RAILFAULT_TESTS ?? "").split(" ").filter((path) => path !== ""),
    testTimeout: 30_000,
    isolate: false,
  },
});

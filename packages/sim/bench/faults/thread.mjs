// A thread starts without what reads TypeScript in the main one.
import { fileURLToPath } from "node:url";
import { register } from "tsx/esm/api";

register({ tsconfig: fileURLToPath(new URL("../../tsconfig.run.json", import.meta.url)) });
await import("./worker.ts");

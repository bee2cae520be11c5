// A thread starts without what reads TypeScript in the main one.
import { register } from "tsx/esm/api";

register({ tsconfig: false });
await import("./worker.ts");

import type { Method } from "../model/run.ts";

/** What `--method` may be. */
export const METHODS: readonly Method[] = ["rodas5p", "rodas4", "odex"];

import type { Method } from "../model/integrator.ts";

/** What `--method` may be. */
export const METHODS: readonly Method[] = ["rodas5p", "rodas4", "odex"];

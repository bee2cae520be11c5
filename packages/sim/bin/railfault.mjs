#!/usr/bin/env node
// One process only: exit status, signals and streams are the command's own.
import { load } from "./load.mjs";

await load(new URL("../src/cli/main.ts", import.meta.url));

#!/usr/bin/env node
// The command runs unbuilt. One process only: exit status, signals and streams are the command's own.
import { register } from "tsx/esm/api";

// A tsconfig.json of the folder where the user happens to stand has no say here.
register({ tsconfig: false });
await import("../src/cli/main.ts");

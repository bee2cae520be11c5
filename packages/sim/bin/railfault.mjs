#!/usr/bin/env node
// The command runs unbuilt. One process only: exit status, signals and streams are the command's own.
import { register } from "tsx/esm/api";

register();
await import("../src/cli/main.ts");

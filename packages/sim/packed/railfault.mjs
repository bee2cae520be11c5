#!/usr/bin/env node
// The command in the built package. One process only: exit status, signals and streams are the command's own.
import "../lib/cli/main.js";

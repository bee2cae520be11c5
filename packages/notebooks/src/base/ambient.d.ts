/// <reference types="vite/client" />

// Two parts of the notebook library that its public entry does not give on their own; the build resolves these names.
declare module "observable:define" {
  import type { DefineState, Definition, NotebookRuntime, observe } from "@observablehq/notebook-kit/runtime";
  export function define(
    main: NotebookRuntime["main"],
    state: DefineState,
    definition: Definition,
    observer?: typeof observe,
  ): void;
}

declare module "observable:engine" {
  import type { NotebookRuntime } from "@observablehq/notebook-kit/runtime";
  export class Runtime {
    constructor(builtins: Readonly<Record<string, unknown>>);
    module(): NotebookRuntime["main"];
  }
}

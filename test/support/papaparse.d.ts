/**
 * What tests use of papaparse 5.7.1. The package has no declarations, and those published for it need the types of Node and of a
 * document; tsconfig.json points the name `papaparse` here instead. Types only: nothing is loaded from this file.
 */
export interface ParseOptions {
  readonly delimiter: string;
  readonly newline: "\n";
}

export interface ParseResult {
  readonly data: string[][];
  readonly errors: readonly { readonly code: string; readonly message: string; readonly row?: number }[];
}

declare const papaparse: {
  /** Rows of cells, quotes resolved. */
  parse(text: string, options: ParseOptions): ParseResult;
};
export default papaparse;

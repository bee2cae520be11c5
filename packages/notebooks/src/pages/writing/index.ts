/** What the cells of the page “How to write a notebook” import. */
export { cellSource, pageHead } from "./source.ts";

/** What the cells of the page “The file behind it” import. */
export { filePicture } from "./picture.ts";
export { textBench } from "./text-bench.ts";
export { valuesTable } from "./values-table.ts";
